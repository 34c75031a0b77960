package publish

import (
	"fmt"
	"strings"

	"ligule/internal/bulletin"
	"ligule/internal/civil"
	"ligule/internal/message"
)

// windowEvents lists the windows of a zone's grasses as events of a calendar:
// those with both ends that touch this year or open within twelve months.
//
// An event is named for zone, grass, window and year, never for its dates: it
// stays the same event when the dates that are expected of it move. What is not
// settled is tentative. Its information is revised with every issue; since a
// calendar is made from files alone, the number of the revision is that of the
// weeks since the year before its own, which never falls.
func (e *press) windowEvents(z *bulletin.Zone, date civil.Date) []calendarEvent {
	var out []calendarEvent
	address := e.Site.BaseURL + "/zones/" + z.ID + "/"
	for _, g := range z.Grasses {
		for _, w := range g.Year.Windows {
			for _, o := range w.Openings {
				lines := append(linesOf(o.Says), address)
				ev := calendarEvent{
					uid:   fmt.Sprintf("window.%s.%s.%s.%d@%s", z.ID, g.ID, w.ID, o.Year, e.Site.FeedDomain),
					first: o.First, end: o.Last + 1, revised: date,
					sequence: int(date-civil.MustDate(o.Year-1, 1, 1)) / 7,
					category: o.Category.String(), page: "year/", status: tentative,
					summary: calendarText(o.Title.String()), description: strings.Join(append(lines, linesOf(o.Reminds)...), "\n"),
				}
				if o.Settled {
					ev.status = confirmed
				}
				out = append(out, ev)
			}
		}
	}
	return out
}

// linesOf are sentences as lines of a calendar.
func linesOf(all []*message.Said) []string {
	out := make([]string, len(all))
	for i, s := range all {
		out[i] = calendarText(s.String())
	}
	return out
}
