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

// Pattern is a text taken apart at its slots, to be filled often.
type Pattern []piece

// piece is a stretch of text, or a slot.
type piece struct{ text, slot string }

// Parse takes a text apart. The text must have passed [SlotsOf].
func Parse(text string) Pattern {
	var p Pattern
	from := 0 // where the stretch of text at hand begins
	keep := func(to int) {
		if to > from {
			p = append(p, piece{text: text[from:to]})
		}
	}
	for i := 0; i < len(text); i++ {
		switch {
		case strings.HasPrefix(text[i:], "{{") || strings.HasPrefix(text[i:], "}}"):
			keep(i + 1)
			i++
			from = i + 1
		case text[i] == '{' && strings.IndexByte(text[i:], '}') > 0:
			keep(i)
			end := i + strings.IndexByte(text[i:], '}')
			p = append(p, piece{slot: text[i+1 : end]})
			i, from = end, end+1
		}
	}
	keep(len(text))
	return p
}

// Fill replaces each slot by what value returns for it.
func (p Pattern) Fill(value func(name string) string) string {
	if len(p) == 1 && p[0].slot == "" {
		return p[0].text
	}
	buf := make([]byte, 0, 256) // most sentences are shorter
	for _, q := range p {
		if q.slot != "" {
			buf = append(buf, value(q.slot)...)
		}
		buf = append(buf, q.text...)
	}
	return string(buf)
}

// Fill replaces each {name} of a text by what value returns for it. The text must
// have passed [SlotsOf].
func Fill(text string, value func(name string) string) string { return Parse(text).Fill(value) }
