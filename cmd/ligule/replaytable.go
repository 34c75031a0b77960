package main

import (
	"cmp"
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"ligule/internal/civil"
	"ligule/internal/message"
	"ligule/internal/replay"
	"ligule/internal/voice"
)

// printReplay prints one block for each zone, and how warnings met scouting.
func printReplay(out io.Writer, v voice.Voice, r *replay.Replay) {
	fmt.Fprintf(out, "%s run again, %s to %s, each as of its own issue date.\n",
		count(len(r.Weeks), "week"), r.Weeks[0].Week, r.Weeks[len(r.Weeks)-1].Week)
	fmt.Fprintln(out, "Rules, calendars and figures are those of today. So is the law: each record counts from its own\ndate on, even if it was read later; an older law of which there is no record is missing.")
	if r.Forecast == replay.FollowingForecast {
		fmt.Fprintln(out, "Where no forecast was on file, the days that followed stand in for that of the week, without hours.")
	}
	for _, z := range r.Zones {
		printZoneReplay(out, v, r, z)
	}
	printScouting(out, &r.Scouting)
}

// aligned prints lines of cells in columns.
type aligned struct{ *tabwriter.Writer }

func columnsOn(out io.Writer) aligned { return aligned{tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)} }

func (t aligned) line(cells ...any) {
	text := make([]string, len(cells))
	for i, c := range cells {
		text[i] = fmt.Sprint(c)
	}
	fmt.Fprintf(t, "  %s\n", strings.TrimRight(strings.Join(text, "\t"), "\t"))
}

func printZoneReplay(out io.Writer, v voice.Voice, r *replay.Replay, z *replay.Zone) {
	fmt.Fprintf(out, "\n%s (%s), weather of %s\n", strings.ToUpper(z.Name), z.ID, z.Station)
	fmt.Fprintf(out, "  Weather in %d of %d weeks, a forecast on file in %d. Fewer than ten years on file in %d:\n  there the printed calendar spoke of what lay ahead.\n",
		z.Weather.Weeks, len(r.Weeks), z.Weather.Forecasts, z.Weather.Short)
	fmt.Fprintln(out, "\n  Weeks closed by law on any day, at any place; and weeks that no law cleared")
	t := columnsOn(out)
	t.line("YEAR", "WEEKS", "NITROGEN", "FIRST", "LAST", "UNCLEAR", "PHOSPHORUS", "UNCLEAR", "SPRINKLERS", "UNCLEAR")
	for _, y := range z.Years {
		t.line(y.Year, y.Weeks, y.Nitrogen.Closed, weekOr(y.Nitrogen.First), weekOr(y.Nitrogen.Last), y.Nitrogen.Unclear,
			y.Phosphorus.Closed, y.Phosphorus.Unclear, y.Water.Closed, y.Water.Unclear)
	}
	t.Flush()
	fmt.Fprintln(out, "\n  Law that spoke")
	t = columnsOn(out)
	t.line("RECORD", "PLACE", "IN FORCE FROM", "TO", "CHECKED ON", "WEEKS")
	for _, l := range z.Law {
		t.line(l.ID, l.Place, l.From, cmp.Or(l.To.String(), "-"), l.Checked, l.Weeks)
	}
	t.Flush()
	for _, g := range z.Grasses {
		printGrassReplay(out, v, r, z, g)
	}
}

func printGrassReplay(out io.Writer, v voice.Voice, r *replay.Replay, z *replay.Zone, g *replay.Grass) {
	fmt.Fprintf(out, "\n  %s in %s: windows of the calendar, by the issue that first said it (of the window that opens in the year in brackets)\n", g.Name, z.Name)
	dayIn := func(md civil.MonthDay, year int) string {
		return v.Value(message.List(message.Bracketed, message.EveryYear(md), message.Count(year)))
	}
	t := columnsOn(out)
	t.line("WINDOW", "OPEN: EARLY", "USUAL", "LATE", "YEARS", "OVER: EARLY", "USUAL", "LATE", "YEARS", "NOT OPEN IN")
	for _, w := range g.Windows {
		cells := []any{w.ID}
		for _, s := range []replay.Spread{w.Opened, w.Over} {
			if s.Years == 0 {
				cells = append(cells, "-", "-", "-", 0)
				continue
			}
			cells = append(cells, dayIn(s.Early(), s.EarlyYear), v.Value(message.EveryYear(s.Usual())), dayIn(s.Late(), s.LateYear), s.Years)
		}
		t.line(append(cells, neverOpen(w))...)
	}
	t.Flush()
	fmt.Fprintf(out, "\n  %s in %s: weeks in which the advice of a rule fired, by what it came to after the gates\n", g.Name, z.Name)
	t = columnsOn(out)
	t.line("TOPIC", "RULE", "PEST", "WEEKS", "DO", "WAIT", "SKIP", "LOOK", "CLOSED", "ANSWERED", "STOPPED", "YEARS", "FIRST", "LAST")
	for _, rule := range g.Rules {
		y := rule.Total()
		t.line(rule.Topic, rule.ID, cmp.Or(rule.Pest, "-"), y.Weeks, y.Do, y.Wait, y.Skip, y.Look, y.Closed, y.Answered, y.Stopped, len(rule.Years), y.First, y.Last)
	}
	t.Flush()
	if len(g.Silent) > 0 {
		fmt.Fprintf(out, "  Never fired: %s\n", strings.Join(g.Silent, ", "))
	}
	printStates(out, r, z, g)
}

func printStates(out io.Writer, r *replay.Replay, z *replay.Zone, g *replay.Grass) {
	weeks := map[string]map[int]int{}
	var states []string
	for _, s := range g.StateYears() {
		if weeks[s.State] == nil {
			states, weeks[s.State] = append(states, s.State), map[int]int{}
		}
		weeks[s.State][s.Year] = s.Weeks
	}
	fmt.Fprintf(out, "\n  %s in %s: weeks in each state\n", g.Name, z.Name)
	t := columnsOn(out)
	head := []any{"STATE"}
	for _, y := range r.Years() {
		head = append(head, y)
	}
	t.line(head...)
	for _, s := range states {
		cells := []any{cmp.Or(s, "unknown")}
		for _, y := range r.Years() {
			cells = append(cells, weeks[s][y])
		}
		t.line(cells...)
	}
	t.Flush()
}

func printScouting(out io.Writer, v *replay.Verification) {
	fmt.Fprintln(out, "\nWARNINGS OF DISEASES AND WHAT SCOUTS FOUND WITHIN 14 DAYS")
	fmt.Fprintf(out, "  %s in that time, %d of them looked and found nothing. %s: weeks after which somebody looked.\n",
		count(v.Reports, "line"), v.None, count(v.All.Pairs(), "pair"))
	fmt.Fprintln(out, "  Reports lean toward trouble. Weeks after which nobody looked are neither right nor wrong.")
	t := columnsOn(out)
	t.line("DISEASE", "WARNED BY", "HITS", "FALSE ALARMS", "MISSES", "CORRECT", "NOBODY LOOKED", "UNCLEAR", "NO GRADE")
	for _, d := range v.Rows() {
		name := cmp.Or(d.Disease, "all")
		t.line(name, "act", d.Act.Hits, d.Act.FalseAlarms, d.Act.Misses, d.Act.Correct, d.ActUnlooked, d.Unclear, d.Ungraded)
		t.line("", "watch or act", d.Watch.Hits, d.Watch.FalseAlarms, d.Watch.Misses, d.Watch.Correct, d.Unlooked(), "-", "-")
	}
	t.Flush()
	if v.All.Reported > 0 {
		fmt.Fprintf(out, "  Before %s a confirmed report stood already.\n", count(v.All.Reported, "pair"))
	}
	if v.All.Events() < v.Needed() {
		fmt.Fprintf(out, "  Too few finds for a score: %d, and it takes %d.\n", v.All.Events(), v.Needed())
		return
	}
	for _, d := range v.Rows() {
		name := cmp.Or(d.Disease, "all")
		printScores(out, name+", warned by act", d.Act.Scores)
		printScores(out, name+", warned by watch or act", d.Watch.Scores)
	}
	printScores(out, "all, probabilities", v.Brier)
}

func printScores(out io.Writer, of string, scores []replay.Score) {
	if scores == nil {
		return
	}
	fmt.Fprintf(out, "  %s:\n", of)
	t := columnsOn(out)
	for _, s := range scores {
		t.line("  "+s.Name.String(), s.Code, cmp.Or(s.Printed.String(), "-"), s.Interval)
	}
	t.Flush()
}

func weekOr(w civil.Week) string {
	if w.IsZero() {
		return "-"
	}
	return w.String()
}

// neverOpen lists the years in which no issue said that a window is open, and
// what the last one said instead.
func neverOpen(w *replay.Window) string {
	var out []string
	for _, y := range w.Years {
		if y.Weeks == 0 {
			out = append(out, fmt.Sprintf("%d (%s)", y.Year, y.Phase))
		}
	}
	return cmp.Or(strings.Join(out, ", "), "-")
}
