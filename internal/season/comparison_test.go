package season

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/civil"
)

// printedRow is what a calendar prints of a window. A span is "MM-DD..MM-DD": the
// days that a printed word such as "April" may mean. Opens and closes are spans
// in which an end of the window falls; at is one which the window must meet.
type printedRow struct {
	says    string // publication, place and what it prints
	site    *site  // a station of that place, or of a like climate
	climate string
	grass   string
	window  string
	opens   string
	closes  string
	at      string
	why     string // of an end that is off by more than 45 days
}

// Stations stand in for places: Baton Rouge for the Gulf coast, the coastal
// plain of Georgia and north Florida; Jackson, Tennessee, for the Upstate of
// South Carolina, north Georgia, Arkansas, Tennessee, Oklahoma; Norfolk for
// Virginia, the Piedmont and east of North Carolina, southern Delaware; New
// Brunswick, New Jersey, for western North Carolina, northern Delaware,
// Missouri, Kansas; Wooster, Ohio, for Indiana and Michigan.
func printedRows() []printedRow {
	br, ja, no, nb, wo := &batonRouge, &jackson, &norfolk, &newBrunswick, &wooster
	const coast, piedmont, mountains = "coast", "piedmont", "mountains"
	return []printedRow{
		{says: "NC State, bermudagrass calendar, North Carolina: first nitrogen, several weeks after full green, early April to May", site: no, climate: piedmont, grass: "bermuda", window: "feeding", opens: "04-01..05-31"},
		{says: "NC State, centipedegrass calendar, North Carolina: no nitrogen March to May", site: no, climate: piedmont, grass: "centipede", window: "feeding", opens: "06-01..06-30"},
		{says: "NC State, AG-432, zoysiagrass, North Carolina: half a pound of nitrogen three weeks after green-up, March to May", site: no, climate: piedmont, grass: "zoysia", window: "feeding", opens: "03-01..05-31"},
		{says: "Macon County 2019, western North Carolina, fescue and bluegrass: nitrogen early September and late November", site: nb, climate: mountains, grass: "tall-fescue", window: "feeding", opens: "09-01..09-10", closes: "11-20..11-30"},
		{says: "the same: mid-February", site: nb, climate: mountains, grass: "tall-fescue", window: "feeding-spring", at: "02-10..02-20"},
		{says: "the same: seed mid-August to 30 September (the state, to mid-October)", site: nb, climate: mountains, grass: "tall-fescue", window: "seeding", opens: "08-10..08-20", closes: "09-30..10-15"},
		{says: "Durham and Franklin Counties, Piedmont of North Carolina, tall fescue: no nitrogen after 15 March", site: no, climate: piedmont, grass: "tall-fescue", window: "feeding-spring", closes: "03-15..03-15"},
		{says: "Orange County, Piedmont of North Carolina, tall fescue: seed 1 September to mid-October", site: no, climate: piedmont, grass: "tall-fescue", window: "seeding", opens: "09-01..09-01", closes: "10-10..10-20"},
		{says: "the same: nitrogen mid-September", site: no, climate: piedmont, grass: "tall-fescue", window: "feeding", at: "09-10..09-20"},
		{says: "the same: core aerate in September", site: no, climate: piedmont, grass: "tall-fescue", window: "aeration", at: "09-01..09-30"},
		{says: "Clemson, bermudagrass calendar, South Carolina: green-up late April to early May", site: ja, climate: piedmont, grass: "bermuda", window: "green-up", opens: "04-20..05-10"},
		{says: "Clemson, zoysiagrass calendar, South Carolina: green-up late April to early May", site: ja, climate: piedmont, grass: "zoysia", window: "green-up", opens: "04-20..05-10"},
		{says: "Clemson, Upstate South Carolina, warm-season: nitrogen from May on", site: ja, climate: piedmont, grass: "bermuda", window: "feeding", opens: "05-01..05-31"},
		{says: "UGA, coastal Georgia and South Carolina midlands, warm-season: no nitrogen September to November", site: br, climate: coast, grass: "bermuda", window: "feeding", closes: "08-31..08-31"},
		{says: "UGA Evans County, south Georgia, bermudagrass: nitrogen late April to mid-August", site: br, climate: coast, grass: "bermuda", window: "feeding", opens: "04-20..04-30", closes: "08-10..08-20"},
		{says: "UGA Evans County, south Georgia, zoysiagrass: nitrogen late April or early May to mid-August", site: br, climate: coast, grass: "zoysia", window: "feeding", opens: "04-20..05-10", closes: "08-10..08-20"},
		{says: "UGA Appling County, south Georgia, centipedegrass: early spring, and early August", site: br, climate: coast, grass: "centipede", window: "feeding", opens: "03-01..04-15", closes: "08-01..08-10"},
		{says: "master gardeners, coastal Georgia, centipedegrass: two to three weeks after green-up, and July to August", site: br, climate: coast, grass: "centipede", window: "feeding", closes: "07-01..08-31"},
		{says: "UGA, Augusta 2012, warm-season: last nitrogen 15 September", site: ja, climate: piedmont, grass: "bermuda", window: "feeding", closes: "09-15..09-15"},
		{says: "master gardeners 2012, Cherokee County, north Georgia, tall fescue: seed best 1 to 14 October", site: ja, climate: piedmont, grass: "tall-fescue", window: "seeding", at: "10-01..10-14"},
		{says: "Virginia DCR 2003, cool-season: quick nitrogen in September, October, November", site: no, climate: piedmont, grass: "tall-fescue", window: "feeding", opens: "09-01..09-30", closes: "11-01..11-30"},
		{says: "Virginia Cooperative Extension 2004, Tidewater, tall fescue: 15 August to 15 September, October, November", site: no, climate: piedmont, grass: "tall-fescue", window: "feeding", opens: "08-15..09-15", closes: "11-01..11-30"},
		{says: "Virginia DCR, cool-season: May, none to half a pound", site: no, climate: mountains, grass: "kentucky-bluegrass", window: "feeding-spring", at: "05-01..05-31"},
		{says: "Virginia DCR, warm-season: April none to 1 lb, May to August", site: no, climate: piedmont, grass: "bermuda", window: "feeding", opens: "04-01..05-31", closes: "08-01..08-31"},
		{says: "Purdue, Indiana, cool-season: nitrogen in September and early November", site: wo, climate: mountains, grass: "kentucky-bluegrass", window: "feeding", opens: "09-01..09-30", closes: "11-01..11-10"},
		{says: "Tulsa master gardeners, Oklahoma, bermudagrass: nitrogen late April to 1 September", site: ja, climate: piedmont, grass: "bermuda", window: "feeding", opens: "04-20..04-30", closes: "09-01..09-01"},
		{says: "Texas AgriLife, Smith County, East Texas, St. Augustine: first nitrogen three weeks after green, March to May", site: br, climate: coast, grass: "st-augustine", window: "feeding", opens: "03-01..05-31"},
		{says: "LSU AgCenter, Louisiana, warm-season: first nitrogen early to mid-April, not March", site: br, climate: coast, grass: "bermuda", window: "feeding", opens: "04-01..04-20"},
		{says: "LSU AgCenter, Louisiana, centipedegrass: April and July", site: br, climate: coast, grass: "centipede", window: "feeding", opens: "04-01..04-30", closes: "07-01..07-31",
			why: "the row is two feedings of a lean grass; the window is how long feeding does no harm"},
		{says: "McCarty & Cisar 1995, ENH-73, north Florida, St. Augustine, high care: March, May, July, September", site: br, climate: coast, grass: "st-augustine", window: "feeding", opens: "03-01..03-31", closes: "09-01..09-30"},
		{says: "the same, low care: after green-up, and late summer", site: br, climate: coast, grass: "st-augustine", window: "feeding", closes: "08-15..09-22"},
		{says: "Missouri G6705, central Missouri, cool-season: nitrogen when growth slows, May", site: nb, climate: mountains, grass: "kentucky-bluegrass", window: "feeding-spring", opens: "05-01..05-31"},
		{says: "UGA Whitfield County, northwest Georgia, zoysia and centipede: May, and July or August", site: ja, climate: piedmont, grass: "zoysia", window: "feeding", opens: "05-01..05-31", closes: "07-01..08-31"},
		{says: "Tennessee, tall fescue: no nitrogen after 30 April (brown patch)", site: ja, climate: piedmont, grass: "tall-fescue", window: "feeding-spring", closes: "03-01..04-30"},
		{says: "Clemson, large patch, South Carolina upstate and midlands: last nitrogen 15 August", site: ja, climate: piedmont, grass: "zoysia", window: "feeding", closes: "08-15..08-15"},
		{says: "Clemson, large patch, South Carolina coast: last nitrogen 1 September", site: br, climate: coast, grass: "zoysia", window: "feeding", closes: "09-01..09-01"},
		{says: "NC State, centipedegrass calendar, North Carolina: dethatch late May", site: no, climate: piedmont, grass: "centipede", window: "dethatching", opens: "05-20..05-31"},

		{says: "Kent County 2009, southern Delaware: crabgrass pre-emergent 1 March to 1 April", site: no, climate: piedmont, grass: "tall-fescue", window: "pre-emergent-spring", opens: "03-01..03-01", closes: "04-01..04-01"},
		{says: "the same, northern Delaware: 15 March to 15 April", site: nb, climate: mountains, grass: "tall-fescue", window: "pre-emergent-spring", opens: "03-15..03-15", closes: "04-15..04-15"},
		{says: "University of Arkansas, south Arkansas: crabgrass pre-emergent 20 February", site: ja, climate: piedmont, grass: "zoysia", window: "pre-emergent-spring", at: "02-20..02-20"},
		{says: "the same, central Arkansas: 1 March", site: ja, climate: piedmont, grass: "zoysia", window: "pre-emergent-spring", at: "03-01..03-01"},
		{says: "the same, Arkansas: annual bluegrass pre-emergent 15 August", site: ja, climate: piedmont, grass: "zoysia", window: "pre-emergent-autumn", opens: "08-15..08-15"},
		{says: "UGA Ben Hill County 2019, north Georgia: crabgrass and goosegrass pre-emergent 1 to 20 March", site: ja, climate: piedmont, grass: "bermuda", window: "pre-emergent-spring", opens: "03-01..03-01", closes: "03-20..03-20"},
		{says: "the same, south Georgia: 15 February to 15 March", site: br, climate: coast, grass: "bermuda", window: "pre-emergent-spring", opens: "02-15..02-15", closes: "03-15..03-15"},
		{says: "UGA quoting Murphy, south Georgia: annual bluegrass pre-emergent mid-September to mid-October", site: br, climate: coast, grass: "bermuda", window: "pre-emergent-autumn", opens: "09-10..09-20", closes: "10-10..10-20"},
		{says: "K-State 2016, Kansas: crabgrass pre-emergent about 15 April", site: nb, climate: mountains, grass: "tall-fescue", window: "pre-emergent-spring", at: "04-15..04-15"},
		{says: "Missouri 2011: soil averages 50 to 55 °F, pre-emergent, first weeks of April", site: nb, climate: mountains, grass: "tall-fescue", window: "pre-emergent-spring", at: "04-01..04-14"},
		{says: "Clemson, Upstate South Carolina: pre-emergent down by 15 March", site: ja, climate: piedmont, grass: "bermuda", window: "pre-emergent-spring", at: "03-01..03-15"},
		{says: "McAfee & Baumann 2007, Texas: spring pre-emergent January to March", site: br, climate: coast, grass: "st-augustine", window: "pre-emergent-spring", opens: "01-01..01-31", closes: "03-01..03-31"},
		{says: "the same: fall pre-emergent August to September", site: br, climate: coast, grass: "st-augustine", window: "pre-emergent-autumn", opens: "08-01..08-31", closes: "09-01..09-30"},
		{says: "McCarty & Cisar 1995, ENH-73, north Florida, St. Augustine: pre-emergent in March", site: br, climate: coast, grass: "st-augustine", window: "pre-emergent-spring", at: "03-01..03-31"},
		{says: "K-State (Upham), Kansas: broadleaf weeds late October to early November", site: nb, climate: mountains, grass: "tall-fescue", window: "broadleaf-autumn", at: "10-20..11-10"},
		{says: "Purdue, northern Indiana: broadleaf weeds best by 1 November", site: wo, climate: mountains, grass: "kentucky-bluegrass", window: "broadleaf-autumn", closes: "11-01..11-01"},
		{says: "Kentucky: masked chafers done laying in the third week of July", site: ja, climate: piedmont, grass: "tall-fescue", window: "grub-prevention", closes: "07-15..07-21"},
		{says: "Michigan: Japanese beetle and European chafer lay mostly in July", site: wo, climate: mountains, grass: "kentucky-bluegrass", window: "grub-prevention", at: "07-01..07-31"},

		{says: "Clemson, Upstate South Carolina, tall fescue: brown patch from the first week of May, through summer", site: ja, climate: piedmont, grass: "tall-fescue", window: "brown-patch", opens: "05-01..05-07", closes: "08-15..09-22"},
		{says: "NC State, North Carolina, tall fescue: full outbreaks of brown patch late May to June", site: no, climate: piedmont, grass: "tall-fescue", window: "brown-patch", at: "05-20..06-30"},
		{says: "K-State Butler County, Kansas, tall fescue: brown patch worst in July and August", site: nb, climate: mountains, grass: "tall-fescue", window: "brown-patch", at: "07-01..08-31"},
		{says: "Clemson, South Carolina: large patch, treat early October, again two to four weeks later", site: ja, climate: piedmont, grass: "zoysia", window: "large-patch", opens: "10-01..10-10", closes: "10-15..11-07"},
		{says: "NC State, eastern North Carolina: large patch, about Labor Day", site: no, climate: piedmont, grass: "zoysia", window: "large-patch", opens: "09-01..09-07"},
		{says: "K-State, Kansas, zoysia: large patch, mid-September", site: nb, climate: mountains, grass: "zoysia", window: "large-patch", at: "09-10..09-20"},
		{says: "Missouri, Kentucky bluegrass: summer patch infects from mid-spring, at a soil of 65 °F", site: nb, climate: mountains, grass: "kentucky-bluegrass", window: "summer-patch", opens: "04-15..05-31"},
	}
}

// A row by row comparison of the windows of the demonstration's calendars, on
// real stations, with published calendars. No figure of a calendar was fitted to
// a single row: each kind of window has one rule.
func TestPublishedCalendarComparison(t *testing.T) {
	const year = 2017 // whose dates carry the median of the years before
	records := map[*site]*Record{}
	lawns := map[string]*Lawn{}
	type tally struct{ ends, within, sum, named, met int }
	byKind := map[WindowKind]*tally{}
	var b strings.Builder
	b.WriteString("Computed windows (median of the years on file) against published calendars.\n" +
		"Days early (-) or late (+) beside what is printed; a printed month spans all its days.\n\n")
	var all tally
	for _, row := range printedRows() {
		r := records[row.site]
		if r == nil {
			r = NewRecord(row.site.felt(t))
			records[row.site] = r
		}
		key := row.site.station.ID + " " + row.grass
		if lawns[key] == nil {
			lawns[key] = r.Lawn(grass(t, row.grass))
		}
		w, ok := demoCalendar(t, row.climate, row.grass).Window(row.window)
		require.True(t, ok, row.says)
		in := lawns[key].usual(w, year)
		opens, closes := in.Opens.When, in.Closes.When.AddDays(-1)
		require.Equal(t, Dated, opens.Outcome, row.says)
		require.Equal(t, Dated, closes.Outcome, row.says)
		require.False(t, in.Empty, row.says)
		fmt.Fprintf(&b, "%s\n    %s, %s %s: %s to %s\n", row.says, row.site.station.Name, row.climate+"/"+row.grass, row.window, opens.Date.String()[5:], closes.Date.String()[5:])
		count := func(end, span string, off int) {
			for _, x := range []*tally{&all, tallyOf(byKind, w.Kind)} {
				switch near := abs(off) <= 21; {
				case end == "at":
					x.named++
					if near {
						x.met++
					}
				default:
					x.ends++
					x.sum += abs(off)
					if near {
						x.within++
					}
				}
			}
			fmt.Fprintf(&b, "    %-7s %s: %+d days\n", end, span, off)
			if abs(off) > 45 {
				require.NotEmpty(t, row.why, "%s: %s is %+d days off; say why", row.says, end, off)
				fmt.Fprintf(&b, "            why: %s\n", row.why)
			}
		}
		for _, end := range []struct {
			name, span string
			date       civil.Date
		}{{"opens", row.opens, opens.Date}, {"closes", row.closes, closes.Date}} {
			if end.span != "" {
				from, to := span(t, end.span, year)
				count(end.name, end.span, daysOutside(end.date, from, to))
			}
		}
		if row.at != "" {
			from, to := span(t, row.at, year)
			off := 0
			switch {
			case opens.Date > to:
				off = int(opens.Date - to)
			case closes.Date < from:
				off = int(closes.Date - from)
			}
			count("at", row.at, off)
		} else if row.opens != "" && row.closes != "" {
			from, _ := span(t, row.opens, year)
			_, to := span(t, row.closes, year)
			shared := max(0, int(min(to, closes.Date)-max(from, opens.Date))+1)
			fmt.Fprintf(&b, "    overlap %d of %d printed days\n", shared, int(to-from)+1)
		}
	}
	b.WriteString("\nEnds: of windows, against the printed span of that end. Named: a printed time that falls into the\nwindow, or comes within 21 days of it.\n\n" +
		"kind of window          ends  within 21 days  mean days off   named  met\n")
	line := func(name string, x *tally) {
		off := "-"
		if x.ends > 0 {
			off = fmt.Sprintf("%.1f", float64(x.sum)/float64(x.ends))
		}
		fmt.Fprintf(&b, "%-22s  %4d  %14d  %13s   %5d  %3d\n", name, x.ends, x.within, off, x.named, x.met)
	}
	for _, k := range WindowKinds() {
		if x := byKind[WindowKind(k)]; x != nil {
			line(k, x)
		}
	}
	line("all", &all)
	golden(t, "comparison.txt", b.String())
	assert.GreaterOrEqual(t, float64(all.within)/float64(all.ends), 0.8, "ends within 21 days of print")
}

func tallyOf[K comparable, V any](m map[K]*V, k K) *V {
	if m[k] == nil {
		m[k] = new(V)
	}
	return m[k]
}

func span(t *testing.T, text string, year int) (from, to civil.Date) {
	a, b, ok := strings.Cut(text, "..")
	require.True(t, ok, text)
	first, err := civil.ParseMonthDay(a)
	require.NoError(t, err)
	last, err := civil.ParseMonthDay(b)
	require.NoError(t, err)
	return first.StartIn(year), last.EndIn(year)
}

// daysOutside is 0 within the span, negative before it.
func daysOutside(d, from, to civil.Date) int {
	switch {
	case d < from:
		return int(d - from)
	case d > to:
		return int(d - to)
	}
	return 0
}

func abs(x int) int { return max(x, -x) }

// No two rows say the same.
func TestComparisonRowsDiffer(t *testing.T) {
	var seen []string
	for _, row := range printedRows() {
		key := row.says + row.window + row.grass + row.opens + row.at
		assert.False(t, slices.Contains(seen, key), key)
		seen = append(seen, key)
	}
}
