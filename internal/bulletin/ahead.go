package bulletin

import (
	"cmp"
	"slices"

	"ligule/internal/advice"
	"ligule/internal/civil"
	"ligule/internal/message"
	"ligule/internal/season"
)

// Ahead is what opens and closes in the weeks to come.
type Ahead struct {
	Lines    []AheadLine `json:"lines,omitempty"`
	More     int         `json:"more,omitempty"`     // lines left out for want of room
	Cautions []Caution   `json:"cautions,omitempty"` // that concern what the lines speak of
}

// AheadLine is one of it: when, what, for which grasses, and what the law closes
// of it.
type AheadLine struct {
	Date    civil.Date      `json:"date"`
	When    *message.Said   `json:"when"`
	What    *message.Said   `json:"what"`
	Grasses *message.Said   `json:"grasses,omitempty"`
	Closed  []*message.Said `json:"closed,omitempty"`
	Law     bool            `json:"law,omitempty"` // it is a turn of the law itself
}

// maxAhead keeps the list to what a reader takes in at a glance.
const maxAhead = 10

// rank is what there is room for first.
type rank int

const (
	lawRank rank = iota
	windowRank
	frostRank
	soilRank
)

// aheadEntry is a line before it is known whether there is room for it.
type aheadEntry struct {
	AheadLine
	rank    rank
	uses    []string
	grasses []string
}

// ahead lists what opens or closes in the eight weeks after the issue date: the
// law, the windows of the grasses, and frosts. Where there is no room for all,
// the law stays, and then what comes first.
func (t teller) ahead(seasons []*grassSeason) Ahead {
	var all []aheadEntry
	until := t.date.AddDays(AheadDays)
	for _, turn := range t.closings.turns(until) {
		all = append(all, aheadEntry{AheadLine: AheadLine{Date: turn.date, When: just(message.YearDay(turn.date)), What: message.Say(turn.says), Law: true}})
	}
	turns := len(all)
	for i, g := range t.zone.Grasses {
		for _, w := range seasons[i].Windows {
			for _, e := range t.windowAhead(w.Reading, until) {
				if l := advice.Gather(&all, e, aheadEntry.same); !slices.Contains(l.grasses, g.Name) {
					l.grasses = append(l.grasses, g.Name)
				}
			}
		}
	}
	if t.station != nil {
		for _, e := range t.station.Events {
			if e, ok := t.eventAhead(e, until); ok {
				all = append(all, e)
			}
		}
	}
	slices.SortStableFunc(all, func(a, b aheadEntry) int { return cmp.Or(cmp.Compare(a.rank, b.rank), cmp.Compare(a.Date, b.Date)) })
	room := min(len(all), max(maxAhead, turns))
	out := Ahead{More: len(all) - room}
	all = all[:room]
	slices.SortStableFunc(all, func(a, b aheadEntry) int { return cmp.Compare(a.Date, b.Date) })
	var uses []string
	for _, e := range all {
		if len(e.grasses) > 0 {
			e.Grasses = message.Say(message.Just(message.Texts(message.Comma, e.grasses...)))
		}
		uses, out.Lines = append(uses, e.uses...), append(out.Lines, e.AheadLine)
	}
	out.Cautions = cautionsOf(t.ws, false, uses)
	return out
}

// same reports whether two lines differ in nothing but the grass.
func (e aheadEntry) same(o aheadEntry) bool {
	return e.What.Equal(o.What) && e.When.Equal(o.When) && slices.EqualFunc(e.Closed, o.Closed, (*message.Said).Equal)
}

// inReach reports whether a moment lies after the issue date and in the weeks
// ahead.
func (t teller) inReach(m season.Moment, until civil.Date) bool {
	return m.Outcome == season.Dated && m.Date > t.date && m.Date <= until
}

// windowAhead tells of a window that opens or closes in the weeks ahead. One
// that opens says so for what it uses with what the law closes of it.
func (t teller) windowAhead(r season.Reading, until civil.Date) []aheadEntry {
	if r.Phase != season.Open && r.Phase != season.Ahead {
		return nil
	}
	entry := func(code string, date civil.Date, when message.Message) aheadEntry {
		what := message.New("ahead."+code).Name("title", r.Window.Title)
		return aheadEntry{AheadLine: AheadLine{Date: date, When: message.Say(when), What: message.Say(what)}, rank: windowRank}
	}
	var out []aheadEntry
	opens, closes := r.Instance.Opens, r.Instance.Closes
	if r.Phase == season.Ahead && t.inReach(opens.When, until) {
		e := entry("opens", opens.When.Date, endMoment(opens, 0))
		e.uses = advice.Words(r.Window.Uses)
		e.Closed = t.closings.ahead(e.uses, opens.When.Date, t.lastDay(r.Instance))
		out = append(out, e)
	}
	if last := closes.When.AddDays(-1); t.inReach(last, until) {
		out = append(out, entry("closes", last.Date, endMoment(closes, -1)))
	}
	return out
}

// eventAhead tells of a frost, or of the soil passing a level, in the weeks ahead;
// what the sun does every year needs no telling.
func (t teller) eventAhead(e datedEvent, until civil.Date) (aheadEntry, bool) {
	dates, r := e.dates(), soilRank
	d := dates[len(dates)-1]
	switch d.Event.Kind {
	case season.LastFrost, season.FirstFrost:
		r = frostRank
	case season.SoilRising, season.SoilFalling:
	default:
		return aheadEntry{}, false
	}
	if !t.inReach(d.When, until) {
		return aheadEntry{}, false
	}
	when, what := moment(d.Basis, d.When, d.From, d.To), advice.Event(d.Event).Raised()
	return aheadEntry{AheadLine: AheadLine{Date: d.When.Date, When: message.Say(when), What: message.Say(what)}, rank: r}, true
}
