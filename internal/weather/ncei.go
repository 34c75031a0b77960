package weather

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"ligule/internal/civil"
)

// nceiColumn is where the value and the flags of an element stand in the
// tables of NCEI.
type nceiColumn struct {
	name       string
	at         int
	attributes int // column of "M,Q,S" or "M,Q,S,HHMM"; -1 if absent
	// Columns of the former Climate Data Online (from memory); -1 if absent.
	measurement, quality, source, time int
}

// ncei reads a table with the columns STATION and DATE, in one of three
// layouts of NCEI, told apart by how dates and values are written.
func (g *gathering) ncei(t *table, opts ImportOptions) (format string, err error) {
	date := slices.Index(t.header, "DATE")
	if err := g.ofStation(t, slices.Index(t.header, "STATION"), opts); err != nil {
		return "", err
	}
	columns := g.nceiColumns(t.header)
	units, format, err := nceiUnits(t, date, columns, opts)
	if err != nil {
		return "", err
	}
	for _, row := range t.rows {
		field := func(i int) string {
			if i < 0 || i >= len(row.fields) {
				return ""
			}
			return strings.TrimSpace(row.fields[i])
		}
		d, err := civil.ParseDate(field(date))
		if err != nil {
			d, err = compactDate(field(date))
		}
		if err != nil {
			g.drop(row.line, 0, "DATE", field(date), "%v", err)
			continue
		}
		if !g.possibleDate(row.line, d) {
			continue
		}
		if len(row.fields) != len(t.header) {
			g.drop(row.line, d, "", "", "the line has %d fields, the header %d", len(row.fields), len(t.header))
			continue
		}
		for _, c := range columns {
			text := field(c.at)
			if text == "" {
				continue
			}
			x, err := plainNumber(text)
			if err != nil {
				g.drop(row.line, d, c.name, text, "not a number")
				continue
			}
			if x == ghcndMissing {
				continue
			}
			f := flags{field(c.measurement), field(c.quality), field(c.source)}
			at := field(c.time)
			if marks := strings.Split(field(c.attributes), ","); len(marks) >= 3 {
				f = flags{marks[0], marks[1], marks[2]}
				if len(marks) > 3 {
					at = marks[3]
				}
			}
			if c.name == "TMAX" {
				g.observedAt(at)
			}
			g.archived(d, c.name, x, units, f, row.line, text)
		}
	}
	if err := g.crossed(); err != nil {
		return "", err
	}
	return format, nil
}

// nceiColumns finds the columns of elements that are kept.
func (g *gathering) nceiColumns(header []string) []nceiColumn {
	var columns []nceiColumn
	for i, name := range header {
		switch name {
		case "STATION", "DATE", "NAME", "STATION_NAME", "LATITUDE", "LONGITUDE", "ELEVATION":
			continue
		}
		lower := strings.ToLower(name)
		if strings.HasSuffix(name, "_ATTRIBUTES") || strings.HasSuffix(lower, " flag") || lower == "time of observation" || !g.isElement(name) {
			continue
		}
		c := nceiColumn{name, i, slices.Index(header, name+"_ATTRIBUTES"), -1, -1, -1, -1}
		marks := map[string]*int{
			"measurement flag": &c.measurement, "quality flag": &c.quality, "source flag": &c.source, "time of observation": &c.time,
		}
		for j := i + 1; j < len(header) && c.attributes < 0; j++ {
			at := marks[strings.ToLower(header[j])]
			if at == nil {
				break
			}
			*at = j
		}
		columns = append(columns, c)
	}
	return columns
}

// nceiUnits tells the layout and the units of a table. Archive files hold
// whole tenths, told by being padded with blanks or by dates without dashes;
// downloads of daily summaries hold what was chosen at the download, which has
// to be declared.
func nceiUnits(t *table, date int, columns []nceiColumn, opts ImportOptions) (UnitSystem, string, error) {
	var e evidence
	padded, decimals, attributes := false, false, false
	for _, c := range columns {
		if c.name != "TMAX" && c.name != "TMIN" && c.name != "PRCP" {
			continue
		}
		attributes = attributes || c.attributes >= 0
		for _, row := range t.rows {
			if c.at >= len(row.fields) {
				continue
			}
			raw := row.fields[c.at]
			text := strings.TrimSpace(raw)
			padded = padded || len(raw) >= 5 && raw[0] == ' '
			decimals = decimals || strings.Contains(text, ".")
			x, err := plainNumber(text)
			if err != nil || x == ghcndMissing {
				continue
			}
			switch c.name {
			case "TMAX":
				e.maximum(x, text)
			case "PRCP":
				e.rain(text)
			}
		}
	}
	compact := len(t.rows) > 0 && date < len(t.rows[0].fields) && !strings.Contains(t.rows[0].fields[date], "-")
	switch {
	case len(columns) == 0:
		return 0, "", errors.New("the file has none of the elements that are kept, such as TMAX, TMIN and PRCP")
	case compact && !decimals:
		return UnitsTenths, "ncei-climate-data-online", nil
	case padded && attributes && !decimals:
		return UnitsTenths, "ghcn-by-station", nil
	}
	format := "ncei-daily-summaries"
	if compact {
		format = "ncei-climate-data-online"
	}
	return opts.Units, format, e.check(opts.Units)
}

// crossed returns an error if more than one day in a hundred has its maximum
// below its minimum: then something is wrong with the file as a whole.
func (g *gathering) crossed() error {
	days, bad := 0, 0
	for k, high := range g.cells {
		if k.column != TmaxC {
			continue
		}
		if low, ok := g.cells[cellKey{k.date, TminC}]; ok {
			days++
			if high.value < low.value {
				bad++
			}
		}
	}
	if bad >= 3 && bad*100 > days {
		return fmt.Errorf("on %d of %d days the maximum is below the minimum: the units or the columns are mixed up", bad, days)
	}
	return nil
}
