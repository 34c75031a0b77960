package voice

import (
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
	text := ""
	if alone, ok := m.Alone(); ok {
		text = v.value(alone)
	} else {
		text = m.Text
		if m.Code != "" {
			p, ok := v.Book.phrases[m.Code]
			if !ok {
				return missing(m.Code)
			}
			text = p.text(v.Length)
		}
		text = message.Fill(text, func(name string) string {
			if x, ok := m.Slot(name); ok {
				return v.value(x)
			}
			return missing(name)
		})
	}
	if m.Raise {
		return raised(text)
	}
	return text
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
		all = v.say(message.New("list."+string(x.Join)).Name("before", all).Name("next", next))
	}
	return all
}

// based says what a value rests on, within its brackets where it has some.
func (v Voice) based(x message.Value) string {
	if len(x.Parts) != 2 {
		return missing(string(x.Kind))
	}
	text, basis := v.value(x.Parts[0]), v.value(x.Parts[1])
	if inside, ok := strings.CutSuffix(text, ")"); ok {
		return v.say(message.New("basis.inside").Name("value", inside).Name("basis", basis)) + ")"
	}
	return v.say(message.New("basis.beside").Name("value", text).Name("basis", basis))
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
func (v Voice) typeset(s string) string { return v.Book.units.Replace(s) }

// replacer finds units as files and messages write them.
func (b *Book) replacer() *strings.Replacer {
	const table = "unit."
	var symbols []string
	for id := range b.phrases {
		if symbol, ok := strings.CutPrefix(id, table); ok && b.phrases[id].text(Full) != symbol {
			symbols = append(symbols, symbol)
		}
	}
	// Of two that begin alike the longer one stands first.
	slices.SortFunc(symbols, func(x, y string) int {
		if len(x) != len(y) {
			return len(y) - len(x)
		}
		return strings.Compare(x, y)
	})
	pairs := []string{" °", "\u00a0°"}
	for _, symbol := range symbols {
		pairs = append(pairs, symbol, b.phrases[table+symbol].text(Full))
	}
	return strings.NewReplacer(pairs...)
}
