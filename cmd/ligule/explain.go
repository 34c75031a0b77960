package main

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"text/tabwriter"

	"ligule/internal/advice"
	"ligule/internal/bulletin"
	"ligule/internal/diag"
	"ligule/internal/voice"
	"ligule/internal/workspace"
)

const explainHelp = `explain ZONE GRASS [TOPIC] [--week 2026-W48] [--in DIR]

Shows the working: every indicator with its value and basis, every pest with
its grade and what that rests on, the rules that fired, those that nearly did and what kept them, and the gates. TOPIC is one of
mow, feed, water, disease, weed, insect, project.`

// explain makes one reading and prints how it came about.
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
	var zones, grasses, topics []string
	for _, z := range ws.Zones {
		zones = append(zones, z.ID)
	}
	z, ok := ws.Zone(rest[0])
	if !ok {
		return misuse("there is no zone %q; %s", rest[0], diag.DidYouMean(rest[0], zones))
	}
	for _, g := range z.Grasses {
		grasses = append(grasses, g.ID)
	}
	p, ok := ws.Grass(rest[1])
	if !ok || !slices.Contains(grasses, rest[1]) {
		return misuse("%s has no grass %q; use one of %s", z.ID, rest[1], strings.Join(grasses, ", "))
	}
	for _, t := range advice.Topics() {
		topics = append(topics, string(t))
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
	r := advice.Read(bulletin.Input(ws, z, p, bulletin.Felt(ws, z, week), week))
	printWorking(w.stdout, ws.Voice(), z, r, advice.Topic(topic))
	return nil
}

func printWorking(out io.Writer, v voice.Voice, z *workspace.Zone, r *advice.Reading, topic advice.Topic) {
	fmt.Fprintf(out, "%s, %s. Issue %s of %s.\n\n", z.Name, r.Grass.Name, r.Week, r.IssueDate)
	tw := tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)
	for _, x := range r.Values {
		basis := string(x.Basis)
		if !x.Known() {
			basis = "missing"
		}
		fmt.Fprintf(tw, "  %s\t%s\t%s\n", x.Indicator.Name, v.Value(x.Shown()), basis)
	}
	tw.Flush()
	printPests(out, r, topic)
	for _, a := range r.Answers {
		if topic != "" && a.Topic != topic {
			continue
		}
		fmt.Fprintf(out, "\n%s: %s. %s\n", strings.ToUpper(string(a.Topic)), v.Word("verdict."+string(a.Verdict)), v.Say(a.Lead.Say))
		printDraft(out, v, a.Lead)
		for _, c := range a.Conditions {
			fmt.Fprintf(out, "  condition: %s\n", v.Say(c))
		}
		for _, d := range a.Support {
			fmt.Fprintf(out, "  supported by %s: %s\n", d.Rule.ID, v.Say(d.Say))
			printDraft(out, v, d)
			for _, c := range d.Conditions {
				fmt.Fprintf(out, "  condition: %s\n", v.Say(c))
			}
		}
		for _, d := range a.Dropped {
			fmt.Fprintf(out, "  not said: %s\n    because: %s\n", v.Say(d.Draft.Say), v.Say(d.Reason))
		}
	}
	printQuiet(out, v, r.Traces, topic)
}

// printQuiet prints the rules that did not fire, and what kept them. Of a rule
// that speaks of several pests it prints, for each, only what kept it.
func printQuiet(out io.Writer, v voice.Voice, traces []advice.RuleTrace, topic advice.Topic) {
	marks := [...]string{advice.No: "✗", advice.Unknown: "?", advice.Yes: "✓"}
	last := ""
	for _, t := range traces {
		if t.Outcome == advice.Yes || topic != "" && t.Rule.Topic != topic {
			continue
		}
		word := "did not fire"
		if t.Outcome == advice.Unknown {
			word = "lacks data"
		}
		head := fmt.Sprintf("%s (%s) %s", t.Rule.ID, t.Rule.Topic, word)
		if head != last {
			fmt.Fprintf(out, "\n%s:\n", head)
			last = head
		}
		for i, c := range t.Clauses {
			if t.Pest == nil || t.Held[i] == t.Outcome {
				fmt.Fprintf(out, "  %s %s\n", marks[t.Held[i]], v.Say(c))
			}
		}
	}
}

func printDraft(out io.Writer, v voice.Voice, d advice.Draft) {
	if d.Rule != nil {
		fmt.Fprintf(out, "  rule %s, weight %d, source: %s (%s), %s:%d\n", d.Rule.ID, d.Rule.Weight, d.Rule.Source, d.Rule.Standing, d.Rule.Pos.File, d.Rule.Pos.Line)
	}
	if d.Gate != "" {
		fmt.Fprintf(out, "  gate: %s\n", d.Gate)
	}
	for _, c := range d.Reasons {
		fmt.Fprintf(out, "  - %s\n", v.Say(c))
	}
	if !d.Why.IsZero() {
		fmt.Fprintf(out, "  why: %s\n", v.Say(d.Why))
	}
}
