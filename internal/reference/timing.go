package reference

import (
	"math"

	"ligule/internal/agromet"
	"ligule/internal/message"
	"ligule/internal/pest"
	"ligule/internal/quantity"
	"ligule/internal/stage"
)

// Timing tells how a weed or an insect is timed.
type Timing struct {
	Of       string          `json:"of,omitempty"`      // species
	Compare  bool            `json:"compare,omitempty"` // told for comparison; it makes no grade
	Method   []*message.Said `json:"method"`
	ValidFor *message.Said   `json:"valid_for"`
	From     Source          `json:"from,omitzero"`
	Stages   []Stage         `json:"stages"`
	Shifts   []Shift         `json:"shifts,omitempty"`
}

// Stage is a stage of a season.
type Stage struct {
	Title string        `json:"title"`
	Grade string        `json:"grade"` // code
	Word  *message.Said `json:"word"`  // the same
	Says  *message.Said `json:"says"`
	When  []Statement   `json:"when,omitempty"` // one is enough; none: the season starts
}

// Shift raises or lowers a grade.
type Shift struct {
	Text *message.Said `json:"text"`
	Says *message.Said `json:"says"`
}

func (m maker) timing(t *stage.Timing) Timing {
	out := Timing{Of: t.Of, Compare: t.Compare, Method: message.SayAll(method(t)), ValidFor: plain(t.ValidFor), From: m.from(t.Cite)}
	for _, s := range t.Stages {
		shown := Stage{Title: s.Title, Grade: s.Level, Word: say("pests.grade." + s.Level), Says: plain(s.Says)}
		for _, c := range s.When {
			shown.When = append(shown.When, m.cited(condition(t, c.Value), c.Cite))
		}
		out.Stages = append(out.Stages, shown)
	}
	for _, s := range t.Shifts {
		code := "pests.shift.down"
		if s.Up {
			code = "pests.shift.up"
		}
		titles := make([]string, len(s.Stages))
		for i, k := range s.Stages {
			titles[i] = t.Stages[k].Title
		}
		out.Shifts = append(out.Shifts, Shift{
			message.Say(message.New(code).With("stages", message.Texts(message.Comma, titles...)).Said("when", condition(t, s.When))), plain(s.Says),
		})
	}
	return out
}

// method tells how warmth is summed, and where that may be used.
func method(t *stage.Timing) []message.Message {
	start := message.EveryYear(t.Start)
	if t.Momentary {
		return append([]message.Message{message.New("pests.method.momentary")}, bounds(t.Region)...)
	}
	if t.Warmth.Method == "" {
		return append([]message.Message{message.New("pests.method.none").With("start", start)}, bounds(t.Region)...)
	}
	code := "pests.method." + underscored(string(t.Warmth.Method))
	if t.Of5cm {
		code += "_soil"
	}
	out := []message.Message{message.New(code).With("start", start).With("base", temperature(t.Warmth.BaseC)).With("upper", temperature(t.Warmth.UpperC))}
	add := func(m message.Message) { out = append(out, m) }
	if t.Warmth.Cutoff != agromet.NoCutoff {
		add(message.New("pests.cutoff."+string(t.Warmth.Cutoff)).With("upper", temperature(t.Warmth.UpperC)))
	}
	if !math.IsNaN(t.StillAtMost) {
		add(message.New("pests.method.still_at_most").With("value", temperature(t.StillAtMost)))
	}
	if !math.IsNaN(t.StillAtLeast) {
		add(message.New("pests.method.still_at_least").With("value", temperature(t.StillAtLeast)))
	}
	if !math.IsNaN(t.Generation) {
		add(message.New("pests.method.generation").With("sum", stage.Sum(t.Generation, t.Warmth.Method)).Name("stage", t.Stages[t.Clock].Title))
	}
	return append(out, bounds(t.Region)...)
}

// bounds tells where a timing may be used.
func bounds(r pest.Region) []message.Message {
	var out []message.Message
	for _, b := range []struct {
		side string
		x    float64
	}{{"south", r.South}, {"north", r.North}, {"west", r.West}, {"east", r.East}} {
		if !math.IsNaN(b.x) {
			out = append(out, message.New("pests.region."+b.side).With("degrees", message.Figure(math.Abs(b.x))))
		}
	}
	return out
}

// condition says what must hold at once.
func condition(t *stage.Timing, all stage.Condition) message.Message {
	var out message.Message
	for i, c := range all {
		if next := clause(t, c); i == 0 {
			out = next
		} else {
			out = message.New("pests.when.and").Said("before", out).Said("next", next)
		}
	}
	return out
}

func clause(t *stage.Timing, c stage.Clause) message.Message {
	sum := func() message.Value { return stage.Sum(c.AtLeast, t.Warmth.Method) }
	switch c.Kind {
	case stage.ReachSum:
		return message.New("pests.when.sum").With("sum", sum())
	case stage.FromDate:
		return message.New("pests.when.from").With("date", message.EveryYear(c.Date))
	case stage.ArrivalDate:
		return message.New("pests.when.arrival").With("date", message.EveryYear(c.Date)).
			With("latitude", message.Figure(c.AtLatitude)).With("later", message.One(c.PerDegree, quantity.Time, 0, 0))
	case stage.AfterStage:
		title := t.Stages[c.Stage].Title
		if math.IsNaN(c.AtLeast) {
			return message.New("pests.when.after_days").Name("stage", title).DayCount("days", c.AfterDays)
		}
		return message.New("pests.when.after_sum").Name("stage", title).With("sum", sum())
	}
	said := message.New("pests.when."+string(c.Kind)).Said("bound", bound(c))
	held := message.Text("")
	if c.ForDays > 1 {
		held = message.Of(message.New("pests.bound.held").DayCount("days", c.ForDays))
	}
	switch {
	case c.Kind == stage.NightLow && c.LeadDays > 0:
		said.Code += "_lead"
		return said.DayCount("days", c.LeadDays)
	case c.Kind != stage.NightLow && c.OverDays > 1:
		said.Code += "_over"
		said = said.DayCount("days", c.OverDays)
	}
	said = said.With("held", held)
	if c.Falling {
		return message.New("pests.when.and").Said("before", said).Said("next", message.New("pests.when.falling"))
	}
	return said
}

// bound says between what a clause's figure has to lie.
func bound(c stage.Clause) message.Message {
	dim := quantity.Temperature
	if c.Kind == stage.RainSum {
		dim = quantity.Depth
	}
	least, most := message.Usual(c.AtLeast, dim), message.Usual(c.AtMost, dim)
	switch {
	case math.IsNaN(c.AtMost):
		return message.New("pests.bound.at_least").With("value", least)
	case math.IsNaN(c.AtLeast):
		return message.New("pests.bound.at_most").With("value", most)
	}
	return message.New("pests.bound.between").With("from", least).With("to", most)
}
