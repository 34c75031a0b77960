package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"ligule/internal/diag"
	"ligule/internal/quantity"
	"ligule/internal/weather"
	"ligule/internal/workspace"
)

const importHelp = `import FILE… --station ID [--units us|metric] [--source-station ID]
                     [--overwrite] [--dry-run] [--in DIR]

Adds the weather of the files to the station's record. The format is recognized
by content: GHCN-Daily, the CSV files of NCEI, or a CSV of your own. Values
that cannot be are dropped with the reason. A value on file that a new file
gives differently is listed and kept, unless --overwrite is given.`

// importWeather reads files of open formats and merges them into a station's
// record.
func importWeather(w world, args []string) error {
	flagset, in := flags(w, "import", importHelp)
	station := flagset.String("station", "", "the `id` of the station in data/stations.toml")
	units := flagset.String("units", "", "the units of a file that does not tell: us or metric")
	from := flagset.String("source-station", "", "the station's `id` in a file of several stations")
	overwrite := flagset.Bool("overwrite", false, "let the files change values on record")
	dry := flagset.Bool("dry-run", false, "say what would be done, and write nothing")
	files, err := parse(flagset, args)
	if err != nil {
		return err
	}
	if len(files) == 0 {
		return misuse("name a file")
	}
	if *station == "" {
		return misuse("name a station with --station")
	}
	opts := weather.ImportOptions{StationID: *from}
	if *units != "" {
		if opts.Units, err = weather.ParseUnitSystem(*units); err != nil {
			return misuse("--units: %v", err)
		}
	}
	if err := knownStation(*in, *station); err != nil {
		return err
	}
	record := filepath.Join(*in, filepath.FromSlash(workspace.DailyFile(*station)))
	merged, err := onFile(w, record, *station)
	if err != nil {
		return err
	}
	changed, failed := false, false
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			return err
		}
		got, err := weather.Import(file, data, opts)
		if err != nil {
			fmt.Fprintln(w.stderr, err)
			failed = true
			continue
		}
		var report weather.MergeReport
		merged, report = weather.Merge(merged, got.Days, *overwrite)
		sayImport(w, file, got, report, *overwrite)
		changed = changed || report.NewDays > 0 || report.Filled > 0 || *overwrite && len(report.Conflicts) > 0
	}
	if failed {
		fmt.Fprintln(w.stderr, "nothing was written")
		return errSaid
	}
	if !changed {
		fmt.Fprintln(w.stdout, "Nothing new; the record is as it was.")
		return nil
	}
	if *dry {
		fmt.Fprintf(w.stdout, "Nothing was written; %s would hold %s to %s.\n", record, merged.Start, merged.End())
		return nil
	}
	if err := os.MkdirAll(filepath.Dir(record), 0o777); err != nil {
		return err
	}
	if err := workspace.ReplaceFile(record, func(out io.Writer) error { return weather.WriteDaily(out, merged) }); err != nil {
		return err
	}
	fmt.Fprintf(w.stdout, "%s now holds %s to %s.\n", record, merged.Start, merged.End())
	return nil
}

// knownStation makes sure of the station before anything is read: its id
// becomes the name of a folder.
func knownStation(dir, id string) error {
	if !diag.IsID(id) {
		return misuse("--station: %q is not an id: lower-case words joined by hyphens", id)
	}
	const file = "data/stations.toml"
	text, err := fs.ReadFile(os.DirFS(dir), file)
	if errors.Is(err, fs.ErrNotExist) {
		return misuse("%s is not a workspace: it has no %s", dir, file)
	}
	if err != nil {
		return err
	}
	var list diag.List
	t, ok := diag.ReadTOML(file, text, &list)
	if !ok {
		return &list
	}
	var known []string
	for _, s := range t.Tables("station") {
		known = append(known, s.OptText("id"))
		if known[len(known)-1] == id {
			return nil
		}
	}
	return misuse("there is no station %q in %s; %s", id, file, diag.DidYouMean(id, known))
}

// onFile reads the station's record; nil if it has none yet. A record with
// mistakes is not touched.
func onFile(w world, record, station string) (*weather.Series, error) {
	text, err := os.ReadFile(record)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	var list diag.List
	s := weather.ReadDaily(workspace.DailyFile(station), text, &list)
	if list.Err() != nil {
		show(w, &list, true)
		return nil, errSaid
	}
	return s, nil
}

// maxListed keeps a report on one screen.
const maxListed = 12

func sayImport(w world, file string, got weather.Imported, r weather.MergeReport, overwrite bool) {
	fmt.Fprintf(w.stdout, "%s: %s, %s to %s: %s, %s.\n", file, got.Format, got.Days.Start, got.Days.End(),
		count(r.NewDays, "new day"), count(r.Filled, "gap")+" filled")
	for _, n := range got.Notes {
		fmt.Fprintf(w.stdout, "  %s\n", n)
	}
	if len(got.Obs) > 0 {
		var times []string
		for _, o := range got.Obs {
			times = append(times, strings.TrimSpace(o.From.String()+" "+o.Time.String()))
		}
		fmt.Fprintf(w.stdout, "  The file gives the time of observation as %s: see obs_time in data/stations.toml.\n", strings.Join(times, ", "))
	}
	for _, d := range got.Dropped[:min(len(got.Dropped), maxListed)] {
		fmt.Fprintf(w.stdout, "  %s:%d: %s %s: dropped %q: %s\n", file, d.Line, d.Date, d.Field, d.Value, d.Reason)
	}
	sayMore(w, len(got.Dropped), "dropped value")
	verb := "kept"
	if overwrite {
		verb = "changed"
	}
	for _, c := range r.Conflicts[:min(len(r.Conflicts), maxListed)] {
		fmt.Fprintf(w.stdout, "  %s %s: on record %s, in the file %s: %s\n", c.Date, c.Column.Name(), quantity.Fixed(c.Old, 1), quantity.Fixed(c.New, 1), verb)
	}
	sayMore(w, len(r.Conflicts), "differing value")
}

func sayMore(w world, n int, thing string) {
	if n > maxListed {
		fmt.Fprintf(w.stdout, "  … and %s more\n", count(n-maxListed, thing))
	}
}
