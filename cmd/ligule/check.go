package main

import (
	"cmp"
	"fmt"
	"io"
	"strings"

	"ligule/internal/bulletin"
	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/law"
	"ligule/internal/watering"
	"ligule/internal/workspace"
)

const checkHelp = `check [--reviews] [--calendars] [--today 2026-11-25] [--in DIR]

Says everything that is wrong or stale in the workspace, with file and line.
Mistakes end it with exit code 1; warnings alone do not. With --reviews it also
lists what of local law is to be looked at, by the day it is due; with --calendars
every window that is computed for other days than its handbook prints.`

// check loads the workspace and shows all problems, warnings included. It is
// the only command that looks at the calendar on the wall.
func check(w world, args []string) error {
	fs, in := flags(w, "check", checkHelp)
	asked := fs.String("today", "", "take this `date` for today")
	reviews := fs.Bool("reviews", false, "list the reviews of local law, by the day they are due")
	calendars := fs.Bool("calendars", false, "list the windows that drift from what is printed")
	if err := parseAlone(fs, args); err != nil {
		return err
	}
	year, month, day := w.now().Date()
	today := civil.MustDate(year, int(month), day)
	if *asked != "" {
		var err error
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
		checkCalendars(ws, week, *calendars, list)
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
		printReviews(w.stdout, watering.Reviews(ws.Law, ws.WaterLaw, today), today)
	}
	fmt.Fprintf(w.stdout, "%s, %s, %s, %s: no mistakes, %s.\n", count(len(ws.Zones), "zone"), count(len(ws.Grasses), "grass"),
		count(len(ws.Rules), "rule"), count(len(ws.Ordinances)+len(ws.Watering), "record")+" of law", count(warnings, "warning"))
	return nil
}

// checkCalendars adds what is to be said of the calendars. Windows drift from
// print wherever the printed place is not quite like the zone's, so that they
// are told one by one on demand only.
func checkCalendars(ws *workspace.Workspace, week civil.Week, each bool, list *diag.List) {
	var found diag.List
	bulletin.CheckCalendars(ws, ws.Site.IssueDate(week), &found)
	drifting := 0
	for _, p := range found.All() {
		if drifts := strings.HasPrefix(p.File, "data/calendar/"); drifts && !each {
			drifting++
			continue
		}
		list.Add(p)
	}
	if drifting > 0 {
		list.Warnf(diag.Pos{File: "data/calendar"}, "ligule check --calendars lists them", "%s usually open or close on other days than the handbook that they cite prints for its place", count(drifting, "window"))
	}
}

// printReviews prints what an author works through: what is due, by when,
// where to read and whom to ask.
func printReviews(out io.Writer, reviews []law.Review, today civil.Date) {
	tw := columnsOn(out)
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
		fmt.Fprintf(tw, "%s\t%s\t%s\t%s\n", due, strings.ReplaceAll(r.What, "_", " "), where, cmp.Or(r.Law.SourceURL, r.Office))
	}
	tw.Flush()
	fmt.Fprintln(out)
}
