package voice

import (
	"cmp"
	"ligule/internal/message"
	"slices"
	"strings"

	"ligule/internal/diag"
)

// Book is a phrase book: every sentence and word that the program itself says
// in one language, by id, with {slots}. The wording is the author's; the program
// only names a phrase and fills its slots.
type Book struct {
	Language string // tag of BCP 47: "en-US"
	phrases  map[string]*phrase
	units    *units // how those that stand in texts are said
}

// phrase is one entry. Where a shorter text is wanted and there is none, the
// longer one stands.
type phrase struct {
	texts    [lengths]string          // by Length; "" where there is none of its own
	patterns [lengths]message.Pattern // the texts, taken apart
	slots    []string                 // that its texts use
	also     []string                 // that its texts may use besides
	pos      diag.Pos
}

// Length is how much room there is for a sentence.
type Length uint8

// The lengths.
const (
	Full  Length = iota // on a page
	Brief               // in a letter or a table
	Terse               // where a word has to do
	lengths
)

// lengthKeys are the keys of a phrase that has several texts.
var lengthKeys = [lengths]string{"text", "brief", "terse"}

// ReadBook reads a phrase book: the language, and tables of texts whose ids are
// the dotted keys ("verdict.do"). A phrase is a text, or a table with a text and
// what goes with it: brief and terse for less room, also for slots that its text
// may use but does not. The key also of a table of phrases goes for all in it.
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
			p := &phrase{pos: t.Pos(key), also: also}
			p.set(t, key, Full, t.Text(key))
			b.phrases[prefix+key] = p
		case isPhrase:
			b.phrases[prefix+key] = readPhrase(t.Table(key, true), t.Pos(key), also)
		default:
			b.read(t.Table(key, true), prefix+key+".", also)
		}
	}
}

func readPhrase(t *diag.Table, pos diag.Pos, also []string) *phrase {
	p := &phrase{pos: pos, also: append(slices.Clip(also), t.Texts("also", false)...)}
	for length, key := range lengthKeys {
		if t.Has(key) {
			p.set(t, key, Length(length), t.Text(key))
		}
	}
	t.Close()
	return p
}

func (p *phrase) set(t *diag.Table, key string, length Length, text string) {
	slots, err := message.SlotsOf(text)
	if err != nil {
		t.Errorf(key, "double a brace to print one: {{", "%v", err)
	}
	p.texts[length], p.patterns[length] = text, message.Parse(text)
	for _, s := range slots {
		if !slices.Contains(p.slots, s) {
			p.slots = append(p.slots, s)
		}
	}
}

// in returns the phrase in a length, or in the next longer one that it has.
func (p *phrase) in(length Length) message.Pattern {
	for length > Full && p.texts[length] == "" {
		length--
	}
	return p.patterns[length]
}

// Has reports whether the book has a phrase.
func (b *Book) Has(id string) bool {
	_, ok := b.phrases[id]
	return ok
}

// IDs lists the phrases, sorted.
func (b *Book) IDs() []string {
	ids := make([]string, 0, len(b.phrases))
	for id := range b.phrases {
		ids = append(ids, id)
	}
	slices.Sort(ids)
	return ids
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
