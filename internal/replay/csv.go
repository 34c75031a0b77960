package replay

import (
	"cmp"
	"encoding/csv"
	"io"
	"maps"
	"strconv"

	"ligule/internal/civil"
)

// columns are those of the table that [Replay.WriteCSV] writes.
func columns() []string {
	return []string{"zone", "grass", "year", "kind", "id", "pest", "value", "weeks",
		"first_week", "first_date", "last_week", "last_date", "opens", "opens_basis", "closes", "closes_basis", "wavered",
		"do", "wait", "skip", "look", "closed", "answered", "stopped", "outcome", "reported"}
}

// row is a line of the table, by column.
type row map[string]string

// WriteCSV writes all that was counted as a table with one line per zone, grass,
// year, kind and id. Cells that do not go with a kind are empty. The kinds, and
// what their cells are:
//
//   - forecast: the first line, if the days that followed stood in for forecasts that
//     were not on file; value "following".
//   - window: id of the window; value "opened", "open-before" (it already was in
//     the first week that was run), or where it never was what the last issue of
//     the year said ("ahead", "closed", "none", "skipped", "unknown"). weeks said
//     that it is open. first is the first issue that said so, last the first
//     after that said it was over; opens and closes are the days as told then,
//     with their basis; wavered is how often "open" was taken back and said again.
//   - rule: id of the rule, pest where it was asked of one; weeks in which it
//     fired, first and last of them; do to closed count what its advice came to
//     after the gates, answered those in which it was the topic's answer, stopped
//     those in which a gate stopped it.
//   - state: id is the code of the state, "unknown" where there was too little weather; weeks,
//     first and last of them.
//   - week: id is an ISO week, value the state of the grass in it, first_date the
//     issue date.
//   - law: of a zone; id is nitrogen, phosphorus or water, value "closed" or
//     "unclear"; weeks, and of closed ones the first and last.
//   - pair: id of a disease, value its grade in the issue first, after which
//     scouts looked; outcome is "found" or "none", reported "yes" where a confirmed
//     report stood already.
//   - unlooked: id of a disease, value a grade; weeks after which nobody looked,
//     over all zones, grasses and years.
func (r *Replay) WriteCSV(w io.Writer) error {
	out := csv.NewWriter(w)
	names := columns()
	_ = out.Write(names) // an error stays with the writer, which tells it in the end
	line := func(cells row) {
		fields := make([]string, len(names))
		for i, name := range names {
			fields[i] = cells[name]
		}
		_ = out.Write(fields)
	}
	if r.Forecast != "" {
		line(row{"kind": "forecast", "value": r.Forecast})
	}
	for _, z := range r.Zones {
		z.lines(line)
	}
	r.Scouting.lines(line)
	out.Flush()
	return out.Error()
}

func (z *Zone) lines(line func(row)) {
	for _, y := range z.Years {
		for _, c := range []struct {
			id string
			Closing
		}{{"nitrogen", y.Nitrogen}, {"phosphorus", y.Phosphorus}, {"water", y.Water}} {
			cells := row{"zone": z.ID, "year": number(y.Year), "kind": "law", "id": c.id}
			line(cells.with("value", "closed", "weeks", number(c.Closed), "first_week", week(c.First), "last_week", week(c.Last)))
			line(cells.with("value", "unclear", "weeks", number(c.Unclear)))
		}
	}
	for _, g := range z.Grasses {
		of := row{"zone": z.ID, "grass": g.ID}
		for _, w := range g.Windows {
			for _, y := range w.Years {
				line(of.with("year", number(y.Year), "kind", "window", "id", w.ID, "value", y.word(), "weeks", number(y.Weeks), "wavered", number(y.Wavered),
					"first_week", week(y.Opened.Week), "first_date", y.Opened.Date.String(), "opens", y.Opened.Told.String(), "opens_basis", y.Opened.Basis,
					"last_week", week(y.Over.Week), "last_date", y.Over.Date.String(), "closes", y.Over.Told.String(), "closes_basis", y.Over.Basis))
			}
		}
		for _, rule := range g.Rules {
			for _, y := range rule.Years {
				line(of.with("year", number(y.Year), "kind", "rule", "id", rule.ID, "pest", rule.Pest, "weeks", number(y.Weeks),
					"first_week", week(y.First), "last_week", week(y.Last),
					"do", number(y.Do), "wait", number(y.Wait), "skip", number(y.Skip), "look", number(y.Look), "closed", number(y.Closed),
					"answered", number(y.Answered), "stopped", number(y.Stopped)))
			}
		}
		for _, s := range g.StateYears() {
			line(of.with("year", number(s.Year), "kind", "state", "id", cmp.Or(s.State, "unknown"), "weeks", number(s.Weeks), "first_week", week(s.First), "last_week", week(s.Last)))
		}
		for _, s := range g.States {
			line(of.with("year", number(s.Week.Year), "kind", "week", "id", s.Week.String(), "value", cmp.Or(s.State, "unknown")))
		}
	}
}

func (v *Verification) lines(line func(row)) {
	for _, p := range v.Pairs {
		outcome, reported := "none", "no"
		if p.Found {
			outcome = "found"
		}
		if p.Reported {
			reported = "yes"
		}
		line(row{"zone": p.Zone, "grass": p.Grass, "year": number(p.Week.Year), "kind": "pair", "id": p.Disease, "value": p.Grade,
			"first_week": week(p.Week), "first_date": p.Date.String(), "outcome": outcome, "reported": reported})
	}
	for _, t := range v.By {
		for _, g := range []struct {
			grade string
			weeks int
		}{{"quiet", t.QuietUnlooked}, {"watch", t.WatchUnlooked}, {"act", t.ActUnlooked}} {
			line(row{"kind": "unlooked", "id": t.Disease, "value": g.grade, "weeks": number(g.weeks)})
		}
	}
}

// word says how a year of a window came out.
func (y WindowYear) word() string {
	switch {
	case y.Before:
		return "open-before"
	case !y.Opened.Week.IsZero():
		return "opened"
	}
	return string(y.Phase)
}

// with returns the cells with more of them.
func (c row) with(cells ...string) row {
	out := make(row, len(c)+len(cells)/2)
	maps.Copy(out, c)
	for i := 0; i < len(cells); i += 2 {
		out[cells[i]] = cells[i+1]
	}
	return out
}

func number(n int) string { return strconv.Itoa(n) }

// week prints a week, nothing for none.
func week(w civil.Week) string {
	if w.IsZero() {
		return ""
	}
	return w.String()
}
