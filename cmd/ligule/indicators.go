package main

import (
	"fmt"
	"strings"

	"ligule/internal/advice"
)

const indicatorsHelp = `indicators [--json] [--in DIR]

Lists the indicators that rules may ask about and texts may print: name, unit,
meaning, source.`

// listIndicators prints the catalogue.
func listIndicators(w world, args []string) error {
	fs, in := flags(w, "indicators", indicatorsHelp)
	asJSON := fs.Bool("json", false, "print JSON")
	if err := parseAlone(fs, args); err != nil {
		return err
	}
	ws, _, err := load(w, *in, false)
	if err != nil {
		return err
	}
	type row struct {
		Name     string   `json:"name"`
		Unit     string   `json:"unit,omitempty"`
		Words    []string `json:"words,omitempty"`
		Title    string   `json:"title"`
		Meaning  string   `json:"meaning"`
		Method   string   `json:"method"`
		Source   string   `json:"source"`
		Standing string   `json:"standing"`
	}
	var rows []row
	for _, i := range ws.Catalogue.All() {
		r := row{i.Name, "", i.Words, i.Title, i.Meaning, i.Method, i.Source, string(i.Standing)}
		if i.Kind == advice.Quantity {
			r.Unit = i.Dim.Unit()
		}
		rows = append(rows, r)
	}
	if *asJSON {
		return printJSON(w.stdout, rows)
	}
	tw := columnsOn(w.stdout)
	fmt.Fprintln(tw, "NAME\tUNIT OR WORDS\tWHAT IT IS\tSOURCE (STANDING)")
	for _, r := range rows {
		unit := r.Unit
		if len(r.Words) > 0 {
			unit = strings.Join(r.Words, ", ")
		}
		fmt.Fprintf(tw, "%s\t%s\t%s\t%s (%s)\n", r.Name, unit, r.Title, r.Source, r.Standing)
	}
	return tw.Flush()
}
