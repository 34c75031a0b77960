package pest

import (
	"math"
	"regexp"
	"slices"
	"strings"

	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/quantity"
)

// Report is one look at a lawn: a line of a scouting file. That somebody looked
// and found nothing is data.
type Report struct {
	Date      civil.Date
	Zone      string
	Grass     string  // id; "" is any of the zone
	Place     string  // "back lawn"; may be empty
	Finding   string  // id of a pest, or [FoundNone] or [FoundUnknown]
	Severity  string  // a word of [Severities]; "" if not told
	AreaPct   float64 // share of the lawn, %; NaN if not told
	Patches   int     // 0: not counted
	DiameterM float64 // mean diameter of the patches; NaN if not told
	Method    string  // how it was confirmed: "eye", "lab" or ""

	Confirmed     bool // by eye or laboratory
	MarginActive  bool // the patch has an active margin
	StandingWater bool
	MownDays      int        // days between mowings; 0: not told
	LookAgain     civil.Date // last day that it speaks of the present; zero: the usual one
	Mown          civil.Date // last mown; zero: not told
	Seeded        civil.Date // last seeded or overseeded; zero: not told
	Wilting       Told
	Note          string

	Line int // in its file
}

// How long a report speaks of the present, and how long from then on it asks for a
// new look. Own design.
const (
	standsDays = 21
	dueDays    = 21
)

// until is the last day that it speaks of the present.
func (r *Report) until() civil.Date {
	if r.LookAgain.IsZero() {
		return r.Date.AddDays(standsDays)
	}
	return r.LookAgain
}

// Stands reports whether it speaks of the present at the issue.
func (r *Report) Stands(issue civil.Date) bool { return r.Date < issue && issue <= r.until() }

// Due reports whether it has just grown too old to, so that somebody has to look
// again.
func (r *Report) Due(issue civil.Date) bool {
	return issue > r.until() && issue <= r.until().AddDays(dueDays)
}

// Told is what a report says of what only the one who looked can know.
type Told string

// What it may say.
const (
	NotTold Told = ""
	Yes     Told = "yes"
	No      Told = "no"
)

// youngDays is how long a lawn is young after it was seeded or overseeded.
const youngDays = 365

// Young reports whether the lawn was seeded or overseeded in the year before the
// day.
func (r *Report) Young(on civil.Date) Told {
	switch {
	case r.Seeded.IsZero():
		return NotTold
	case on < r.Seeded.AddDays(youngDays):
		return Yes
	}
	return No
}

// Young is what the last of the reports of one lawn that tells when it was seeded
// says of the day.
func Young(reports []Report, on civil.Date) Told {
	for _, r := range slices.Backward(reports) {
		if told := r.Young(on); told != NotTold {
			return told
		}
	}
	return NotTold
}

// What a report may find besides a pest.
const (
	FoundNone    = "none"    // looked, and saw nothing
	FoundUnknown = "unknown" // damage that nobody could name
)

// Severities are the words for the share of a lawn that is affected.
func Severities() []string {
	return []string{"none", "trace", "1-5", "6-10", "11-25", "26-50", "over-50"}
}

// SeverityOf returns the word for a share of the lawn, %: "none" for 0, "trace"
// below 1, and so on; "" for a share that is not known. Own design.
func SeverityOf(areaPct float64) string {
	words := Severities()
	x := quantity.Tenths(areaPct)
	switch {
	case math.IsNaN(x):
		return ""
	case areaPct <= 0:
		return words[0]
	case x < 1:
		return words[1]
	case x < 5.5:
		return words[2]
	case x < 10.5:
		return words[3]
	case x < 25.5:
		return words[4]
	case x <= 50:
		return words[5]
	}
	return words[6]
}

// ReadScouting reads a scouting file: comma-separated, with a header line and the
// columns date, zone and finding; besides, any of grass, place, severity,
// area_pct, patches, diameter_ft or diameter_m, confirmed, margin_active,
// standing_water, mown_every_days, mown, seeded, wilting, look_again and note. Every mistake goes to the list with
// its line; lines with a mistake are left out. If the file's name is a year, all
// dates have to be of it. That zones, grasses and findings exist is for the
// caller to see.
func ReadScouting(file string, text []byte, list *diag.List) []Report {
	rows := readLog(file, text, list, []string{"date", "zone", "finding"},
		[]string{"grass", "place", "severity", "area_pct", "patches", "diameter_ft", "diameter_m", "confirmed", "margin_active", "standing_water", "mown_every_days", "mown", "seeded", "wilting", "look_again", "note"})
	var out []Report
	for _, row := range rows {
		r := Report{
			Date: row.date("date"), Zone: row.id("zone", true), Grass: row.id("grass", false), Place: row.text("place"),
			Finding: row.id("finding", true), Severity: row.one("severity", Severities()...),
			AreaPct: row.number("area_pct", 0, 100), Patches: row.whole("patches", 10000),
			Method:       row.one("confirmed", "eye", "lab", "no"),
			MarginActive: row.yes("margin_active"), StandingWater: row.yes("standing_water"),
			MownDays: row.whole("mown_every_days", 365), Mown: row.before("mown"), Seeded: row.before("seeded"), Wilting: Told(row.one("wilting", string(Yes), string(No))),
			LookAgain: row.lookAgain(), Note: row.text("note"), Line: row.line,
		}
		r.DiameterM = row.either("diameter", row.number("diameter_m", 0, 100), "diameter_ft", row.number("diameter_ft", 0, 300)*quantity.MeterPerFoot)
		if r.Method == "no" {
			r.Method = ""
		}
		r.Confirmed = r.Method != ""
		row.checkReport(&r)
		if !row.bad {
			out = append(out, r)
		}
	}
	return out
}

// lookAgain reads when to look again: after the look, and before the report is
// too old.
func (row *logRow) lookAgain() civil.Date {
	const name = "look_again"
	if row.cells[name] == "" {
		return 0
	}
	again, err := civil.ParseDate(row.cells[name])
	day, _ := civil.ParseDate(row.cells["date"])
	switch {
	case err != nil:
		row.errorf(name, "write it as 2026-11-25", "%v", err)
	case !day.IsZero() && (again <= day || again > day.AddDays(standsDays)):
		row.errorf(name, "write a day after the look", "%s is not within %d days of the look", again, standsDays)
	}
	return again
}

func (row *logRow) checkReport(r *Report) {
	if of := SeverityOf(r.AreaPct); r.Severity != "" && of != "" && of != r.Severity {
		row.errorf("severity", "write "+of+" or leave it empty", "%s does not fit the area", r.Severity)
	}
	if r.Severity == "" {
		r.Severity = SeverityOf(r.AreaPct)
	}
	if r.Finding == FoundNone && (r.AreaPct > 0 || r.Severity != "" && r.Severity != "none" || r.MarginActive || r.Patches > 0) {
		row.errorf("finding", "write what was found, or leave the rest empty", "nothing was found, and yet there is damage")
	}
	if r.Finding == FoundUnknown && r.Confirmed {
		row.errorf("confirmed", "leave it empty", "what nobody could name cannot be confirmed")
	}
}

// Treatment is one pesticide treatment: a line of a treatment log.
type Treatment struct {
	Date         civil.Date
	Zone         string
	Grass        string   // id; "" is any of the zone
	Place        string   // labels count by the place; may be empty
	Target       string   // id of a pest
	Groups       []string // codes of FRAC, HRAC or IRAC, each once, in the order written
	AreaM2       float64  // treated; NaN if not told
	IntervalDays int      // of the label; 0: not told
	Note         string

	Line int // in its file
}

// ReadTreatments reads a treatment log as [ReadScouting] does: columns date,
// zone, target and groups ("11+3"; a mixture has all its groups); besides, any of
// grass, place, area_ft2 or area_m2, interval_days and note.
func ReadTreatments(file string, text []byte, list *diag.List) []Treatment {
	rows := readLog(file, text, list, []string{"date", "zone", "target", "groups"},
		[]string{"grass", "place", "area_ft2", "area_m2", "interval_days", "note"})
	var out []Treatment
	for _, row := range rows {
		t := Treatment{
			Date: row.date("date"), Zone: row.id("zone", true), Grass: row.id("grass", false), Place: row.text("place"),
			Target: row.id("target", true), IntervalDays: row.whole("interval_days", 365), Note: row.text("note"), Line: row.line,
		}
		for _, code := range strings.Split(row.cells["groups"], "+") {
			g, ok := GroupCode(code)
			if !ok {
				row.errorf("groups", `write codes as 11+3 or M05`, "%q is not the code of a group", code)
				continue
			}
			if !slices.Contains(t.Groups, g) {
				t.Groups = append(t.Groups, g)
			}
		}
		t.AreaM2 = row.either("area", row.number("area_m2", 0, 1e6), "area_ft2", row.number("area_ft2", 0, 1e7)*quantity.MeterPerFoot*quantity.MeterPerFoot)
		if !row.bad {
			out = append(out, t)
		}
	}
	return out
}

// The codes of FRAC ("11", "M05", "P07", "BM02", "NC"), IRAC ("4A", "UN") and of
// HRAC, the older letters ("K1") included.
var groupCode = regexp.MustCompile(`^(?:(M|P|U|BM)0?([0-9]{1,2})|NC|UN[A-Z]?|[1-9][0-9]?[A-F]?|[A-Z][0-9]?)$`)

// GroupCode returns the present code of a group from how labels and older lists
// write it: "33" is P07, "M5" is M05. It refuses what is no code.
func GroupCode(s string) (code string, ok bool) {
	s = strings.ToUpper(strings.TrimSpace(s))
	m := groupCode.FindStringSubmatch(s)
	switch {
	case m == nil:
		return "", false
	case s == "33":
		return "P07", true
	case m[1] != "" && len(m[2]) == 1:
		return m[1] + "0" + m[2], m[2] != "0"
	}
	return s, true
}
