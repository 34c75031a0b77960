package advice

import (
	"fmt"
	"slices"
	"strings"

	"ligule/internal/diag"
)

// Phrases is the phrase book, data/phrases.toml: every sentence that the
// program itself says, by id, with {slots}. The wording is the author's; the
// program only names a phrase and fills its slots.
type Phrases struct {
	text map[string]phrase
}

type phrase struct {
	text  string
	slots []string
	pos   diag.Pos
}

// ReadPhrases reads the phrase book: tables of texts, whose ids are the dotted
// keys ("verdict.do").
func ReadPhrases(t *diag.Table) *Phrases {
	p := &Phrases{text: map[string]phrase{}}
	p.read(t, "")
	return p
}

func (p *Phrases) read(t *diag.Table, prefix string) {
	for _, key := range t.Keys() {
		v, _ := t.Raw(key)
		if _, ok := v.(map[string]any); ok {
			p.read(t.Table(key, true), prefix+key+".")
			continue
		}
		text := t.Text(key)
		slots, err := slotsOf(text)
		if err != nil {
			t.Errorf(key, "double a brace to print one: {{", "%v", err)
		}
		p.text[prefix+key] = phrase{text, slots, t.Pos(key)}
	}
}

// Has reports whether the book has a phrase.
func (p *Phrases) Has(id string) bool {
	_, ok := p.text[id]
	return ok
}

// Say fills in a phrase. The slots come as pairs: name, text. A phrase that the
// book lacks, and a slot that nobody filled, come out in guillemets: they are
// found by Check when the workspace is loaded, and must never be silent.
func (p *Phrases) Say(id string, slots ...string) Reason {
	ph, ok := p.text[id]
	if !ok {
		return Reason{ID: id, Text: "«" + id + "»"}
	}
	return Reason{ID: id, Text: fill(ph.text, func(name string) string {
		for i := 0; i+1 < len(slots); i += 2 {
			if slots[i] == name {
				return slots[i+1]
			}
		}
		return "«" + name + "»"
	})}
}

// Word returns a phrase without slots as plain text.
func (p *Phrases) Word(id string) string { return p.Say(id).Text }

// Need is a phrase that the program will ask for, with the slots that it fills.
type Need struct {
	ID    string
	Slots []string
}

// Check records every phrase that is needed and missing, every phrase that
// nobody needs, and every slot that nobody fills.
func (p *Phrases) Check(file string, needs []Need, list *diag.List) {
	known := map[string]bool{}
	var missing []string
	for _, n := range needs {
		known[n.ID] = true
		ph, ok := p.text[n.ID]
		if !ok {
			missing = append(missing, n.ID)
			list.Errorf(diag.Pos{File: file, Key: n.ID}, "add the sentence, with the slots "+braced(n.Slots), "missing")
			continue
		}
		for _, s := range ph.slots {
			if !slices.Contains(n.Slots, s) {
				list.Errorf(ph.pos, diag.DidYouMean(s, n.Slots), "there is no {%s} here", s)
			}
		}
	}
	for id, ph := range p.text {
		if !known[id] {
			// Most likely it is one of the missing, misspelled.
			remedy := diag.DidYouMean(id, missing)
			if remedy == "" {
				remedy = "leave it out"
			}
			list.Errorf(ph.pos, remedy, "no such phrase is ever printed")
		}
	}
}

func braced(slots []string) string {
	if len(slots) == 0 {
		return "(none)"
	}
	return "{" + strings.Join(slots, "}, {") + "}"
}

// slotsOf lists the {names} of a text; a literal brace is doubled.
func slotsOf(text string) ([]string, error) {
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
			slots = append(slots, name)
			i += end
		}
	}
	return slots, nil
}

// fill replaces each {name} by what value returns for it. The text must have
// passed slotsOf.
func fill(text string, value func(name string) string) string {
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
