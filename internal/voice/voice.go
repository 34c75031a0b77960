package voice

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"ligule/internal/message"
	"ligule/internal/quantity"
)

// Voice says messages in the words of a book, to readers who see one system of
// units first.
type Voice struct {
	Book   *Book
	Units  quantity.System
	Length Length
}

// In returns the voice for less room.
func (v Voice) In(length Length) Voice {
	v.Length = length
	return v
}

// Say finds the words of a message. A phrase that the book lacks, and a slot
// that nobody filled, come out in guillemets: they must never pass unseen.
func (v Voice) Say(m message.Message) string { return v.typeset(v.say(m)) }

// Word is a phrase without slots.
func (v Voice) Word(id string) string { return v.Say(message.New(id)) }

// Value finds the words of a single value.
func (v Voice) Value(x message.Value) string { return v.typeset(v.value(x)) }

func (v Voice) say(m message.Message) string {
	slot := func(name string) string {
		if x, ok := m.Slot(name); ok {
			return v.value(x)
		}
		return missing(name)
	}
	text := ""
	switch alone, ok := m.Alone(); {
	case ok:
		text = v.value(alone)
	case m.Code != "":
		text = v.fill(m.Code, slot)
	default:
		text = message.Fill(m.Text, slot)
	}
	if m.Raise {
		return raised(text)
	}
	return text
}

// fill fills the slots of a phrase.
func (v Voice) fill(code string, value func(slot string) string) string {
	p, ok := v.Book.phrases[code]
	if !ok {
		return missing(code)
	}
	return p.in(v.Length).Fill(value)
}

func missing(name string) string { return "«" + name + "»" }

// word is a phrase without slots, as it stands in the book.
func (v Voice) word(id string) string { return v.say(message.New(id)) }

func (v Voice) value(x message.Value) string {
	text := v.plainly(x)
	if x.Lower {
		return lowered(text)
	}
	return text
}

// plainly finds the words of a value, whatever stands around it.
func (v Voice) plainly(x message.Value) string {
	switch x.Kind {
	case message.TextKind:
		return x.Text
	case message.MessageKind:
		if x.Text != "" && !v.Book.Has(x.Message.Code) {
			return x.Text
		}
		return v.say(*x.Message)
	case message.NumberKind:
		return v.missable(x, quantity.Fixed(x.Number, x.US))
	case message.FigureKind:
		return v.missable(x, figure(x.Number))
	case message.ShareKind:
		return v.missable(x, quantity.Fixed(100*x.Number, 0)+"%")
	case message.BothKind, message.OneKind, message.ColumnKind, message.UnitKind, message.RateKind, message.DegreeDaysKind:
		return v.quantity(x)
	case message.ListKind:
		return v.list(x)
	case message.BasedKind:
		return v.based(x)
	}
	return v.time(x)
}

// missable prints nothing where a number is missing.
func (v Voice) missable(x message.Value, text string) string {
	if math.IsNaN(x.Number) {
		return ""
	}
	return text
}

func figure(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

func (v Voice) list(x message.Value) string {
	parts := make([]string, 0, len(x.Parts))
	for _, p := range x.Parts {
		if text := v.value(p); text != "" {
			parts = append(parts, text)
		}
	}
	if len(parts) < 2 || x.Join == message.Glued {
		return strings.Join(parts, "")
	}
	all := parts[0]
	for _, next := range parts[1:] {
		all = v.pair("list."+string(x.Join), "before", all, "next", next)
	}
	return all
}

// pair fills a phrase that has two slots with texts.
func (v Voice) pair(code, slot, text, other, otherText string) string {
	return v.fill(code, func(name string) string {
		switch name {
		case slot:
			return text
		case other:
			return otherText
		}
		return missing(name)
	})
}

// based says what a value rests on, within its brackets where it has some.
func (v Voice) based(x message.Value) string {
	if len(x.Parts) != 2 {
		return missing(string(x.Kind))
	}
	text, basis := v.value(x.Parts[0]), v.value(x.Parts[1])
	if inside, ok := strings.CutSuffix(text, ")"); ok {
		return v.pair("basis.inside", "value", inside, "basis", basis) + ")"
	}
	return v.pair("basis.beside", "value", text, "basis", basis)
}

// raised starts a text with a capital letter.
func raised(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(r)) + s[n:]
}

// lowered starts a text with a small letter.
func lowered(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToLower(r)) + s[n:]
}

// typeset says units that stand in a text as people say them, and keeps a number
// on the line of its degrees.
func (v Voice) typeset(s string) string { return v.Book.units.say(s) }

// units says units that stand in texts: by the first byte that each is written with, the
// longer ones first.
type units [256][]unit

// unit is a unit as files and messages write it, and as readers know it.
type unit struct{ written, said string }

// readUnits finds the units that the book says otherwise than they are written.
func (b *Book) readUnits() *units {
	all := units{' ': {{" °", "\u00a0°"}}}
	for id, p := range b.phrases {
		if symbol, ok := strings.CutPrefix(id, "unit."); ok && symbol != "" && p.texts[Full] != symbol {
			all[symbol[0]] = append(all[symbol[0]], unit{symbol, p.texts[Full]})
		}
	}
	for _, alike := range all {
		slices.SortFunc(alike, func(x, y unit) int {
			return cmp.Or(len(y.written)-len(x.written), strings.Compare(x.written, y.written))
		})
	}
	return &all
}

func (all *units) say(text string) string {
	var said []byte
	from := 0 // of what is not yet said
	for i := 0; i < len(text); i++ {
		for _, u := range all[text[i]] {
			if strings.HasPrefix(text[i:], u.written) {
				said = append(append(said, text[from:i]...), u.said...)
				from = i + len(u.written)
				i = from - 1
				break
			}
		}
	}
	if from == 0 {
		return text
	}
	return string(append(said, text[from:]...))
}
