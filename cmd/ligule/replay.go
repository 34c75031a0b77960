package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strconv"

	"golang.org/x/term"

	"ligule/internal/civil"
	"ligule/internal/publish"
	"ligule/internal/reference"
	"ligule/internal/replay"
	"ligule/internal/workspace"
)

const replayHelp = `replay [--years 2016-2025] [--zone ZONE] [--forecast following]
              [--csv FILE] [--page DIR] [--json] [--quiet] [--in DIR]

Runs past years again, week by week, each as of its own issue date: only with
what was recorded before it and forecasts that were on file. It tells when each
window of the calendar was said to be open and over, how often each rule's advice
fired, how many weeks the law closed, and how warnings of diseases met what
scouts found. Gates that ask the forecast hold in weeks of which none is on file,
unless the days that followed stand in for it (--forecast following). The years
are the last ten that the weather on file covers, unless named. Rules, figures
and law are those of today, law by its own dates.`

// replayYears runs past years again and prints what came of them.
func replayYears(w world, args []string) error {
	fs, in := flags(w, "replay", replayHelp)
	asked := fs.String("years", "", "the `years` to run: 2016-2025, or one")
	zone := fs.String("zone", "", "the `zone` to run (all)")
	forecast := fs.String("forecast", "", "`following`: the days that followed stand in for forecasts that were not on file")
	csvFile := fs.String("csv", "", "write a table to the `file` too")
	pageDir := fs.String("page", "", "write a page, index.html, into the `folder` too")
	asJSON := fs.Bool("json", false, "print JSON")
	quiet := fs.Bool("quiet", false, "show no progress, and no table if it goes to a file or page")
	if err := parseAlone(fs, args); err != nil {
		return err
	}
	if *forecast != "" && *forecast != replay.FollowingForecast {
		return misuse("--forecast: %q is not known; write following, or leave it out", *forecast)
	}
	first, last, err := yearsOf(*asked)
	if err != nil {
		return err
	}
	ws, _, err := load(w, *in, false)
	if err != nil {
		return err
	}
	q, err := question(ws, *zone, first, last)
	if err != nil {
		return err
	}
	q.Following = *forecast != ""
	var progress func(done, of int)
	if f, ok := w.stderr.(*os.File); ok && !*quiet && term.IsTerminal(int(f.Fd())) {
		progress = func(done, of int) { showProgress(f, done, of) }
	}
	r, err := replay.Run(ws, q, progress)
	if err != nil {
		return misuse("--years: %v", err)
	}
	if *csvFile != "" {
		if err := workspace.ReplaceFile(*csvFile, r.WriteCSV); err != nil {
			return err
		}
	}
	if *pageDir != "" {
		if err := replayPage(ws, *in, *pageDir, r); err != nil {
			return err
		}
	}
	switch {
	case *asJSON:
		return printJSON(w.stdout, r)
	case !*quiet || *csvFile == "" && *pageDir == "":
		printReplay(w.stdout, ws.Voice(), r)
	}
	return nil
}

// replayPage writes a page by itself into a folder.
func replayPage(ws *workspace.Workspace, in, dir string, r *replay.Replay) error {
	files, err := templateFiles(in)
	if err != nil {
		return err
	}
	page, err := publish.Alone(&publish.Publication{
		Site: ws.Site, Articles: ws.Standing, Voice: ws.Voice(), Reference: &reference.Reference{Pests: reference.Pests(ws, civil.MustDate(r.Last, 12, 31))},
	}, files, "replay", replay.PageOf(ws, r))
	if err != nil {
		return err
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	return workspace.ReplaceFile(filepath.Join(dir, "index.html"), func(w io.Writer) error {
		_, err := w.Write(page)
		return err
	})
}

// showProgress keeps one line of the terminal up to date, and clears it in the
// end.
func showProgress(out io.Writer, done, of int) {
	if done == of {
		fmt.Fprint(out, "\r\x1b[K")
		return
	}
	fmt.Fprintf(out, "\r%d of %d weeks\x1b[K", done, of)
}

// yearsOf reads "2016-2025" or "2016"; zeros for "".
func yearsOf(text string) (first, last int, err error) {
	if text == "" {
		return 0, 0, nil
	}
	m := regexp.MustCompile(`^([0-9]{4})(?:-([0-9]{4}))?$`).FindStringSubmatch(text)
	if m == nil {
		return 0, 0, misuse("--years: %q is neither a year nor two, such as 2016-2025", text)
	}
	if first, err = strconv.Atoi(m[1]); err != nil {
		return 0, 0, err
	}
	if last = first; m[2] != "" {
		if last, err = strconv.Atoi(m[2]); err != nil {
			return 0, 0, err
		}
	}
	if first > last {
		return 0, 0, misuse("--years: %d comes after %d", first, last)
	}
	return first, last, nil
}

// question puts together what to run.
func question(ws *workspace.Workspace, zone string, first, last int) (replay.Question, error) {
	q := replay.Question{First: first, Last: last, Zones: ws.Zones}
	if zone != "" {
		z, err := zoneOf(ws, zone)
		if err != nil {
			return q, err
		}
		q.Zones = []*workspace.Zone{z}
	}
	if first == 0 {
		var ok bool
		if q.First, q.Last, ok = replay.Usual(ws, q.Zones); !ok {
			return q, fmt.Errorf("no station has a whole year on record yet; add some with ligule import, or name years with --years")
		}
	}
	return q, nil
}
