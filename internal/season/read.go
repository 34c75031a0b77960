package season

import (
	"cmp"
	"math"
	"slices"
	"strconv"

	"ligule/internal/agromet"
	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/quantity"
	"ligule/internal/turf"
)

// The ways of summing degree-days that a calendar may name. A soil has no
// maximum and minimum here; sums of the soil are for the stages of weeds.
var degreeDayMethods = []string{string(agromet.AverageMethod), string(agromet.CappedAverageMethod),
	string(agromet.ModifiedMethod), string(agromet.SineMethod), string(agromet.DoubleSineMethod), string(agromet.DailyMeanMethod)}

// The bounds are wide: they catch a slip of the unit.
const (
	mostOffsetDays    = 200
	mostToleranceDays = 60
)

// ReadCalendars reads the calendars of a grass, one for each climate that its
// file names. A window stands there once, with a block for each climate in which
// something of it differs, or is printed; it may lie over one of the defaults, a file
// that may be nil. climates are those that there are. All mistakes go to the table's list; what is returned then is not for use. That
// grass and publications exist is for the caller to see, from the id and
// [Calendar.Cites].
func ReadCalendars(grass string, climates []string, t, defaults *diag.Table) []*Calendar {
	if !diag.IsID(grass) {
		t.Errorf("", "name it with lower-case words joined by hyphens", "%q in the file's path is not an id", grass)
	}
	kept := readClimates(t, climates, "add it to data/climates.toml", "there is no climate %q")
	calendars := make([]*Calendar, len(kept))
	for i, c := range kept {
		calendars[i] = &Calendar{Climate: c, Grass: grass}
	}
	tables := t.Tables("window")
	if len(tables) == 0 {
		t.Errorf("window", "add [[window]] with id, title, uses, opens and closes", "the calendar has no window")
	}
	seen := map[string]bool{}
	for _, sub := range tables {
		if !sub.Like("window", defaults.Table("window", false)) {
			continue
		}
		id, in := readWindow(sub, kept)
		if id != "" && seen[id] {
			sub.Alone().Errorf("id", "give each window its own id", "the id %q is already used in this file", id)
		}
		seen[id] = true
		for _, c := range calendars {
			if w, ok := in[c.Climate]; ok {
				c.Windows = append(c.Windows, w)
			}
		}
	}
	for i, c := range calendars {
		if len(c.Windows) == 0 && len(tables) > 0 {
			t.Errorf(diag.Element("climates", i), "leave it out, or give it a window", "the calendar has no window in %q", c.Climate)
		}
	}
	t.Close()
	return calendars
}

// readClimates reads the climates of a file or of a window, each one of those
// known.
func readClimates(t *diag.Table, known []string, remedy, unknown string) []string {
	listed := t.Texts("climates", true)
	if len(listed) == 0 && t.Has("climates") {
		t.Errorf("climates", "name at least one", "it names no climate")
	}
	var out []string
	for i, c := range listed {
		if slices.Contains(out, c) {
			t.Errorf(diag.Element("climates", i), "leave it out once", "%q stands there twice", c)
			continue
		}
		if !slices.Contains(known, c) {
			t.Errorf(diag.Element("climates", i), cmp.Or(diag.DidYouMean(c, known), remedy), unknown, c)
		}
		out = append(out, c)
	}
	return out
}

// readWindow reads a window and returns its id, and what it is in each climate
// that has it.
func readWindow(t *diag.Table, climates []string) (id string, in map[string]Window) {
	w := Window{Pos: t.Pos(""), ID: t.ID("id")}
	w.Kind = readKind(t, w.ID)
	if _, some := t.Raw("climates"); some && len(climates) > 0 {
		all := climates
		climates = readClimates(t, all, "add it to the climates of the file", "the grass has no calendar in %q")
		if !slices.ContainsFunc(all, func(c string) bool { return !slices.Contains(climates, c) }) {
			t.Errorf("climates", "leave it out", "a window is in every climate of its file anyway")
		}
	}
	w.readTerms(t, nil)
	in = map[string]Window{}
	for _, c := range climates {
		in[c] = w
	}
	blocks := map[string]*diag.Table{}
	for _, b := range t.Tables("in") {
		own := w
		own.Pos = b.Pos("")
		c := b.ID("climate")
		own.readTerms(b, t)
		w.tellSame(&own, b, t)
		b.Close()
		switch {
		case c == "":
		case blocks[c] != nil:
			b.Errorf("climate", "put both into one block", "%q has a block already", c)
			continue
		case len(climates) > 0 && !slices.Contains(climates, c):
			b.Errorf("climate", cmp.Or(diag.DidYouMean(c, climates), "add it to climates"), "there is no such window in %q", c)
		default:
			in[c] = own
		}
		blocks[c] = b
	}
	tellUnused(t, climates, blocks)
	for c, w := range in {
		if w.Printed == nil {
			w.ToleranceDays = 0
			in[c] = w
		}
	}
	t.Close()
	return w.ID, in
}

// readKind reads the kind of a window, which goes without saying where it is the
// id.
func readKind(t *diag.Table, id string) WindowKind {
	_, stated := t.Raw("kind")
	says := slices.Contains(WindowKinds(), id)
	if says && !stated {
		return WindowKind(id)
	}
	kind := t.One("kind", WindowKinds()...)
	if says && kind != "" && kind != id {
		t.Errorf(t.Written("kind", "id"), "leave it out, or give the window another id", "the id is the name of another kind")
	}
	return WindowKind(kind)
}

// The keys of a window that a block may hold as well. A source has its standing
// with it.
var terms = [...]string{"title", "uses", "opens", "closes", "printed", "tolerance", "source", "note"}

// readTerms reads what a window says, or a block of the window. What a block leaves
// out stays as it is in the window; where it names a source, it cites anew.
func (w *Window) readTerms(t, window *diag.Table) {
	says := func(key string) bool {
		_, ok := t.Raw(key)
		return ok || window == nil
	}
	if says("title") {
		w.Title = t.Text("title")
	}
	if says("uses") {
		w.Uses = readUses(t, w.Kind)
	}
	opens, closes := says("opens"), says("closes")
	if opens {
		w.Opens = readEdge(t, "opens")
	}
	if closes {
		w.Closes = readEdge(t, "closes")
	}
	if (opens || closes) && w.Opens != (Edge{}) && w.Opens == w.Closes {
		t.Errorf(t.Written("closes", "opens"), "let it close after it opens", "it closes on the day it opens")
	}
	if sub := t.Table("printed", false); sub != nil {
		w.Printed = readPrinted(w.ID, sub)
	}
	if required := t.Has("printed") && (window == nil || !window.Has("printed") && !window.Has("tolerance")); says("tolerance") || required {
		w.ToleranceDays = int(days(t, "tolerance", 0, mostToleranceDays, required))
	}
	source, standing, note := says("source"), says("standing"), says("note")
	switch {
	case source || standing:
		w.Cite = turf.ReadCiteOver(w.ID, t, "opens", "closes")
	case note:
		w.Cite.Note = t.Text("note")
	}
}

// tellSame tells what a block says as the window itself does.
func (w *Window) tellSame(own *Window, block, window *diag.Table) {
	if !slices.ContainsFunc(block.Keys(), func(key string) bool { return key != "climate" }) {
		block.Errorf("", "leave it out", "it differs in nothing and prints nothing")
	}
	for _, key := range terms {
		if block.Has(key) && window.Has(key) && w.same(own, key, block) {
			block.Errorf(key, "leave it out", "it is the same in the window itself")
		}
	}
}

func (w *Window) same(own *Window, key string, block *diag.Table) bool {
	switch key {
	case "title":
		return w.Title == own.Title
	case "uses":
		return slices.Equal(w.Uses, own.Uses)
	case "opens":
		return w.Opens == own.Opens
	case "closes":
		return w.Closes == own.Closes
	case "printed":
		a, b := w.Printed, own.Printed
		return a != nil && b != nil && a.Window == b.Window && a.Place == b.Place && sameCite(a.Cite, b.Cite)
	case "tolerance":
		return w.ToleranceDays == own.ToleranceDays
	case "note": // which with another source is that source's
		return !block.Has("source") && w.Cite.Note == own.Cite.Note
	}
	return sameCite(w.Cite, own.Cite)
}

func sameCite(a, b turf.Cite) bool {
	a.Pos = b.Pos
	return a == b
}

// tellUnused tells what a window says for none of its climates.
func tellUnused(t *diag.Table, climates []string, blocks map[string]*diag.Table) {
	for _, key := range terms {
		here := func(c string) bool { return blocks[c] == nil || !blocks[c].Has(key) }
		if t.Writes(key) && len(climates) > 0 && !slices.ContainsFunc(climates, here) {
			t.Errorf(key, "keep here what one of them says, and leave it out of its block", "every climate says otherwise")
		}
	}
	prints := t.Has("printed")
	for _, b := range blocks {
		prints = prints || b.Has("printed")
		if b.Has("tolerance") && !b.Has("printed") && !t.Has("printed") {
			b.Errorf("tolerance", "leave it out, or add printed", "there is no printed window to compare with")
		}
	}
	if t.Writes("tolerance") && !prints {
		t.Errorf("tolerance", "leave it out, or add printed", "there is no printed window to compare with")
	}
}

func readUses(t *diag.Table, kind WindowKind) []Use {
	var uses []Use
	for i, u := range t.Texts("uses", true) {
		switch {
		case !slices.Contains(Uses(), u):
			t.Errorf(diag.Element("uses", i), diag.DidYouMean(u, Uses()), "%q is nothing that a window uses", u)
		case slices.Contains(uses, Use(u)):
			t.Errorf(diag.Element("uses", i), "leave it out once", "%q stands there twice", u)
		}
		uses = append(uses, Use(u))
	}
	if use := needs[kind]; use != "" && t.Has("uses") && !slices.Contains(uses, use) {
		t.Errorf(t.Written("uses", "kind"), "add "+strconv.Quote(string(use)), "the work of the kind %q uses %s", kind, use)
	}
	return uses
}

func readPrinted(id string, t *diag.Table) *PrintedWindow {
	p := &PrintedWindow{Window: civil.Window{From: t.MonthDay("from"), To: t.MonthDay("to")}}
	p.Place = t.Text("place")
	p.Cite = turf.ReadCite(id+".printed", t)
	t.Close()
	return p
}

// days reads a whole number of days that may be absent, 0 then, unless it is
// required.
func days(t *diag.Table, key string, least, most float64, required bool) float64 {
	if required && !t.Has(key) {
		t.Quantity(key, quantity.Time) // records that it is missing
	}
	x, ok := t.OptQuantity(key, quantity.Time)
	switch {
	case !ok:
		return 0
	case !(x >= least && x <= most):
		t.Errorf(key, "use "+number(least)+" to "+number(most)+" days", "%s days is out of range", number(x))
		return 0
	case x != math.Trunc(x):
		t.Errorf(key, "write whole days", "%s is not a whole number of days", number(x))
		return 0
	}
	return x
}

func number(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }

func readEdge(t *diag.Table, key string) Edge {
	sub := t.Table(key, true)
	if sub == nil {
		return Edge{}
	}
	e := Edge{Event: ReadEvent(sub), OffsetDays: int(days(sub, "offset", -mostOffsetDays, mostOffsetDays, false))}
	sub.Close()
	return e
}

// ReadEvent reads an event with what it needs from a table, which it leaves open:
// whose keys besides are the caller's.
func ReadEvent(t *diag.Table) Event {
	e := Event{Kind: EventKind(t.One("event", EventKinds()...))}
	switch e.Kind {
	case LastFrost, FirstFrost:
		e.LevelC = FreezeC
		if t.Has("level") {
			e.LevelC = within(t, "level", quantity.Temperature, -20, 5)
		}
	case SoilRising, SoilFalling:
		e.LevelC = within(t, "level", quantity.Temperature, 0, 35)
		e.At10cm = t.One("depth", "5 cm", "10 cm") == "10 cm"
		e.From = optMonthDay(t, "from")
	case GrowthRising, GrowthFalling:
		e.Level = quantity.Thousandths(plain(t, "level", 0.02, 0.98))
		e.From = optMonthDay(t, "from")
	case DegreeDays:
		e.Warmth.Method = agromet.DegreeDayMethod(t.One("method", degreeDayMethods...))
		e.Warmth.BaseC = within(t, "base", quantity.Temperature, -10, 25)
		e.Warmth.UpperC = math.Inf(1)
		switch e.Warmth.Method {
		case agromet.CappedAverageMethod, agromet.ModifiedMethod:
			e.Warmth.UpperC = within(t, "upper", quantity.Temperature, 15, 50)
		case agromet.SineMethod, agromet.DoubleSineMethod, agromet.DailyMeanMethod:
			if t.Has("upper") {
				e.Warmth.UpperC = within(t, "upper", quantity.Temperature, 15, 50)
				e.Warmth.Cutoff = agromet.HorizontalCutoff
			}
		}
		// The total stands in the unit of its differences: 150 °F days.
		e.TotalC = quantity.Thousandths(within(t, "total", quantity.TemperatureDifference, 1, 6000))
		e.From = t.MonthDay("from")
	case DayRising, DayFalling:
		e.Hours = within(t, "hours", quantity.Hours, 4, 20)
	case OnDate:
		e.On = t.MonthDay("on")
	}
	return e
}

func optMonthDay(t *diag.Table, key string) civil.MonthDay {
	if !t.Has(key) {
		return civil.MonthDay{}
	}
	return t.MonthDay(key)
}

// within reads a required quantity and holds it to a range, in d.Unit(). It is
// 0 where it cannot be read, so that one mistake is told once.
func within(t *diag.Table, key string, d quantity.Dimension, least, most float64) float64 {
	if x, ok := t.OptQuantity(key, d); ok {
		return ranged(t, key, x, d, least, most)
	}
	if !t.Has(key) {
		t.Quantity(key, d) // records that it is missing
	}
	return 0
}

// plain is within for a number without a unit.
func plain(t *diag.Table, key string, least, most float64) float64 {
	if x, ok := t.OptNumber(key); ok {
		return ranged(t, key, x, quantity.Number, least, most)
	}
	if !t.Has(key) {
		t.Number(key)
	}
	return 0
}

func ranged(t *diag.Table, key string, x float64, d quantity.Dimension, least, most float64) float64 {
	if !(x >= least && x <= most) {
		t.Errorf(key, "use "+number(least)+" to "+number(most)+" "+d.Unit(), "%s is out of range", quantity.OnePrec(x, d, quantity.Metric, 2))
		return 0
	}
	return x
}
