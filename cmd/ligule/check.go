package main

import (
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/issue"
	"ligule/internal/law"
)

const checkHelp = `check [--reviews] [--today 2026-11-25] [--in DIR]

Says everything that is wrong or stale in the workspace, with file and line.
Mistakes end it with exit code 1; warnings alone do not. With --reviews it also
lists what of local law is to be looked at, by the day it is due.`

// check loads the workspace and shows all problems, warnings included. It is
// the only command that looks at the calendar on the wall.
func check(w world, args []string) error {
	fs, in := flags(w, "check", checkHelp)
	asked := fs.String("today", "", "take this `date` for today")
	reviews := fs.Bool("reviews", false, "list the reviews of local law, by the day they are due")
	rest, err := parse(fs, args)
	if err != nil {
		return err
	}
	if len(rest) > 0 {
		return misuse("unexpected argument %q", rest[0])
	}
	year, month, day := w.now().Date()
	today := civil.MustDate(year, int(month), day)
	if *asked != "" {
		if today, err = civil.ParseDate(*asked); err != nil {
			return misuse("--today: %v", err)
		}
	}
	ws, list, err := load(w, *in, true)
	if err != nil {
		return err
	}
	ws.LintLaw(today, list)
	ws.CheckWeather(today, list)
	ws.CheckSite(list)
	if week, ok := ws.DefaultWeek(); ok {
		issue.CheckCalendars(ws, ws.Site.IssueDate(week), list)
	}
	show(w, list, true)
	if list.Err() != nil {
		return errSaid
	}
	warnings := 0
	for _, p := range list.All() {
		if p.Severity == diag.Warning {
			warnings++
		}
	}
	if *reviews {
		printReviews(w.stdout, ws.Law.Reviews(today), today)
	}
	fmt.Fprintf(w.stdout, "%s, %s, %s, %s: no mistakes, %s.\n", count(len(ws.Zones), "zone"), grasses(len(ws.Grasses)),
		count(len(ws.Rules), "rule"), count(len(ws.Ordinances)+len(ws.Watering), "record")+" of law", count(warnings, "warning"))
	return nil
}

// printReviews prints what an author works through: what is due, by when,
// where to read and whom to ask.
func printReviews(out io.Writer, reviews []law.Review, today civil.Date) {
	tw := tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)
	fmt.Fprintln(tw, "DUE\tWHAT\tWHERE\tREAD OR ASK")
	for _, r := range reviews {
		due := r.Due.String()
		switch {
		case r.Due.IsZero():
			due = "now"
		case r.Past(today):
			due += " (past)"
		}
		where := r.JurisdictionName
		if r.Citation != "" {
			where += ", " + r.Citation
		}
		source := r.SourceURL
		if source == "" {
			source = r.Office
		}
		fmt.Fprintf(tw, "%s\t%s\t%s\t%s\n", due, strings.ReplaceAll(r.What, "_", " "), where, source)
	}
	tw.Flush()
	fmt.Fprintln(out)
}

func grasses(n int) string {
	if n == 1 {
		return "1 grass"
	}
	return fmt.Sprintf("%d grasses", n)
}
