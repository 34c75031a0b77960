package main

import (
	"fmt"

	"ligule/internal/civil"
	"ligule/internal/diag"
)

const checkHelp = `check [--today 2026-11-25] [--in DIR]

Says everything that is wrong or stale in the workspace, with file and line.
Mistakes end it with exit code 1; warnings alone do not.`

// check loads the workspace and shows all problems, warnings included. It is
// the only command that looks at the calendar on the wall.
func check(w world, args []string) error {
	fs, in := flags(w, "check", checkHelp)
	asked := fs.String("today", "", "take this `date` for today")
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
	fmt.Fprintf(w.stdout, "%s, %s, %s, %s: no mistakes, %s.\n", count(len(ws.Zones), "zone"), grasses(len(ws.Grasses)),
		count(len(ws.Rules), "rule"), count(len(ws.Ordinances), "record")+" of law", count(warnings, "warning"))
	return nil
}

func grasses(n int) string {
	if n == 1 {
		return "1 grass"
	}
	return fmt.Sprintf("%d grasses", n)
}
