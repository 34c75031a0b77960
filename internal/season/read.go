package season

import (
	"math"
	"slices"
	"strconv"

	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/pest"
	"ligule/internal/quantity"
	"ligule/internal/turf"
)

// The ways of summing degree-days that a calendar may name. A soil has no
// maximum and minimum here; sums of the soil are for the stages of weeds.
var degreeDayMethods = []string{string(pest.AverageMethod), string(pest.CappedAverageMethod),
	string(pest.ModifiedMethod), string(pest.SineMethod), string(pest.DoubleSineMethod), string(pest.DailyMeanMethod)}

// The bounds are wide: they catch a slip of the unit.
const (
	mostOffsetDays    = 200
	mostToleranceDays = 60
)

// ReadCalendar reads the calendar of a grass in a climate. All mistakes go to
// the table's list; what is returned then is not for use. That climate, grass
// and publications exist is for the caller to see, from the ids and
// [Calendar.Cites].
func ReadCalendar(climate, grass string, t *diag.Table) *Calendar {
	c := &Calendar{Climate: climate, Grass: grass}
	for _, id := range []string{climate, grass} {
		if !diag.IsID(id) {
			t.Errorf("", "name it with lower-case words joined by hyphens", "%q in the file's path is not an id", id)
		}
	}
	seen := map[string]bool{}
	tables := t.Tables("window")
	if len(tables) == 0 {
		t.Errorf("window", "add [[window]] with id, kind, title, uses, opens and closes", "the calendar has no window")
	}
	for _, sub := range tables {
		w := readWindow(sub)
		if w.ID != "" && seen[w.ID] {
			sub.Errorf("id", "give each window its own id", "the id %q is already used in this file", w.ID)
		}
		seen[w.ID] = true
		c.Windows = append(c.Windows, w)
	}
	t.Close()
	return c
}

func readWindow(t *diag.Table) Window {
	w := Window{Pos: t.Pos("")}
	w.ID = t.ID("id")
	w.Kind = WindowKind(t.One("kind", WindowKinds()...))
	w.Title = t.Text("title")
	w.Uses = readUses(t)
	w.Opens = readEdge(t, "opens")
	w.Closes = readEdge(t, "closes")
	if w.Opens != (Edge{}) && w.Opens == w.Closes {
		t.Errorf("closes", "let it close after it opens", "it closes on the day it opens")
	}
	if sub := t.Table("printed", false); sub != nil {
		w.Printed = readPrinted(w.ID, sub)
	}
	w.ToleranceDays = int(days(t, "tolerance", 0, mostToleranceDays, w.Printed != nil))
	if w.Printed == nil && t.Has("tolerance") {
		t.Errorf("tolerance", "leave it out, or add printed", "there is no printed window to compare with")
	}
	w.Cite = turf.ReadCite(w.ID, t)
	t.Close()
	return w
}

func readUses(t *diag.Table) []string {
	uses := t.Texts("uses", true)
	seen := map[string]bool{}
	for i, u := range uses {
		key := "uses[" + strconv.Itoa(i) + "]"
		switch {
		case !slices.Contains(Uses(), u):
			t.Errorf(key, diag.DidYouMean(u, Uses()), "%q is nothing that a window uses", u)
		case seen[u]:
			t.Errorf(key, "leave it out once", "%q stands there twice", u)
		}
		seen[u] = true
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
		e.Warmth.Method = pest.DegreeDayMethod(t.One("method", degreeDayMethods...))
		e.Warmth.BaseC = within(t, "base", quantity.Temperature, -10, 25)
		e.Warmth.UpperC = math.Inf(1)
		switch e.Warmth.Method {
		case pest.CappedAverageMethod, pest.ModifiedMethod:
			e.Warmth.UpperC = within(t, "upper", quantity.Temperature, 15, 50)
		case pest.SineMethod, pest.DoubleSineMethod, pest.DailyMeanMethod:
			if t.Has("upper") {
				e.Warmth.UpperC = within(t, "upper", quantity.Temperature, 15, 50)
				e.Warmth.Cutoff = pest.HorizontalCutoff
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
	if !t.Has(key) {
		return t.Quantity(key, d) // records that it is missing
	}
	x, ok := t.OptQuantity(key, d)
	if !ok {
		return 0
	}
	return ranged(t, key, x, d, least, most)
}

// plain is within for a number without a unit.
func plain(t *diag.Table, key string, least, most float64) float64 {
	if !t.Has(key) {
		return t.Number(key)
	}
	x, ok := t.OptNumber(key)
	if !ok {
		return 0
	}
	return ranged(t, key, x, quantity.Number, least, most)
}

func ranged(t *diag.Table, key string, x float64, d quantity.Dimension, least, most float64) float64 {
	if !(x >= least && x <= most) {
		t.Errorf(key, "use "+number(least)+" to "+number(most)+" "+d.Unit(), "%s is out of range", quantity.OnePrec(x, d, quantity.Metric, 2))
		return 0
	}
	return x
}
