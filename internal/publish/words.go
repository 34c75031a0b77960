package publish

import (
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"

	"ligule/internal/advice"
	"ligule/internal/civil"
	"ligule/internal/message"
	"ligule/internal/quantity"
	"ligule/internal/voice"
)

// words prints values, dates and codes for readers.
type words struct {
	voice.Voice
}

// word returns the phrase "prefix.id". A code that the book does not list,
// such as a product class that an author put into a law, is printed as it
// stands, with spaces for underscores.
func (w words) word(prefix, id string) string {
	key := prefix + "." + strings.ReplaceAll(id, " ", "_")
	if w.Book.Has(key) {
		return w.Word(key)
	}
	return strings.ReplaceAll(id, "_", " ")
}

// must returns the phrase "prefix.id", in guillemets if the book lacks it: for
// words whose absence must not pass unseen.
func (w words) must(prefix, id string) string {
	return w.Word(prefix + "." + strings.ReplaceAll(id, " ", "_"))
}

// say fills a phrase.
func (w words) say(id string, slots ...string) string {
	m := message.New(id)
	for i := 0; i+1 < len(slots); i += 2 {
		m = m.Name(slots[i], slots[i+1])
	}
	return w.Say(m)
}

// list joins codes as words: "homeowners, golf courses".
func (w words) list(prefix string, ids []string) string {
	out := make([]string, len(ids))
	for i, id := range ids {
		out[i] = w.word(prefix, id)
	}
	return strings.Join(out, ", ")
}

// plain writes units as people say them. Files and messages keep the short
// forms that an author types.
func plain(s string) string { return unitNames.Replace(s) }

var unitNames = strings.NewReplacer(
	"lb/1000 ft2", "lb per 1,000 sq ft",
	"lb per 1000 ft2", "lb per 1,000 sq ft",
	"mol/m2/d", "mol/m² a day",
	"g/m2", "g/m²",
	"mm/d", "mm a day",
	"in/week", "in a week",
	// A number and its degrees stay on one line.
	" °", "\u00a0°",
)

// texts are the sentences of reasons.
func (w words) texts(reasons []message.Message) []string {
	var out []string
	for _, r := range reasons {
		if text := w.Say(r); text != "" {
			out = append(out, text)
		}
	}
	return out
}

// both prints a value in the reader's units with the other in brackets; ""
// if there is none.
func (w words) both(x float64, d quantity.Dimension) string {
	if math.IsNaN(x) {
		return ""
	}
	return tight(plain(quantity.Both(x, d, w.Units)))
}

// bothPrec is both with numbers of decimals.
func (w words) bothPrec(x float64, d quantity.Dimension, us, metric int) string {
	if math.IsNaN(x) {
		return ""
	}
	return tight(plain(quantity.BothPrec(x, d, w.Units, us, metric)))
}

// tight keeps each number on the line of its unit; a line may break between
// the two systems, or within a unit that is itself a phrase.
func tight(s string) string {
	if strings.Contains(s, " per ") {
		return s
	}
	return strings.ReplaceAll(strings.ReplaceAll(s, " ", "\u00a0"), "\u00a0(", " (")
}

// number prints a value in the reader's units without the unit, for columns of
// tables whose heading names it; "" if there is none.
func (w words) number(x float64, d quantity.Dimension, us, metric int) string {
	if math.IsNaN(x) {
		return ""
	}
	decimals := us
	if w.Units == quantity.Metric {
		decimals = metric
	}
	v, _ := quantity.In(x, d, w.Units)
	return quantity.Fixed(v, decimals)
}

// unit names the reader's unit of a dimension.
func (w words) unit(d quantity.Dimension) string {
	_, name := quantity.In(0, d, w.Units)
	return plain(name)
}

// value prints an indicator's value in both systems of units; known is false
// if there is none.
func (w words) value(v advice.Value) (text string, known bool) {
	return w.Value(v.Shown()), v.Known()
}

// percent prints a share of 1: "42%".
func percent(share float64) string {
	if math.IsNaN(share) {
		return ""
	}
	return quantity.Fixed(100*share, 0) + "%"
}

// trimmed prints a figure of law as the law has it, without zeros at its end.
func trimmed(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

// longDate prints "November 22, 2026".
func longDate(d civil.Date) string { return dated(d, "January 2, 2006") }

// dayDate prints "Sunday, November 22, 2026".
func dayDate(d civil.Date) string { return dated(d, "Monday, January 2, 2006") }

// shortDay prints "Sun 22".
func shortDay(d civil.Date) string { return dated(d, "Mon 2") }

// weekdayDate prints "Sunday, November 22", for days of one week.
func weekdayDate(d civil.Date) string { return dated(d, "Monday, January 2") }

// monthDay prints "November 22".
func monthDay(d civil.Date) string { return dated(d, "January 2") }

func dated(d civil.Date, layout string) string {
	if d.IsZero() {
		return ""
	}
	return d.Time().Format(layout)
}

// span prints a run of days: "November 23 to 29, 2026".
func span(first, last civil.Date) string {
	switch {
	case first.Year() != last.Year():
		return longDate(first) + " to " + longDate(last)
	case first.Month() != last.Month():
		return monthDay(first) + " to " + longDate(last)
	}
	return monthDay(first) + " to " + dated(last, "2, 2006")
}

// weekSpan prints the days of a week.
func weekSpan(w civil.Week) string { return span(w.Monday(), w.Sunday()) }

// clip shortens a text to at most n characters, at a word's end.
func clip(s string, n int) string {
	s = strings.Join(strings.Fields(s), " ")
	r := []rune(s)
	if len(r) <= n {
		return s
	}
	cut := n - 1
	for i := cut; i > n/2; i-- {
		if r[i] == ' ' {
			cut = i
			break
		}
	}
	return strings.TrimRight(string(r[:cut]), " ,;:.") + "…"
}

// leapYear is any year that has every day.
const leapYear = 2024

// grassName is the name of a grass; other words are printed as they stand.
func (v viewer) grassName(id string) string {
	for _, g := range v.ws.Grasses {
		if g.ID == id {
			return g.Name
		}
	}
	return v.word("law_grass", id)
}

func sortedKeys(m map[string]float64) []string { return slices.Sorted(maps.Keys(m)) }
