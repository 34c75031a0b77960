package main

import (
	"fmt"
	"io"
	"math"
	"strings"
	"text/tabwriter"

	"ligule/internal/advice"
	"ligule/internal/pest"
	"ligule/internal/quantity"
)

// printPests prints what each pest comes to on the grass: its grade, the score
// or the stage, what it lacks and what is on record of it.
func printPests(out io.Writer, r *advice.Reading, topic advice.Topic) {
	tw := tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)
	printed := false
	for _, p := range r.Pests {
		if topic != "" && p.Kind != topic {
			continue
		}
		if !printed {
			fmt.Fprint(out, "\nPests:\n")
			printed = true
		}
		grade := p.Found.Grade.String()
		if !p.Found.Known || p.Found.Invalid != "" && p.Found.Invalid != pest.InvalidTooCold && p.Found.Invalid != pest.InvalidTooHot {
			grade = "not known"
		}
		fmt.Fprintf(tw, "  %s\t%s\t%s\t%s\n", p.ID(), p.Kind, grade, strings.Join(pestFacts(p), "; "))
	}
	tw.Flush()
}

// pestFacts are the facts behind a grade, as the files name them.
func pestFacts(p *advice.Pest) []string {
	f := &p.Found
	var out []string
	say := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	if f.Invalid != "" {
		say("not valid: %s", f.Invalid)
	}
	if !math.IsNaN(f.Score) {
		text := "score " + quantity.Fixed(f.Score, 2) + " (observed " + quantity.Fixed(f.Observed, 2)
		if f.HasForecast {
			text += ", forecast " + quantity.Fixed(f.Ahead, 2)
		}
		say("%s)", text)
	}
	if !math.IsNaN(f.Percentile) {
		say("above %s%% of other years", quantity.Fixed(f.Percentile, 0))
	}
	if f.HumidityEstimated {
		say("humidity estimated")
	}
	for _, w := range f.Windows {
		switch {
		case w.State == "":
			say("window %s not known", w.ID)
		case w.Since.IsZero():
			say("window %s %s", w.ID, w.State)
		default:
			say("window %s %s since %s", w.ID, w.State, w.Since)
		}
	}
	if p.Kind != advice.Disease && f.Invalid == "" {
		g := &p.Progress
		say("stage %s since %s", g.Stage.ID, g.Since)
		if !math.IsNaN(g.DegreeDaysC) && g.DegreeDaysC > 0 {
			say("%s °C d", quantity.Fixed(g.DegreeDaysC, 0))
		}
		if g.Next > 0 {
			say("next %s on %s", g.NextStage.ID, g.NextOn)
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
	if !f.ProtectedUntil.IsZero() {
		say("treated, counts until %s", f.ProtectedUntil)
	}
	if p.Decision != nil {
		say("treatment gate: %s %v", p.Decision.Answer, p.Decision.Reasons)
	}
	return out
}
