package season

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"ligule/internal/agromet"
	"ligule/internal/civil"
	"ligule/internal/turf"
)

// calibrated are the events that are calibrated, with the grass they need.
func calibrated() []struct {
	name, grass string
	event       Event
} {
	f := func(degF float64) float64 { return (degF - 32) / 1.8 }
	return []struct {
		name, grass string
		event       Event
	}{
		{"last frost, 32 °F", "zoysia", Event{Kind: LastFrost}},
		{"first frost, 32 °F", "zoysia", Event{Kind: FirstFrost}},
		{"soil at 5 cm rising, 55 °F", "zoysia", Event{Kind: SoilRising, LevelC: f(55)}},
		{"soil at 10 cm rising, 65 °F", "zoysia", Event{Kind: SoilRising, LevelC: f(65), At10cm: true}},
		{"soil at 5 cm falling, 70 °F", "zoysia", Event{Kind: SoilFalling, LevelC: f(70)}},
		{"green-up, zoysia", "zoysia", Event{Kind: GreenUp}},
		{"growth rising, 0.5, zoysia", "zoysia", Event{Kind: GrowthRising, Level: 0.5}},
		{"slowdown, zoysia", "zoysia", Event{Kind: Slowdown}},
		{"dormancy, zoysia", "zoysia", Event{Kind: Dormancy}},
		{"slowdown, tall fescue", "tall-fescue", Event{Kind: Slowdown}},
		{"970 °F degree-days", "zoysia", Event{Kind: DegreeDays, TotalC: agromet.DegreeDaysC(970), From: civil.MonthDay{Month: 1, Day: 1},
			Warmth: agromet.DegreeDays{Method: agromet.AverageMethod, BaseC: 10, UpperC: posInf}}},
	}
}

// hits counts how often the date fell into the range printed.
type hits struct{ inside, all int }

func (h hits) share() float64 { return float64(h.inside) / float64(h.all) }

// standardError is that of a binomial share.
func (h hits) standardError() float64 {
	return math.Sqrt(h.share() * (1 - h.share()) / float64(h.all))
}

func (h hits) String() string {
	if h.all == 0 {
		return "           -"
	}
	return fmt.Sprintf("%3d/%3d %3.0f±%2.0f", h.inside, h.all, 100*h.share(), 100*h.standardError())
}

func (h *hits) count(in bool) {
	h.all++
	if in {
		h.inside++
	}
}

// The printed middle 60 % against what came: at the stations with more than 30
// years, for every year (or with step > 1 each step-th), continued by every
// other year, earlier and later ones, from issues so many weeks before the usual
// date. Years in which the event had happened by then are left out, as a page
// leaves them out. No forecast is used.
func calibrate(t *testing.T, step int) (table string, total hits) {
	leads := []int{2, 4, 8}
	sites := []site{batonRouge, jackson, norfolk, newBrunswick}
	events := calibrated()
	byEvent := make([][3]hits, len(events))
	lengths := make([][3]widths, len(events))
	bySite := make([][3]hits, len(sites))
	var byLead [3]hits
	for si, s := range sites {
		f := s.felt(t)
		whole := trackOf(f)
		end := f.View.IssueDate
		src := newSource(whole, whole.days())
		lawns := map[string]*Lawn{}
		profiles := map[string]*turf.Profile{}
		for ei, c := range events {
			p := profiles[c.grass]
			if p == nil {
				p = grass(t, c.grass)
				profiles[c.grass] = p
				lawns[c.grass] = newRecord(whole, end).Lawn(p)
			}
			l := lawns[c.grass]
			usual := l.typical(c.event, end.Year()+1).Median()
			if usual.Outcome != Dated {
				continue
			}
			first, _ := c.event.Season(end.Year()+1, p)
			place := usual.Date.YearDaysSince(first)
			for year := whole.start.Year() + 1 + (ei+si)%step; year < end.Year(); year += step {
				truth := c.event.find(&whole, l.all, p, year)
				if truth.Outcome == Unknown {
					continue
				}
				first, _ := c.event.Season(year, p)
				for li, weeks := range leads {
					issue := first.AddYearDays(place).AddDays(-7 * weeks)
					r := newRecord(whole.upTo(issue), issue)
					r.addMembers(src, func(int) bool { return true })
					d := r.lawn(p, l.all.upTo(r.all.days())).Event(c.event, year)
					if d.Basis != Expected {
						continue
					}
					in := within60(d, truth)
					byEvent[ei][li].count(in)
					lengths[ei][li].count(d)
					bySite[si][li].count(in)
					byLead[li].count(in)
					total.count(in)
				}
			}
		}
	}
	var b strings.Builder
	b.WriteString("Share of years in which the event came within the middle 60 % printed: inside/all, %, ± one standard error.\n" +
		"Leave one year out; issues 2, 4, 8 weeks before the usual date; no forecast; aim 50 to 70 %.\n\n")
	line := func(name string, h [3]hits) { fmt.Fprintf(&b, "%-30s  %s   %s   %s\n", name, h[0], h[1], h[2]) }
	fmt.Fprintf(&b, "%-30s  %-14s   %-14s   %-14s\n", "", "2 weeks", "4 weeks", "8 weeks")
	for i, c := range events {
		line(c.name, byEvent[i])
	}
	b.WriteString("\n")
	for i, s := range sites {
		line(s.station.Name, bySite[i])
	}
	b.WriteString("\n")
	line("all", byLead)
	fmt.Fprintf(&b, "\nall leads together: %s %%\n", total)
	b.WriteString("\nMean length of the printed range, days, and (in brackets) of the usual range of the same issues: how much\n" +
		"narrower this year's weather so far makes it.\n\n")
	for i, c := range events {
		fmt.Fprintf(&b, "%-30s  %-14s   %-14s   %-14s\n", c.name, lengths[i][0], lengths[i][1], lengths[i][2])
	}
	return b.String(), total
}

// widths adds up the lengths of ranges that have two dates.
type widths struct{ n, printed, usual int }

func (w *widths) count(d Dating) {
	from, to := d.Typical.Middle()
	if d.From.Outcome == Dated && d.To.Outcome == Dated && from.Outcome == Dated && to.Outcome == Dated {
		w.n++
		w.printed += int(d.To.Date - d.From.Date)
		w.usual += int(to.Date - from.Date)
	}
}

func (w widths) String() string {
	if w.n == 0 {
		return "-"
	}
	return fmt.Sprintf("%4.1f (%4.1f)", float64(w.printed)/float64(w.n), float64(w.usual)/float64(w.n))
}

// within60 reports whether the truth lies in the range, both ends inside.
func within60(d Dating, truth Moment) bool {
	rank := func(m Moment) int {
		switch {
		case m.Outcome == Dated:
			return int(m.Date)
		case m.Outcome == Already || d.Event.noneIsEarly():
			return math.MinInt
		}
		return math.MaxInt
	}
	return rank(d.From) <= rank(truth) && rank(truth) <= rank(d.To)
}

// Every ninth year in an ordinary run. All of them, and the full table
// testdata/calibration.txt, with
//
//	go test ./internal/season -run Calibration -full [-update]
func TestOwnDesignCalibration(t *testing.T) {
	name, step := "calibration-sample.txt", 9
	if *full {
		name, step = "calibration.txt", 1
	}
	table, total := calibrate(t, step)
	golden(t, name, table)
	assert.GreaterOrEqual(t, total.share(), 0.5)
	assert.LessOrEqual(t, total.share(), 0.7)
}
