package main

import (
	"fmt"
	"io/fs"
	"os"
	"strings"

	"ligule/data"
	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/workspace"
)

// load reads the workspace and shows every problem. It fails if there is an
// error among them.
func load(w world, dir string, warnings bool) (*workspace.Workspace, *diag.List, error) {
	if st, err := os.Stat(dir); err != nil || !st.IsDir() {
		return nil, nil, misuse("there is no folder %s", dir)
	}
	if _, err := fs.Stat(os.DirFS(dir), "data/advisory.toml"); err != nil {
		return nil, nil, misuse("%s is not a workspace: it has no data/advisory.toml", dir)
	}
	list := new(diag.List)
	ws := workspace.Load(os.DirFS(dir), data.Phrases, list)
	if err := list.Err(); err != nil {
		show(w, list, warnings)
		return nil, list, errSaid
	}
	return ws, list, nil
}

// show prints the problems, errors and, if wanted, warnings.
func show(w world, list *diag.List, warnings bool) {
	errs, warns := 0, 0
	for _, p := range list.All() {
		if p.Severity == diag.Warning {
			warns++
			if !warnings {
				continue
			}
		} else {
			errs++
		}
		fmt.Fprintln(w.stderr, p)
	}
	switch {
	case errs > 0:
		fmt.Fprintf(w.stderr, "%s to mend; nothing was printed\n", count(errs, "mistake"))
	case warns > 0 && !warnings:
		fmt.Fprintf(w.stderr, "%s; ligule check shows them\n", count(warns, "warning"))
	}
}

// count prints how many there are of a thing, in its plural.
func count(n int, thing string) string {
	switch {
	case n == 1:
		return "1 " + thing
	case strings.HasSuffix(thing, "s"):
		return fmt.Sprintf("%d %ses", n, thing)
	}
	return fmt.Sprintf("%d %ss", n, thing)
}

// theWeek is the week asked for, or the newest that the weather supports.
func theWeek(ws *workspace.Workspace, asked string) (civil.Week, error) {
	if asked != "" {
		week, err := civil.ParseWeek(asked)
		if err != nil {
			return week, misuse("--week: %v", err)
		}
		return week, nil
	}
	week, ok := ws.DefaultWeek()
	if !ok {
		return week, fmt.Errorf("no station has any record yet; add some with ligule import, or name a week with --week")
	}
	return week, nil
}

// zoneOf finds a zone that was asked for.
func zoneOf(ws *workspace.Workspace, id string) (*workspace.Zone, error) {
	if z, ok := ws.Zone(id); ok {
		return z, nil
	}
	var ids []string
	for _, z := range ws.Zones {
		ids = append(ids, z.ID)
	}
	return nil, misuse("there is no zone %q; %s", id, diag.DidYouMean(id, ids))
}
