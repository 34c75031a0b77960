package voice

import (
	"cmp"
	"maps"
	"slices"
	"strings"

	"ligule/internal/diag"
	"ligule/internal/message"
)

// Book is a phrase book: every sentence and word that the program itself says
// in one language, by id, with {slots}. The wording is the author's; the program
// only names a phrase and fills its slots.
type Book struct {
	Language string // tag of BCP 47: "en-US"
	phrases  map[string]*phrase
	units    *units // how those that stand in texts are said
}

// phrase is one entry.
type phrase struct {
	text    string
	pattern message.Pattern // the text, taken apart
	slots   []string        // that it uses
	also    []string        // that it may use besides
	pos     diag.Pos
}

// ReadBook reads a phrase book: the language, and tables of texts whose ids are
// the dotted keys ("verdict.do"). A phrase is a text, or a table with a text and
// the key also: slots that its text may use but does not. That key of a table of
// phrases goes for all in it.
func ReadBook(t *diag.Table) *Book {
	b := &Book{Language: t.Text("language"), phrases: map[string]*phrase{}}
	b.read(t, "", nil)
	b.units = b.readUnits()
	return b
}

func (b *Book) read(t *diag.Table, prefix string, also []string) {
	if v, _ := t.Raw("also"); v != nil {
		if _, isList := v.([]any); isList {
			also = append(slices.Clip(also), t.Texts("also", false)...)
		}
	}
	for _, key := range t.Keys() {
		v, _ := t.Raw(key)
		if _, isList := v.([]any); isList && key == "also" || prefix == "" && key == "language" {
			continue
		}
		table, isTable := v.(map[string]any)
		switch _, isPhrase := table["text"].(string); {
		case !isTable:
			b.phrases[prefix+key] = readPhrase(t, key, t.Pos(key), also)
		case isPhrase:
			one := t.Table(key, true)
			b.phrases[prefix+key] = readPhrase(one, "text", t.Pos(key), append(slices.Clip(also), one.Texts("also", false)...))
			one.Close()
		default:
			b.read(t.Table(key, true), prefix+key+".", also)
		}
	}
}

func readPhrase(t *diag.Table, key string, pos diag.Pos, also []string) *phrase {
	p := &phrase{text: t.Text(key), also: also, pos: pos}
	var err error
	if p.slots, err = message.SlotsOf(p.text); err != nil {
		t.Errorf(key, "double a brace to print one: {{", "%v", err)
	}
	p.pattern = message.Parse(p.text)
	return p
}

// Has reports whether the book has a phrase.
func (b *Book) Has(id string) bool {
	_, ok := b.phrases[id]
	return ok
}

// IDs lists the phrases, sorted.
func (b *Book) IDs() []string {
	return slices.Sorted(maps.Keys(b.phrases))
}

// SlotsOf lists the slots that the texts of a phrase may use.
func (b *Book) SlotsOf(id string) []string {
	p, ok := b.phrases[id]
	if !ok {
		return nil
	}
	return p.known()
}

// Check holds an author's book, read from a file, to the one that the program
// was made with, which declares every phrase and its slots: it records each
// phrase that is missing, each that nothing ever prints, and each slot that
// nothing fills.
func (b *Book) Check(file string, declared *Book, list *diag.List) {
	var missing []string
	for _, id := range declared.IDs() {
		d := declared.phrases[id]
		p, ok := b.phrases[id]
		if !ok {
			missing = append(missing, id)
			list.Errorf(diag.Pos{File: file, Key: id}, "add the sentence, with the slots "+braced(d.known()), "missing")
			continue
		}
		for _, s := range p.slots {
			if !slices.Contains(d.known(), s) {
				list.Errorf(p.pos, diag.DidYouMean(s, d.known()), "there is no {%s} here", s)
			}
		}
	}
	for _, id := range b.IDs() {
		if !declared.Has(id) {
			// Most likely it is one of the missing, misspelled.
			list.Errorf(b.phrases[id].pos, cmp.Or(diag.DidYouMean(id, missing), "leave it out"), "no such phrase is ever printed")
		}
	}
}

// known are the slots that the phrase's texts may use.
func (p *phrase) known() []string { return append(slices.Clone(p.slots), p.also...) }

func braced(slots []string) string {
	if len(slots) == 0 {
		return "(none)"
	}
	return "{" + strings.Join(slots, "}, {") + "}"
}
