package publish

import (
	"ligule/internal/bulletin"
	"ligule/internal/reference"
)

// jurisdictionPage is what the page of a jurisdiction gets.
type jurisdictionPage struct {
	bulletin.Jurisdiction
	Records  []recordView
	Watering []waterRecordView
	Week     weekView
	Strip    *stripView // the year's closed days; nil if nothing closes a day
}

// recordView is a law as it is known as of the issue, with what it says. A page
// fails on a law that the reference does not have.
type recordView struct {
	reference.Law
	*reference.LawInFull
}

type waterRecordView struct {
	reference.Law
	*reference.WaterLawInFull
}

// ruleHead is the head of a page of local rules, which names their feed.
func (e *press) ruleHead(crumbs ...crumb) head {
	return head{Section: "rules", Crumbs: crumbs, Feeds: []linkView{{e.Voice.Word("lawfeed.name"), lawFeedAddress}}}
}

func lawAddress(body string) string { return "/local-rules/" + body + "/" }

func (e *press) ruleJobs() []job {
	all := e.pressed.Jurisdictions
	jobs := []job{page("/local-rules/", "local-rules", e.ruleHead(), rulesPage{e.now.Week, e.now.Zones, all, e.pressed.Cautions}, e.pressed.Date)}
	for _, j := range all {
		body := jurisdictionPage{Jurisdiction: j, Week: e.now.Week, Strip: e.strip(j.Closed, e.pressed.Date)}
		for _, l := range j.Records {
			body.Records = append(body.Records, recordView{l, e.Reference.Laws[l.ID]})
		}
		for _, l := range j.Watering {
			body.Watering = append(body.Watering, waterRecordView{l, e.Reference.WaterLaws[l.ID]})
		}
		jobs = append(jobs, page(lawAddress(j.ID), "jurisdiction", e.ruleHead(crumb{Kind: "rules", Address: "/local-rules/"}), body, e.pressed.Date))
	}
	return jobs
}
