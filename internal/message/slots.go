package message

import (
	"fmt"
	"slices"
	"strings"
)

// SlotsOf lists the {names} of a text, each once; a literal brace is doubled.
func SlotsOf(text string) ([]string, error) {
	var slots []string
	for i := 0; i < len(text); i++ {
		switch {
		case strings.HasPrefix(text[i:], "{{") || strings.HasPrefix(text[i:], "}}"):
			i++
		case text[i] == '}':
			return nil, fmt.Errorf("a } without its {")
		case text[i] == '{':
			end := strings.IndexByte(text[i:], '}')
			if end < 0 {
				return nil, fmt.Errorf("a { without its }")
			}
			name := text[i+1 : i+end]
			if name == "" || strings.ContainsAny(name, "{ ") {
				return nil, fmt.Errorf("{%s} is not the name of anything", name)
			}
			if !slices.Contains(slots, name) {
				slots = append(slots, name)
			}
			i += end
		}
	}
	return slots, nil
}

// Fill replaces each {name} by what value returns for it. The text must have
// passed [SlotsOf].
func Fill(text string, value func(name string) string) string {
	var b strings.Builder
	for i := 0; i < len(text); i++ {
		switch {
		case strings.HasPrefix(text[i:], "{{") || strings.HasPrefix(text[i:], "}}"):
			b.WriteByte(text[i])
			i++
		case text[i] == '{' && strings.IndexByte(text[i:], '}') > 0:
			end := strings.IndexByte(text[i:], '}')
			b.WriteString(value(text[i+1 : i+end]))
			i += end
		default:
			b.WriteByte(text[i])
		}
	}
	return b.String()
}
