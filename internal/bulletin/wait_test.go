package bulletin

import (
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"ligule/internal/advice"
	"ligule/internal/civil"
	"ligule/internal/pest"
	"ligule/internal/workspace"
)

// untilWhen is how a sentence says until when or for what to wait, in English: a day
// or season, something that has to come or pass, or a datum that lacks.
var untilWhen = regexp.MustCompile(`(?i)(\{window_stands|\b(until|opens|once|after|when|not before|before you|wait for|first|next seven days|next season|in (autumn|spring|September)|no forecast|we lack)\b)`)

// Every answer that is printed as waiting says until when or for what, in the weeks
// of the demonstration, with all its pests reported from a lawn that wilts and was
// treated, and without.
func TestEveryWaitSaysUntilWhen(t *testing.T) {
	ws := demo(t)
	first, step := 22, 26 // two weeks for every change, all in the full run
	if os.Getenv("EVERY_CASE") != "" {
		first, step = 1, 1
	}
	seen := map[string]bool{}
	for num := first; num <= 53; num += step {
		week := civil.Week{Year: 2026, Num: num}
		issue := ws.Site.IssueDate(week)
		reported := *ws
		reported.Reports = nil
		for _, z := range ws.Zones {
			for i, id := range ws.Pests.IDs() {
				reported.Reports = append(reported.Reports, pest.Report{Date: issue.AddDays(-2), Zone: z.ID, Place: "the back lawn", Finding: id,
					AreaPct: 20, Patches: 5, DiameterM: 2, Confirmed: true, MarginActive: true, Wilting: []pest.Told{pest.Yes, pest.No}[i%2], MownDays: 7, Line: i})
			}
		}
		for i, site := range []*workspace.Workspace{ws, &reported} {
			zones := ws.Zones
			if step > 1 {
				zones = zones[(num+i)%3*2:][:2]
			}
			for _, z := range Bare(site, week, zones).Zones {
				for _, g := range z.Grasses {
					for _, a := range g.Answers {
						drafts := append(append([]Draft{a.Draft}, a.Also...), a.Support...)
						for _, l := range a.Lawns {
							drafts = append(drafts, l.Draft)
						}
						for _, d := range drafts {
							if d.Verdict != string(advice.Wait) {
								continue
							}
							says := ws.Voice().Say(d.Say.Message)
							seen[says] = true
							assert.Regexp(t, untilWhen, says, "%s %s %s", week, z.ID, a.ID)
						}
					}
				}
			}
		}
	}
	assert.Greater(t, len(seen), 10)
	// Those that these weeks do not come to.
	for _, r := range ws.Rules {
		if r.Verdict == advice.Wait {
			assert.Regexp(t, untilWhen, r.Say, r.ID)
		}
	}
	for _, c := range ws.Conflicts {
		if c.Verdict == advice.Wait {
			assert.Regexp(t, untilWhen, c.Say, c.ID)
		}
	}
	for _, id := range ws.Phrases.IDs() {
		if strings.HasPrefix(id, "treat_until.") {
			assert.Regexp(t, untilWhen, ws.Voice().Word(id), id)
		}
	}
	for _, id := range []string{"law.not_cleared", "growth.unknown", "growth.too_slow", "storm.snow", "storm.frozen", "storm.heavy", "storm.unknown", "treatment.unreported", "heat.say", "heat.feed",
		"cold.say", "overlap.say", "overlap.seed", "overlap.seed_label", "together.lacking", "spray.say", "spray.unknown", "spray.wet"} {
		assert.Contains(t, ws.Phrases.IDs(), "gate."+id)
		assert.Regexp(t, untilWhen, ws.Voice().Word("gate."+id), id)
	}
}
