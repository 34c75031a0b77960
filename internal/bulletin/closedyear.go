package bulletin

import (
	"slices"

	"ligule/internal/civil"
	"ligule/internal/law"
	"ligule/internal/message"
	"ligule/internal/reference"
)

// ClosedYear is a calendar year of closed days: a row for each question, and the
// same law by law.
type ClosedYear struct {
	Year  int          `json:"year"`
	Name  string       `json:"name"` // of the place
	Rows  []ClosedRow  `json:"rows"`
	Table []ClosedLine `json:"table,omitempty"`
}

// Any reports whether a day of the year is closed to anybody.
func (y *ClosedYear) Any() bool {
	return slices.ContainsFunc(y.Rows, func(r ClosedRow) bool { return len(r.Runs) > 0 })
}

// ClosedRow is what is closed of one thing to one person, or to both.
type ClosedRow struct {
	Label *message.Said `json:"label"`
	Runs  []ClosedRun   `json:"runs,omitempty"`
	Bare  *message.Said `json:"bare,omitempty"` // in place of runs, where there are none
	Says  *message.Said `json:"says"`           // the row in words
}

// ClosedRun is an unbroken run of closed days.
type ClosedRun struct {
	First    civil.Date    `json:"first"`
	Last     civil.Date    `json:"last"`
	Excepted bool          `json:"excepted,omitempty"` // every law that closes it knows exceptions
	Says     *message.Said `json:"says,omitempty"`     // its days
}

// ClosedLine is one law's part of a closed season.
type ClosedLine struct {
	What     *message.Said `json:"what"`
	First    civil.Date    `json:"first"`
	Last     civil.Date    `json:"last,omitzero"` // zero if no end is on record
	Law      *message.Said `json:"law"`
	Excepted *message.Said `json:"excepted,omitempty"` // what lifts it
}

// ClosedRuns are runs of closed days of a year at hand, in words.
func ClosedRuns(spans []law.Span, first, last civil.Date) []ClosedRun {
	var out []ClosedRun
	for _, r := range law.Runs(spans, first, last) {
		code := "law_strip.run"
		if r.Excepted {
			code = "law_strip.run_excepted"
		}
		out = append(out, ClosedRun{r.First, r.Last, r.Excepted, message.Say(message.New(code).YearDay("first", r.First).YearDay("last", r.Last))})
	}
	return out
}

// Asked is a question about closed days: who spreads what.
type Asked struct {
	Actor    law.Actor
	Nutrient string // N, P, "" for fertilizer with neither
}

// AskedOf says for whom and what something holds: "nitrogen, whoever does it".
func AskedOf(all []Asked) message.Value {
	var out []message.Message
	for _, n := range law.Nutrients() {
		home, hire := slices.Contains(all, Asked{law.Homeowner, n}), slices.Contains(all, Asked{law.ForHire, n})
		code := ""
		switch {
		case home && hire:
			code = "law_asked.both"
		case home:
			code = "law_asked.home"
		case hire:
			code = "law_asked.hire"
		default:
			continue
		}
		what := n
		if n == "" {
			what = "other"
		}
		out = append(out, message.New(code).Word("what", "law_nutrient."+what))
	}
	return message.Messages(message.Semicolon, out...)
}

// ClosedYearOf is the year of a date at a place, as its laws are known on that
// date: every nutrient for who does it at home and who is paid to, in one row
// where both meet the same closed days.
func ClosedYearOf(b *law.Book, place law.Place, asOf civil.Date) *ClosedYear {
	year := asOf.Year()
	from, to := civil.MustDate(year, 1, 1), civil.MustDate(year, 12, 31)
	out := &ClosedYear{Year: year, Name: place.Name}
	for _, n := range law.Nutrients() {
		home := b.ClosedSeasons(place, law.Homeowner, n, from, to, asOf)
		hire := b.ClosedSeasons(place, law.ForHire, n, from, to, asOf)
		if slices.EqualFunc(home, hire, law.Span.Equal) {
			out.row([]Asked{{law.Homeowner, n}, {law.ForHire, n}}, home, from, to)
			continue
		}
		out.row([]Asked{{law.Homeowner, n}}, home, from, to)
		out.row([]Asked{{law.ForHire, n}}, hire, from, to)
	}
	return out
}

func (y *ClosedYear) row(asked []Asked, spans []law.Span, from, to civil.Date) {
	label := message.Just(AskedOf(asked)).Raised()
	r := ClosedRow{Label: message.Say(label), Runs: ClosedRuns(spans, from, to)}
	var runs []message.Message
	for _, run := range r.Runs {
		runs = append(runs, run.Says.Message)
	}
	if len(runs) == 0 {
		r.Bare, r.Says = say("law_strip.none_short"), message.Say(message.New("law_strip.none").Said("what", label))
	} else {
		r.Says = message.Say(message.New("law_strip.row").Said("what", label).With("runs", message.Messages(message.Comma, runs...)))
	}
	y.Rows = append(y.Rows, r)
	for _, s := range spans {
		for _, l := range s.Laws {
			if l.Record == nil || l.Last < from || l.First > to {
				continue
			}
			line := ClosedLine{What: message.Say(label), First: l.First, Last: endOnRecord(l.Last, to), Law: message.Say(citedPart(l))}
			if l.Rule != nil && len(l.Rule.Unless) > 0 {
				line.Excepted = just(reference.FactsOf(l.Rule))
			}
			y.Table = append(y.Table, line)
		}
	}
}

// endOnRecord is zero for what closes for more than a year after a stretch of
// days: it has no end on record.
func endOnRecord(last, to civil.Date) civil.Date {
	if last >= to.AddDays(law.YearAhead) {
		return 0
	}
	return last
}

// citedPart cites what closes a part of a span.
func citedPart(l law.SpanLaw) message.Message {
	return message.New("law_strip.law").Name("law", l.Record.Title).Name("citation", l.Pinpoint())
}
