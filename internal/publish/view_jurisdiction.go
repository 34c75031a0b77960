package publish

import "ligule/internal/reference"

// jurisdictionPage is what the page of a jurisdiction gets.
type jurisdictionPage struct {
	reference.Jurisdiction
	Week        weekView
	Strip       *stripView    // the year's closed days; nil if nothing closes a day
	Legislation []legislation // for machines: the real ones among its laws
}

// ruleHead is the head of a page of local rules, which names their feed.
func (e *edition) ruleHead(crumbs ...crumb) head {
	return head{Section: "rules", Crumbs: crumbs, Feeds: []linkView{{e.must("lawfeed", "name"), lawFeedAddress}}}
}

func lawAddress(body string) string { return "/local-rules/" + body + "/" }

func (e *edition) ruleJobs() []job {
	all := said(e, reference.Jurisdictions(e.ws, e.pressed.Week, e.pressed.Date))
	jobs := []job{page("/local-rules/", "local-rules", e.ruleHead(), rulesPage{e.now.Week, e.now.Zones, all}, e.pressed.Date)}
	for _, j := range all {
		body := jurisdictionPage{j, e.now.Week, e.strip(j.Closed, e.pressed.Date), legislations(j)}
		jobs = append(jobs, page(lawAddress(j.ID), "jurisdiction", e.ruleHead(crumb{Kind: "rules", Address: "/local-rules/"}), body, e.pressed.Date))
	}
	return jobs
}
