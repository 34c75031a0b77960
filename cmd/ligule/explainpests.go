package main

import (
	"fmt"
	"io"
	"strings"

	"ligule/internal/bulletin"
	"ligule/internal/quantity"
)

// printPests prints what each pest comes to on the grass: its grade, the score
// or the stage, what it lacks and what is on record of it.
func printPests(out io.Writer, pests *bulletin.Pests, topic string) {
	tw := columnsOn(out)
	head := "\nPests:\n"
	for _, p := range pests.All() {
		if topic != "" && p.Kind != topic {
			continue
		}
		fmt.Fprint(out, head)
		head = ""
		grade := p.Grade
		if !p.Known() {
			grade = "not known"
		}
		fmt.Fprintf(tw, "  %s\t%s\t%s\t%s\n", p.ID, p.Kind, grade, strings.Join(pestFacts(&p.Facts), "; "))
	}
	tw.Flush()
}

// pestFacts prints the facts behind a grade, as the files name them.
func pestFacts(f *bulletin.PestFacts) []string {
	var out []string
	say := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	fixed := func(n bulletin.Num, decimals int) string { return quantity.Fixed(float64(n), decimals) }
	if f.Invalid != "" {
		say("not valid: %s", f.Invalid)
	}
	if f.Score.Known() {
		text := "score " + fixed(f.Score, 2) + " (observed " + fixed(f.Observed, 2)
		if f.Forecast {
			text += ", forecast " + fixed(f.Ahead, 2)
		}
		say("%s)", text)
	}
	if f.Percentile.Known() {
		say("above %s%% of other years", fixed(f.Percentile, 0))
	}
	if f.Years > 0 {
		say("at watch or more in %d of %d years this week", f.Up, f.Years)
	}
	if f.Hidden {
		say("nothing shows")
	}
	if f.Estimated {
		say("humidity estimated")
	}
	for _, w := range f.Seasons {
		switch {
		case w.State == "":
			say("window %s not known", w.ID)
		case w.Since.IsZero():
			say("window %s %s", w.ID, w.State)
		default:
			say("window %s %s since %s", w.ID, w.State, w.Since)
		}
	}
	if g := f.Stage; g != nil {
		say("stage %s since %s", g.ID, g.Since)
		if g.SumC.Known() && g.SumC > 0 {
			say("%s °C d", fixed(g.SumC, 0))
		}
		if g.Next != "" {
			say("next %s on %s", g.Next, g.NextOn)
		}
	}
	if len(f.Lacks) > 0 {
		say("lacks %s", strings.Join(f.Lacks, ", "))
	}
	if f.Reported {
		say("confirmed by a report")
	}
	if f.History {
		say("found before at this season")
	}
	return out
}
