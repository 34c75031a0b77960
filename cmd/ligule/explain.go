package main

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"

	"ligule/internal/bulletin"
	"ligule/internal/diag"
	"ligule/internal/edition"
	"ligule/internal/workspace"
)

const explainHelp = `explain ZONE GRASS [TOPIC] [--week 2026-W48] [--in DIR]

Shows the working: every indicator with its value and basis, every pest with
its grade and what that rests on, the rules that fired, those that nearly did and what kept them, and the gates. TOPIC is one of
mow, feed, water, disease, weed, insect, project.`

// explain makes the answers of one grass and prints how they came about.
func explain(w world, args []string) error {
	fs, in := flags(w, "explain", explainHelp)
	asked := fs.String("week", "", "the ISO `week` to explain")
	rest, err := parse(fs, args)
	if err != nil {
		return err
	}
	if len(rest) < 2 || len(rest) > 3 {
		return misuse("name a zone and a grass")
	}
	ws, _, err := load(w, *in, false)
	if err != nil {
		return err
	}
	z, err := zoneOf(ws, rest[0])
	if err != nil {
		return err
	}
	var grasses, topics []string
	for _, g := range z.Grasses {
		grasses = append(grasses, g.ID)
	}
	at := slices.Index(grasses, rest[1])
	if at < 0 {
		return misuse("%s has no grass %q; use one of %s", z.ID, rest[1], strings.Join(grasses, ", "))
	}
	for _, t := range bulletin.Topics() {
		topics = append(topics, t.ID)
	}
	topic := ""
	if len(rest) == 3 {
		if topic = rest[2]; !slices.Contains(topics, topic) {
			return misuse("there is no topic %q; %s", topic, diag.DidYouMean(topic, topics))
		}
	}
	week, err := theWeek(ws, *asked)
	if err != nil {
		return err
	}
	one := *z
	one.Grasses = z.Grasses[at : at+1]
	is := bulletin.Worked(ws, week, []*workspace.Zone{&one})
	edition.Voice(is, ws.Voice())
	g := is.Zones[0].Grasses[0]
	fmt.Fprintf(w.stdout, "%s, %s. Issue %s of %s.\n\n", z.Name, g.Name, is.Week, is.Date)
	printWorking(w.stdout, g, topic)
	return nil
}

func printWorking(out io.Writer, g *bulletin.Grass, topic string) {
	tw := columnsOn(out)
	for _, x := range g.Values {
		basis := x.Basis
		if !x.Known {
			basis = "missing"
		}
		fmt.Fprintf(tw, "  %s\t%s\t%s\n", x.Name, x.Value, basis)
	}
	tw.Flush()
	printPests(out, g.Pests, topic)
	for _, a := range g.Answers {
		if topic == "" || a.Topic == topic {
			printAnswer(out, a)
		}
	}
	printYielded(out, g.Yielded, topic)
	printQuiet(out, g.Rules, topic)
}

// printYielded prints what yielded, and to what.
func printYielded(out io.Writer, all []bulletin.Yielded, topic string) {
	for _, s := range all {
		if topic != "" && s.Topic != topic {
			continue
		}
		to := "the weather"
		switch {
		case s.Unknown:
			to = "what is not known"
		case s.Winner.ID != "":
			to = s.Winner.ID
		}
		fmt.Fprintf(out, "\nYIELDED (%s): %s to %s, by %s (%s), %s\n  said: %s\n", s.Topic, cmp.Or(s.Rule.ID, "the gate"), to, s.Conflict.ID, s.Conflict.Cited, s.Conflict.At, s.Say)
	}
}

func printAnswer(out io.Writer, a *bulletin.Answer) {
	fmt.Fprintf(out, "\n%s: %s. %s\n", strings.ToUpper(a.Topic), a.Word, a.Say)
	printDraft(out, a.Gate, bulletin.Draft{Rule: a.Rule, Reasons: a.Reasons, Why: a.Why, Conditions: a.Conditions})
	support := slices.Concat(a.Also, a.Support)
	// As they were weighed: those of one rule by how urgent each is.
	slices.SortStableFunc(support, func(a, b bulletin.Draft) int {
		return cmp.Or(cmp.Compare(b.Rule.Weight, a.Rule.Weight), cmp.Compare(a.Rule.ID, b.Rule.ID))
	})
	for _, d := range support {
		fmt.Fprintf(out, "  supported by %s: %s\n", d.Rule.ID, d.Say)
		printDraft(out, "", d)
	}
	for _, l := range a.Lawns {
		fmt.Fprintf(out, "  %s: %s. %s\n", l.Where, l.Word, l.Say)
		printDraft(out, l.Gate, l.Draft)
	}
	for _, c := range a.Cautions {
		if c.Class != "" {
			fmt.Fprintf(out, "  caution: %s %s\n", c.Short, c.Medium)
		}
	}
	for _, d := range a.Dropped {
		fmt.Fprintf(out, "  not said: %s\n    because: %s\n", d.Say, d.Reason)
	}
}

// printQuiet prints the rules that did not fire, and what kept them. Of a rule
// that speaks of several pests it prints, for each, only what kept it.
func printQuiet(out io.Writer, traces []bulletin.Trace, topic string) {
	marks := map[string]string{"no": "✗", "unknown": "?", "yes": "✓"}
	last := ""
	for _, t := range traces {
		if t.Outcome == "yes" || topic != "" && t.Rule.Topic != topic {
			continue
		}
		word := "did not fire"
		if t.Outcome == "unknown" {
			word = "lacks data"
		}
		head := fmt.Sprintf("%s (%s) %s", t.Rule.ID, t.Rule.Topic, word)
		if head != last {
			fmt.Fprintf(out, "\n%s:\n", head)
			last = head
		}
		for _, c := range t.Clauses {
			if t.Pest == nil || c.Held == t.Outcome {
				fmt.Fprintf(out, "  %s %s\n", marks[c.Held], c.Text)
			}
		}
	}
}

func printDraft(out io.Writer, gate string, d bulletin.Draft) {
	if r := d.Rule; r.ID != "" {
		fmt.Fprintf(out, "  rule %s, weight %d, source: %s (%s), %s\n", r.ID, r.Weight, r.Cited, r.Standing, r.At)
	}
	if gate != "" {
		fmt.Fprintf(out, "  gate: %s\n", gate)
	}
	for _, c := range d.Reasons {
		fmt.Fprintf(out, "  - %s\n", c)
	}
	if d.Why != nil {
		fmt.Fprintf(out, "  why: %s\n", d.Why)
	}
	for _, c := range d.Conditions {
		fmt.Fprintf(out, "  condition: %s\n", c)
	}
}
