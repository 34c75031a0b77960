package replay

import (
	"fmt"

	"ligule/internal/civil"
	"ligule/internal/workspace"
)

// Question says what to run again.
type Question struct {
	First, Last int               // years of ISO weeks, both inside
	Zones       []*workspace.Zone // in the order in which they are told
	Following   bool              // the days that followed are the forecast where none was on file
}

// usualYears is how many years are run unless others are named. Own design.
const usualYears = 10

// Usual returns the last ten years of which every week can be told, or as many
// as there are; ok is false where there is none.
func Usual(ws *workspace.Workspace, zones []*workspace.Zone) (first, last int, ok bool) {
	oldest, newest, ok := weeksOf(ws, zones)
	if !ok {
		return 0, 0, false
	}
	if last = newest.Year; newest.Num < civil.WeeksInYear(last) {
		last--
	}
	if first = oldest.Year; oldest.Num > 1 {
		first++
	}
	first = max(first, last-usualYears+1)
	return first, last, first <= last
}

// weeksOf returns the first week that any station of the zones has a record for,
// and the newest that the weather supports; ok is false where there is none.
func weeksOf(ws *workspace.Workspace, zones []*workspace.Zone) (oldest, newest civil.Week, ok bool) {
	newest, ok = ws.DefaultWeek()
	start, found := firstDay(ws, zones)
	if !ok || !found {
		return civil.Week{}, civil.Week{}, false
	}
	return weekAfter(ws, start), newest, true
}

// firstDay returns the first day on record at any station of the zones.
func firstDay(ws *workspace.Workspace, zones []*workspace.Zone) (start civil.Date, found bool) {
	for _, z := range zones {
		st, ok := ws.Station(z.Station)
		if !ok || st.Records == nil || st.Records.Len() == 0 {
			continue
		}
		if !found || st.Records.Start < start {
			start, found = st.Records.Start, true
		}
	}
	return start, found
}

// weekAfter returns the first week whose issue may see a record of the day.
func weekAfter(ws *workspace.Workspace, d civil.Date) civil.Week {
	w := d.Week()
	for ws.Site.IssueDate(w) <= d {
		w = w.AddWeeks(1)
	}
	return w
}

// weeks lists the weeks of the years, up to the newest that the weather
// supports and from the first that any of it supports.
func (q Question) weeks(ws *workspace.Workspace) ([]civil.Week, error) {
	oldest, newest, ok := weeksOf(ws, q.Zones)
	switch {
	case !ok:
		return nil, fmt.Errorf("no station of the zones has any record")
	case q.First > q.Last:
		return nil, fmt.Errorf("%d comes after %d", q.First, q.Last)
	case q.Last < oldest.Year || q.First > newest.Year:
		return nil, fmt.Errorf("no weather of %s is on file, only of %s", years(q.First, q.Last), years(oldest.Year, newest.Year))
	}
	from := civil.Week{Year: q.First, Num: 1}
	if from.Before(oldest) {
		from = oldest
	}
	var out []civil.Week
	for w := from; w.Year <= q.Last && !newest.Before(w); w = w.AddWeeks(1) {
		out = append(out, w)
	}
	return out, nil
}

func years(first, last int) string {
	if first == last {
		return fmt.Sprint(first)
	}
	return fmt.Sprintf("%d to %d", first, last)
}
