package weather

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"ligule/internal/civil"
)

// role is what a column of a user's CSV holds.
type role uint8

const (
	roleOther role = iota
	roleDate
	roleStation
	roleValue
	roleSoilExtreme
	roleSoilAnyDepth
	roleSoilDepth
)

// heading is what the header of a column says.
type heading struct {
	role     role
	name     string // as it stands in the file
	column   Column
	unit     unit
	unitTold bool
	cover    cover
	maximum  bool
}

// aliasOf returns the column of a usual name, lower case without spaces,
// punctuation and unit.
func aliasOf(name string) (Column, bool) {
	return columnWhere(func(c Column) bool { return slices.Contains(strings.Fields(columns[c].usual), name) })
}

// unitOf returns the unit of a column that a word, lower case without
// punctuation, names.
func unitOf(c Column, word string) (unit, bool) {
	u, ok := columns[c].measure.words[word]
	return u, ok
}

// squeeze returns a name in lower case with letters and digits alone; the
// marks of percent and inch become words.
func squeeze(s string) string {
	s = strings.NewReplacer("%", "pct", `"`, "in", "²", "2", "⁻", "", "¹", "").Replace(strings.ToLower(s))
	return strings.Map(func(r rune) rune {
		if r >= 'a' && r <= 'z' || r >= '0' && r <= '9' {
			return r
		}
		return -1
	}, s)
}

// bracketed takes a unit in brackets off the end of a header.
var bracketed = regexp.MustCompile(`^(.*\S)\s*[(\[]([^()\[\]]*)[)\]]\s*$`)

// soilExtreme is the header of a daily extreme of soil temperature, such as
// soil10_sod_max_c.
var soilExtreme = regexp.MustCompile(`^soil(5|10)_([a-z_]+)_(min|max)(?:_([cf]))?$`)

// headingOf reads a header. Its error names a unit that is not known.
func headingOf(name string) (heading, error) {
	h := heading{name: name}
	if m := soilExtreme.FindStringSubmatch(strings.ToLower(name)); m != nil {
		h.role, h.column, h.maximum = roleSoilExtreme, Soil5C, m[3] == "max"
		if m[1] == "10" {
			h.column = Soil10C
		}
		for cv := range covers {
			if cv.String() == m[2] {
				h.cover = cv
			}
		}
		h.unit, h.unitTold = unitOf(h.column, m[4])
		return h, nil
	}
	base, word := squeeze(name), ""
	if m := bracketed.FindStringSubmatch(name); m != nil {
		base, word = squeeze(m[1]), squeeze(m[2])
	}
	switch base {
	case "date", "day", "datum", "valid", "time":
		h.role = roleDate
		return h, nil
	case "station", "stationid":
		h.role = roleStation
		return h, nil
	case "soiltempdepth", "soiltempdepthcm":
		h.role = roleSoilDepth
		return h, nil
	case "soiltemp", "soiltempc", "soiltempf":
		h.role, h.column = roleSoilAnyDepth, Soil10C
		if word == "" {
			word = strings.TrimPrefix(base, "soiltemp")
		}
		h.unit, h.unitTold = unitOf(h.column, word)
		return h, nil
	}
	if c, ok := aliasOf(base); ok {
		h.role, h.column = roleValue, c
		if word != "" {
			if h.unit, h.unitTold = unitOf(c, word); !h.unitTold {
				return h, fmt.Errorf("column %q: its unit is not known", name)
			}
		}
		return h, nil
	}
	if word == "" {
		for cut := len(base) - 1; cut > 0; cut-- {
			c, ok := aliasOf(base[:cut])
			if !ok {
				continue
			}
			if u, ok := unitOf(c, base[cut:]); ok {
				h.role, h.column, h.unit, h.unitTold = roleValue, c, u, true
				return h, nil
			}
		}
	}
	return h, nil
}

// headings reads the header of a user's table.
func (g *gathering) headings(t *table) ([]heading, error) {
	all := make([]heading, len(t.header))
	var taken [Columns]string
	dates, values := 0, 0
	for i, name := range t.header {
		h, err := headingOf(name)
		if err != nil {
			return nil, err
		}
		all[i] = h
		switch h.role {
		case roleDate:
			if dates++; dates > 1 {
				return nil, fmt.Errorf("column %q: the file has two columns of dates", name)
			}
		case roleValue:
			if other := taken[h.column]; other != "" {
				return nil, fmt.Errorf("the columns %q and %q both are %s", other, name, h.column.Name())
			}
			taken[h.column] = name
			values++
		case roleSoilExtreme, roleSoilAnyDepth:
			values++
		case roleOther:
			if name != "" {
				g.ignored[name] = true
			}
		}
	}
	if dates == 0 || values == 0 {
		return nil, errors.New("not a format that can be read: the first line names no column of dates, or none of weather")
	}
	return all, nil
}

// commentUnits returns the units that the file's comment or the caller
// declares.
func commentUnits(t *table, opts ImportOptions) (UnitSystem, error) {
	text, ok := t.comments["units"]
	if !ok {
		return opts.Units, nil
	}
	said, err := ParseUnitSystem(strings.ToLower(text))
	switch {
	case err != nil || said == UnitsTenths:
		return 0, fmt.Errorf("the comment \"# units: %s\" says neither us nor metric", text)
	case opts.Units != UnitsUndeclared && opts.Units != said:
		return 0, fmt.Errorf("the units declared are %s, but the file's comment says %s", opts.Units, said)
	}
	return said, nil
}

// user reads a table of a user's own making.
func (g *gathering) user(t *table, opts ImportOptions) error {
	all, err := g.headings(t)
	if err != nil {
		return err
	}
	if i := slices.IndexFunc(all, func(h heading) bool { return h.role == roleStation }); i >= 0 {
		if err := g.ofStation(t, i, opts); err != nil {
			return err
		}
	}
	if err := g.userUnits(t, all, opts); err != nil {
		return err
	}
	if text, ok := t.comments["obs_time"]; ok {
		at, err := ParseObsTime(strings.ToLower(text))
		if err != nil {
			return fmt.Errorf("the comment \"# obs_time\": %w", err)
		}
		g.obs = []ObsPeriod{{Time: at}}
	}
	dates := userDates{format: t.comments["date_format"]}
	if err := dates.check(t, all); err != nil {
		return err
	}
	for _, row := range t.rows {
		g.userRow(t, all, dates, row)
	}
	return g.crossed()
}

// userUnits sets the unit of the headings that do not tell it.
func (g *gathering) userUnits(t *table, all []heading, opts ImportOptions) error {
	units, err := commentUnits(t, opts)
	if err != nil {
		return err
	}
	var untold []string
	var e evidence
	for i := range all {
		h := &all[i]
		if h.unitTold || h.role < roleValue || h.role == roleSoilDepth || h.column.in(UnitsUS) == unitOwn {
			continue
		}
		untold = append(untold, h.name)
		h.unit = h.column.in(units)
		for _, row := range t.rows {
			if i >= len(row.fields) || h.column != TmaxC {
				continue
			}
			text, missing := t.value(row.fields[i])
			if x, err := plainNumber(text); err == nil && !missing {
				e.maximum(x, "")
			}
		}
	}
	if len(untold) == 0 {
		return nil
	}
	if err := e.check(units); err != nil {
		if units != UnitsUndeclared {
			return err
		}
		_, why := e.likely()
		return fmt.Errorf("the units of %s are not told: write them in the header, such as \"High (°F)\", or declare us or metric; %s",
			strings.Join(untold, ", "), why)
	}
	return nil
}

// value returns a field's text with a decimal point, and whether it is one of
// the many ways to write a missing value.
func (t *table) value(field string) (text string, missing bool) {
	text = strings.TrimSpace(field)
	switch strings.ToLower(text) {
	case "", "na", "n/a", "nan", "null", "m", "-", "--":
		return text, true
	}
	if t.comma != ',' && strings.Count(text, ",") == 1 && !strings.Contains(text, ".") {
		text = strings.Replace(text, ",", ".", 1)
	}
	switch strings.TrimSuffix(text, ".0") {
	case "-9999", "-999", "-999.9", "-99":
		return text, true
	}
	return text, false
}

func (g *gathering) userRow(t *table, all []heading, dates userDates, row tableRow) {
	if len(row.fields) != len(all) {
		g.drop(row.line, 0, "", "", "the line has %d fields, the header %d", len(row.fields), len(all))
		return
	}
	var d civil.Date
	depthCM := ""
	for i, h := range all {
		switch h.role {
		case roleDate:
			var err error
			if d, err = dates.parse(strings.TrimSpace(row.fields[i])); err != nil {
				g.drop(row.line, 0, h.name, row.fields[i], "%v", err)
				return
			}
			if !g.possibleDate(row.line, d) {
				return
			}
		case roleSoilDepth:
			depthCM, _ = t.value(row.fields[i])
		}
	}
	for i, h := range all {
		if h.role < roleValue || h.role == roleSoilDepth {
			continue
		}
		text, missing := t.value(row.fields[i])
		if missing {
			continue
		}
		if lower := strings.ToLower(text); (lower == "t" || lower == "trace") && (h.column == RainMM || h.column == SnowMM || h.column == SnowDepthMM) {
			text = "0"
		}
		x, err := plainNumber(text)
		if err != nil {
			g.drop(row.line, d, h.name, text, "not a number")
			continue
		}
		x = h.unit.own(x)
		switch h.role {
		case roleValue:
			g.add(d, h.column, x, row.line, h.name, text)
		case roleSoilExtreme:
			g.addSoil(d, h.column, h.cover, h.maximum, x, row.line, h.name, text)
		case roleSoilAnyDepth:
			switch cm, err := plainNumber(depthCM); {
			case err == nil && cm >= 4 && cm <= 6:
				g.add(d, Soil5C, x, row.line, h.name, text)
			case err == nil && cm >= 9 && cm <= 11:
				g.add(d, Soil10C, x, row.line, h.name, text)
			default:
				g.drop(row.line, d, h.name, text, "its depth is not 5 or 10 cm")
			}
		}
	}
}

// userDates reads dates in one of the usual forms.
type userDates struct {
	format string // as the file's comment says; "" to go by their look
}

const (
	formatISO      = "YYYY-MM-DD"
	formatUS       = "M/D/YYYY"
	formatDayFirst = "D/M/YYYY"
	formatDotted   = "D.M.YYYY"
	formatCompact  = "YYYYMMDD"
	formatOrdinal  = "YYYY-DDD"
)

// check refuses a declared form that is not known, and dates with slashes that
// only make sense with the day first: then those that make sense either way
// would be misread.
func (u *userDates) check(t *table, all []heading) error {
	formats := []string{formatISO, formatUS, formatDayFirst, formatDotted, formatCompact, formatOrdinal}
	if u.format != "" {
		if !slices.Contains(formats, u.format) {
			return fmt.Errorf("the comment \"# date_format: %s\" is none of %s", u.format, strings.Join(formats, ", "))
		}
		return nil
	}
	column := slices.IndexFunc(all, func(h heading) bool { return h.role == roleDate })
	for _, row := range t.rows {
		if column >= len(row.fields) {
			continue
		}
		text := strings.TrimSpace(row.fields[column])
		if !strings.Contains(text, "/") {
			continue
		}
		_, errUS := u.parse(text)
		if _, err := monthDayYear(text, "/", true); err == nil && errUS != nil {
			return fmt.Errorf("line %d: the date %s has its day first: say so with a comment \"# date_format: %s\" above the header", row.line, text, formatDayFirst)
		}
	}
	return nil
}

func (u *userDates) parse(s string) (civil.Date, error) {
	// A day may be written as its first instant.
	if i := strings.IndexAny(s, " T"); i > 0 && (s[i+1:] == "00:00" || s[i+1:] == "00:00:00") {
		s = s[:i]
	}
	format := u.format
	if format == "" {
		switch {
		case strings.Contains(s, "/") && strings.IndexByte(s, '/') == 4:
			s, format = strings.ReplaceAll(s, "/", "-"), formatISO
		case strings.Contains(s, "/"):
			format = formatUS
		case strings.Contains(s, "."):
			format = formatDotted
		case len(s) == 8 && s[4] == '-':
			format = formatOrdinal
		case len(s) == 8:
			format = formatCompact
		}
	}
	switch format {
	case formatUS:
		return monthDayYear(s, "/", false)
	case formatDayFirst:
		return monthDayYear(s, "/", true)
	case formatDotted:
		return monthDayYear(s, ".", true)
	case formatCompact:
		return compactDate(s)
	case formatOrdinal:
		return ordinalDate(s)
	}
	return civil.ParseDate(s)
}

// ordinalDate reads a year and the day of the year, YYYY-DDD.
func ordinalDate(s string) (civil.Date, error) {
	if len(s) != 8 || s[4] != '-' {
		return 0, fmt.Errorf("%q is not a date written as %s", s, formatOrdinal)
	}
	year, errY := strconv.ParseUint(s[:4], 10, 16)
	n, errN := strconv.ParseUint(s[5:], 10, 16)
	if errY != nil || errN != nil {
		return 0, fmt.Errorf("%q is not a date written as %s", s, formatOrdinal)
	}
	first, err := civil.NewDate(int(year), 1, 1)
	if err != nil {
		return 0, err
	}
	d := first.AddDays(int(n) - 1)
	if n < 1 || d.Year() != int(year) {
		return 0, fmt.Errorf("%q is not a date: %d has no day %d", s, year, n)
	}
	return d, nil
}
