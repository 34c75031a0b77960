package bulletin

import (
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/data"
	"ligule/internal/advice"
	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/pest"
	"ligule/internal/workspace"
)

// loaded is the demonstration.
func loaded(t *testing.T) *workspace.Workspace {
	t.Helper()
	var list diag.List
	ws := workspace.Load(os.DirFS("../.."), data.Phrases, &list)
	require.NoError(t, list.Err())
	return ws
}

// spoken are the answers for the zone as a whole that tell somebody to do something.
func spoken(z *Zone) (do []string) {
	for _, g := range z.Grasses {
		for _, a := range g.Answers {
			for _, d := range append(append([]Draft{a.Draft}, a.Also...), a.Support...) {
				if d.Verdict == string(advice.Do) {
					name := a.ID + " " + d.Rule.ID
					if d.Pest != nil {
						name += " " + d.Pest.ID
					}
					do = append(do, name)
				}
			}
		}
	}
	return do
}

// Whatever is reported of one lawn and put down on it, the zone is told to do what
// it is told without: in every week of the year, with every pest of every grass
// found at a place of the zone, this season and the last, and treated at another.
func TestNoZoneActsOnOneLawn(t *testing.T) {
	ws := loaded(t)
	ws.Reports, ws.Treatments = nil, nil
	places := []string{"the mill green", "the back lawn", ""}
	lawns, step := 0, 3 // every third week for every change, all in the full run
	if os.Getenv("EVERY_CASE") != "" {
		step = 1
	}
	for num := 1; num <= 53; num += step {
		week := civil.Week{Year: 2026, Num: num}
		issue := ws.Site.IssueDate(week)
		z := ws.Zones[num/step%len(ws.Zones)]
		without := Bare(ws, week, []*workspace.Zone{z}).Zones[0]
		full := *ws
		for i, id := range ws.Pests.IDs() {
			for _, ago := range []int{365, 9, 2} {
				full.Reports = append(full.Reports, pest.Report{
					Date: issue.AddDays(-ago - i%5), Zone: z.ID, Place: places[(i+num)%len(places)], Finding: id,
					AreaPct: float64(20 - ago%10), Patches: 5, DiameterM: 2, Confirmed: true, MarginActive: true, MownDays: 7, Line: i,
				})
			}
			full.Treatments = append(full.Treatments, pest.Treatment{Date: issue.AddDays(-30 - i), Zone: z.ID, Place: "the front lawn", Target: id, Groups: []string{"11", "3", "4", "14"}})
		}
		slices.SortStableFunc(full.Reports, func(a, b pest.Report) int { return int(a.Date - b.Date) })
		slices.SortStableFunc(full.Treatments, func(a, b pest.Treatment) int { return int(a.Date - b.Date) })
		with := Bare(&full, week, []*workspace.Zone{z}).Zones[0]
		assert.Equal(t, spoken(without), spoken(with), "%s in %s", z.ID, week)
		for _, g := range with.Grasses {
			for _, a := range g.Answers {
				lawns += len(a.Lawns)
				if a.Topic == string(advice.Disease) {
					assert.NotEqual(t, string(advice.Do), a.Verdict, "%s in %s", a.ID, week)
				}
			}
		}
	}
	assert.Greater(t, lawns, 400/step, "and yet the lawns are told")
}

// A find of last autumn raises the watch of the zone as its season comes again,
// from the line of the log to the printed sentence, and says where to look first.
func TestFindOfLastYearIsPrintedInItsSeason(t *testing.T) {
	ws := loaded(t)
	gannet, ok := ws.Zone("gannet-shore")
	require.True(t, ok)
	v := ws.Voice()
	says := func(num int) (zone, lawn string) {
		z := Bare(ws, civil.Week{Year: 2026, Num: num}, []*workspace.Zone{gannet}).Zones[0]
		for _, g := range z.Grasses {
			for _, a := range g.Answers {
				if g.ID != "zoysia" || a.Topic != string(advice.Disease) {
					continue
				}
				for _, d := range append(append([]Draft{a.Draft}, a.Also...), a.Support...) {
					if d.Rule.ID == "disease-was-here" {
						zone = v.Say(d.Say.Message)
					}
				}
				for _, l := range a.Lawns {
					lawn += v.Say(l.Where.Message) + ": " + v.Say(l.Word.Message) + ". " + v.Say(l.Say.Message)
				}
			}
		}
		return zone, lawn
	}
	for num, want := range map[int]bool{24: false, 32: false, 38: true, 44: true} {
		zone, lawn := says(num)
		if !want {
			assert.Empty(t, zone, "week %d", num)
			assert.NotContains(t, lawn, "look here first", "week %d", num)
			continue
		}
		assert.Equal(t, "Large patch was found in this zone in this season before. Look for it early, where it was or where water stands.", zone, "week %d", num)
		assert.True(t, strings.HasPrefix(lawn, "At the low corner by the downspout, reported October 21, 2025: Look. Large patch was here in this season before"), "week %d: %s", num, lawn)
	}
}
