package publish

import (
	"math"
	"strings"

	"ligule/internal/agromet"
	"ligule/internal/civil"
	"ligule/internal/disease"
	"ligule/internal/quantity"
	"ligule/internal/stage"
)

// timingView tells how a weed or an insect is timed.
type timingView struct {
	Of       string
	Compare  bool
	Method   []string
	ValidFor string
	From     fromView
	Stages   []stageView
	Shifts   []shiftView
}

type stageView struct {
	Title, Word, Says string
	Grade             string
	When              []saidView // one is enough
}

type shiftView struct{ Text, Says string }

// timing reads its cites from where the cursor stands.
func (v viewer) timing(t *stage.Timing, cites *cursor) timingView {
	section := "model"
	if t.Of != "" {
		section += " of " + t.Of
	}
	out := timingView{Of: t.Of, Compare: t.Compare, Method: v.method(t), ValidFor: plain(t.ValidFor), From: v.from(cites.next(section).of(""))}
	for _, s := range t.Stages {
		sv := stageView{Title: s.Title, Grade: s.Level, Word: v.must("pests.grade", s.Level), Says: plain(s.Says)}
		for k, c := range s.When {
			name := section + ", " + s.ID
			if k > 0 {
				name += " (" + trimmed(float64(k+1)) + ")"
			}
			sv.When = append(sv.When, saidView{v.condition(t, c), v.from(cites.next(name).of(""))})
		}
		out.Stages = append(out.Stages, sv)
	}
	for _, s := range t.Shifts {
		id := "down"
		if s.Up {
			id = "up"
		}
		titles := make([]string, len(s.Stages))
		for i, k := range s.Stages {
			titles[i] = t.Stages[k].Title
		}
		out.Shifts = append(out.Shifts, shiftView{v.say("pests.shift."+id, "stages", strings.Join(titles, ", "), "when", v.condition(t, s.When)), plain(s.Says)})
	}
	return out
}

// method tells how warmth is summed, and where that may be used.
func (v viewer) method(t *stage.Timing) []string {
	start := monthDay(t.Start.StartIn(leapYear))
	if t.Momentary {
		return append([]string{v.must("pests.method", "momentary")}, v.bounds(t.Region)...)
	}
	if t.Warmth.Method == "" {
		return append([]string{v.say("pests.method.none", "start", start)}, v.bounds(t.Region)...)
	}
	id := underscored(string(t.Warmth.Method))
	if t.Of5cm {
		id += "_soil"
	}
	out := []string{v.say("pests.method."+id, "start", start, "base", v.both(t.Warmth.BaseC, quantity.Temperature), "upper", v.both(finite(t.Warmth.UpperC), quantity.Temperature))}
	if t.Warmth.Cutoff != agromet.NoCutoff {
		out = append(out, v.say("pests.cutoff."+string(t.Warmth.Cutoff), "upper", v.both(t.Warmth.UpperC, quantity.Temperature)))
	}
	if !math.IsNaN(t.StillAtMost) {
		out = append(out, v.say("pests.method.still_at_most", "value", v.both(t.StillAtMost, quantity.Temperature)))
	}
	if !math.IsNaN(t.StillAtLeast) {
		out = append(out, v.say("pests.method.still_at_least", "value", v.both(t.StillAtLeast, quantity.Temperature)))
	}
	if !math.IsNaN(t.Generation) {
		out = append(out, v.say("pests.method.generation", "sum", v.sum(t.Generation, t.Warmth.Method), "stage", t.Stages[t.Clock].Title))
	}
	return append(out, v.bounds(t.Region)...)
}

func finite(x float64) float64 {
	if math.IsInf(x, 0) {
		return math.NaN()
	}
	return x
}

// bounds tells where a timing may be used.
func (v viewer) bounds(r stage.Region) []string {
	var out []string
	for _, b := range []struct {
		id string
		x  float64
	}{{"south", r.South}, {"north", r.North}, {"west", r.West}, {"east", r.East}} {
		if !math.IsNaN(b.x) {
			out = append(out, v.say("pests.region."+b.id, "degrees", trimmed(math.Abs(b.x))))
		}
	}
	return out
}

// sum prints degree-days in both units, or warm days.
func (v viewer) sum(x float64, m agromet.DegreeDayMethod) string {
	switch {
	case math.IsNaN(x):
		return ""
	case m == agromet.WarmDaysMethod:
		return v.say("pests.sum.warm", "n", quantity.Fixed(x, 0))
	}
	id := "pests.sum.us"
	if v.Units == quantity.Metric {
		id = "pests.sum.metric"
	}
	return v.say(id, "f", quantity.Fixed(agromet.DegreeDaysF(x), 0), "c", quantity.Fixed(x, 0))
}

// condition words what must hold at once.
func (v viewer) condition(t *stage.Timing, all stage.Condition) string {
	parts := make([]string, len(all))
	for i, c := range all {
		parts[i] = v.clause(t, c)
	}
	return strings.Join(parts, v.must("pests.when", "and"))
}

func (v viewer) clause(t *stage.Timing, c stage.Clause) string {
	switch c.Kind {
	case stage.ReachSum:
		return v.say("pests.when.sum", "sum", v.sum(c.AtLeast, t.Warmth.Method))
	case stage.FromDate:
		return v.say("pests.when.from", "date", monthDay(c.Date.StartIn(leapYear)))
	case stage.ArrivalDate:
		return v.say("pests.when.arrival", "date", monthDay(c.Date.StartIn(leapYear)), "latitude", trimmed(c.AtLatitude), "later", v.days(c.PerDegree))
	case stage.AfterStage:
		stage := t.Stages[c.Stage].Title
		if math.IsNaN(c.AtLeast) {
			return v.say("pests.when.after_days", "stage", stage, "days", v.days(float64(c.AfterDays)))
		}
		return v.say("pests.when.after_sum", "stage", stage, "sum", v.sum(c.AtLeast, t.Warmth.Method))
	}
	dim := quantity.Temperature
	if c.Kind == stage.RainSum {
		dim = quantity.Depth
	}
	bound := ""
	switch least, most := v.both(c.AtLeast, dim), v.both(c.AtMost, dim); {
	case most == "":
		bound = v.say("pests.bound.at_least", "value", least)
	case least == "":
		bound = v.say("pests.bound.at_most", "value", most)
	default:
		bound = v.say("pests.bound.between", "from", least, "to", most)
	}
	held := ""
	if c.ForDays > 1 {
		held = v.say("pests.bound.held", "days", v.days(float64(c.ForDays)))
	}
	id := "pests.when." + string(c.Kind)
	switch {
	case c.Kind == stage.NightLow && c.LeadDays > 0:
		return v.say(id+"_lead", "bound", bound, "days", v.days(float64(c.LeadDays)))
	case c.Kind != stage.NightLow && c.OverDays > 1:
		return v.say(id+"_over", "bound", bound, "days", v.days(float64(c.OverDays)), "held", held)
	}
	return v.say(id, "bound", bound, "held", held)
}

func (v viewer) days(n float64) string { return quantity.One(n, quantity.Time, v.Units) }

// dayRange prints "14 to 28 days"; "" where it is not known.
func (v viewer) dayRange(from, to int) string {
	switch {
	case from == 0 && to == 0:
		return ""
	case from == to:
		return v.days(float64(to))
	}
	return v.say("pests.days", "from", trimmed(float64(from)), "to", v.days(float64(to)))
}

// soilSeasonView is a season of the soil.
type soilSeasonView struct {
	Name, Opens, Says string
	From              fromView
}

func (v viewer) soilSeason(w *disease.SoilWindow, c citeTable) soilSeasonView {
	id := "falling"
	if w.Rising {
		id = "rising"
	}
	text := v.say("pests.season."+id, "opens", v.both(w.OpensC, quantity.Temperature), "after", monthDay(w.After.StartIn(leapYear)))
	if !math.IsNaN(w.ClosesC) {
		text += " " + v.say("pests.season.closes", "closes", v.both(w.ClosesC, quantity.Temperature))
	}
	if w.Lasts > 0 {
		text += " " + v.say("pests.season.lasts", "days", v.days(float64(w.Lasts)))
	}
	return soilSeasonView{Name: seasonName(w.ID), Opens: text, Says: plain(w.Says.Text), From: v.from(c.of("opens"))}
}

// seasonName is an id as words: "Spring prevention".
func seasonName(id string) string {
	name := strings.ReplaceAll(id, "-", " ")
	return strings.ToUpper(name[:1]) + name[1:]
}

// since prints the state of a season.
func (v viewer) since(state string, since civil.Date) string {
	if state == "" {
		return v.must("pests.season_state", "unknown")
	}
	if since.IsZero() {
		return v.must("pests.season_state", "before")
	}
	return v.say("pests.season_state."+state, "date", monthDay(since))
}

// underscored is a code as the key of a phrase.
func underscored(code string) string { return strings.ReplaceAll(code, " ", "_") }
