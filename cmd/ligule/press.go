package main

import (
	"fmt"
	"path/filepath"

	"ligule/internal/bulletin"
	"ligule/internal/civil"
	"ligule/internal/edition"
	"ligule/internal/publish"
	"ligule/internal/reference"
	"ligule/internal/workspace"
)

const pressHelp = `press [--week 2026-W48] [--out DIR] [--in DIR]

Prints the site into public/: the week, and every earlier week that has notes,
each as of its own issue date. Only files that differ are written. The week is
the newest that the weather on file supports, unless named.`

// publication is all that a press of a week prints from.
func publication(ws *workspace.Workspace, week civil.Week) *publish.Publication {
	voice := ws.Voice()
	p := &publish.Publication{Site: ws.Site, Articles: ws.Standing, Reference: reference.Of(ws, ws.Site.IssueDate(week)), Voice: voice}
	edition.Voice(p.Reference, voice)
	for _, w := range bulletin.Weeks(ws, week) {
		build := bulletin.Kept
		if w == week {
			build = bulletin.Build
		}
		p.Weeks = append(p.Weeks, edition.New(build(ws, w), voice))
	}
	return p
}

// press loads the workspace, makes the issues and prints them.
func press(w world, args []string) error {
	fs, in := flags(w, "press", pressHelp)
	asked := fs.String("week", "", "the ISO `week` to print")
	out := fs.String("out", "", "the `folder` to print into (public/ of the workspace)")
	quiet := fs.Bool("quiet", false, "say nothing when all is well")
	if err := parseAlone(fs, args); err != nil {
		return err
	}
	ws, list, err := load(w, *in, false)
	if err != nil {
		return err
	}
	week, err := theWeek(ws, *asked)
	if err != nil {
		return err
	}
	ws.LintLaw(ws.Site.IssueDate(week), list)
	show(w, list, false)
	if list.Err() != nil {
		return errSaid
	}
	files, err := templateFiles(*in)
	if err != nil {
		return err
	}
	site, err := publish.Render(publication(ws, week), files)
	if err != nil {
		return err
	}
	dir := *out
	if dir == "" {
		dir = filepath.Join(*in, "public")
	}
	report, err := publish.Write(site, dir)
	if err != nil {
		return err
	}
	if !*quiet {
		fmt.Fprintf(w.stdout, "Issue %s, %s, in %s: %d changed, %d removed, %d as they were.\n",
			week, count(len(ws.Zones), "zone"), dir, report.Written, report.Removed, report.Unchanged)
		page, err := filepath.Abs(filepath.Join(dir, "index.html"))
		if err != nil {
			return err
		}
		fmt.Fprintf(w.stdout, "Open file://%s\n", filepath.ToSlash(page))
	}
	return nil
}
