package bulletin

import (
	"slices"

	"ligule/internal/advice"
	"ligule/internal/civil"
	"ligule/internal/law"
	"ligule/internal/message"
	"ligule/internal/reference"
	"ligule/internal/workspace"
)

// closedTurn is a day on which a closed season for nitrogen begins or is over.
type closedTurn struct {
	date   civil.Date
	closes bool
	places []string
	says   message.Message
}

// WindowLaw is a sentence on what the law closes of a window.
type WindowLaw struct {
	Says *message.Said `json:"says"`
	Shut bool          `json:"shut,omitempty"` // it closes something, or is not cleared
}

// Closings are the closed seasons at the places of a zone for who does it at
// home, as the laws are known on an issue date. Each question is put to the law
// once; what the parts of an issue tell is cut from the answer.
type Closings struct {
	book    *law.Book
	places  []law.Place
	asOf    civil.Date
	unclear []bool // by place: this week, for nitrogen
	asked   map[closedQuestion][]law.Span
}

type closedQuestion struct {
	place    int
	nutrient string // N, P, "" for fertilizer with neither
}

// The years around that of an issue in which anything of it is told: a window
// that has opened last year, and one that opens next year and closes after it.
const (
	closedYearsBack  = 1
	closedYearsAhead = 2
)

// NewClosings asks nothing yet.
func NewClosings(b *law.Book, places []law.Place, l Law, asOf civil.Date) *Closings {
	c := &Closings{book: b, places: places, asOf: asOf, asked: map[closedQuestion][]law.Span{}}
	for _, p := range l.Places {
		c.unclear = append(c.unclear, p.Homeowner.Unclear())
	}
	return c
}

// seasons lists the closed seasons of a place that touch a stretch of days.
func (c *Closings) seasons(place int, nutrient string, from, to civil.Date) []law.Span {
	if c.book == nil {
		return nil
	}
	first, last := civil.MustDate(c.asOf.Year()-closedYearsBack, 1, 1), civil.MustDate(c.asOf.Year()+closedYearsAhead, 12, 31)
	if from < first || to > last {
		return c.book.ClosedSeasons(c.places[place], law.Homeowner, nutrient, from, to, c.asOf)
	}
	q := closedQuestion{place, nutrient}
	spans, ok := c.asked[q]
	if !ok {
		spans = c.book.ClosedSeasons(c.places[place], law.Homeowner, nutrient, first, last, c.asOf)
		c.asked[q] = spans
	}
	return law.Touching(spans, from, to)
}

// parts lists what the law closes, of any of what is used, in a stretch of days.
func (c *Closings) parts(uses []string, from, to civil.Date) []advice.ClosedPart {
	letters := advice.LawLetters(uses)
	for _, use := range law.Pesticides() {
		if slices.Contains(uses, use) {
			letters = append(letters, use)
		}
	}
	return advice.ClosedParts(c.places, from, to, func(i int) (seasons []law.Span) {
		for _, letter := range letters {
			if slices.Contains(law.Pesticides(), letter) && (c.book == nil || len(c.book.BarredAt(c.places[i])) == 0) {
				continue
			}
			seasons = append(seasons, c.seasons(i, letter, from, to)...)
		}
		return seasons
	})
}

// window says which part of a stretch of days the law closes to what a window
// uses. Nothing where it uses nothing that the law speaks of.
func (c *Closings) window(uses []string, from, to civil.Date) []WindowLaw {
	if to < from {
		return nil
	}
	var out []WindowLaw
	for _, p := range c.parts(uses, from, to) {
		out = append(out, WindowLaw{message.Say(p.Says()), true})
	}
	if len(advice.LawLetters(uses)) == 0 {
		return out // no law is asked for what it need not allow
	}
	if c.uncleared() {
		out = append(out, WindowLaw{say("window_law.not_cleared"), true})
	}
	if len(out) == 0 {
		out = append(out, WindowLaw{Says: say("window_law.none")})
	}
	return out
}

// ahead says what the law closes of a window that opens.
func (c *Closings) ahead(uses []string, from, to civil.Date) []*message.Said {
	var out []*message.Said
	for _, l := range c.window(uses, from, to) {
		if l.Shut {
			out = append(out, l.Says)
		}
	}
	return out
}

// uncleared reports whether the law of some place of a zone is not known well
// enough to clear anything. Of a zone without any place nothing is known.
func (c *Closings) uncleared() bool { return len(c.unclear) == 0 || slices.Contains(c.unclear, true) }

// turns lists the days of a stretch on which closed seasons for nitrogen begin or
// are over; the day of the issue is past.
func (c *Closings) turns(until civil.Date) []closedTurn {
	var turns []closedTurn
	add := func(d civil.Date, closes bool, place string) {
		if d <= c.asOf || d > until {
			return
		}
		t := advice.Gather(&turns, closedTurn{date: d, closes: closes}, func(a, b closedTurn) bool { return a.date == b.date && a.closes == b.closes })
		t.places = append(t.places, place)
	}
	for i, place := range c.places {
		for _, s := range c.seasons(i, "N", c.asOf, until) {
			add(s.First, true, place.Name)
			add(s.EndExclusive(), false, place.Name)
		}
	}
	for i, t := range turns {
		code := "ahead.law_opens"
		if t.closes {
			code = "ahead.law_closes"
		}
		turns[i].says = message.New(code).With("places", advice.Within(c.places, t.places))
	}
	return turns
}

// lanes lays out the closed seasons for nitrogen of a stretch of days, for who
// does it at home, places with the same together.
func (c *Closings) lanes(first, last civil.Date) []Lane {
	type lane struct {
		spans   []law.Span
		unclear bool
		places  []string
	}
	var lanes []lane
	for i, place := range c.places {
		l := advice.Gather(&lanes, lane{spans: c.seasons(i, "N", first, last), unclear: i < len(c.unclear) && c.unclear[i]}, func(a, b lane) bool {
			return a.unclear == b.unclear && slices.EqualFunc(a.spans, b.spans, law.Span.Equal)
		})
		l.places = append(l.places, place.Name)
	}
	var out []Lane
	for _, l := range lanes {
		var runs []Run
		var words []message.Message
		for _, r := range ClosedRuns(l.spans, first, last) {
			kind := Shut
			if r.Excepted {
				kind = Excepted
			}
			runs, words = append(runs, Run{r.First, r.Last, kind}), append(words, r.Says.Message)
		}
		bare := "law_strip.none_short"
		if l.unclear {
			bare = "law_day.not_cleared"
		}
		out = append(out, newLane(message.New("ribbon.law").With("places", advice.Within(c.places, l.places)), runs, words, message.New(bare)))
	}
	return out
}

// ClosedSeason is a closed season for nitrogen at a place, as a homeowner meets
// it, for a calendar.
type ClosedSeason struct {
	Place    string          `json:"place"`
	First    civil.Date      `json:"first"`
	Last     civil.Date      `json:"last"`
	Revised  civil.Date      `json:"revised"` // when the newest of its laws was read
	Title    *message.Said   `json:"title"`
	Lines    []*message.Said `json:"lines"`
	Category *message.Said   `json:"category"`
}

// Calendar lists the closed seasons for nitrogen that touch the year of the issue
// or the next. demo says that all is invented.
func (c *Closings) Calendar(demo bool) []ClosedSeason {
	from, to := civil.MustDate(c.asOf.Year(), 1, 1), civil.MustDate(c.asOf.Year()+1, 12, 31)
	var out []ClosedSeason
	for i, place := range c.places {
		for _, span := range c.seasons(i, "N", from, to) {
			s := ClosedSeason{Place: place.Name, First: span.First, Last: span.Last, Category: say("calendar.category")}
			madeUp := demo
			for _, l := range span.Laws {
				r := l.Record
				if l.Last < from || l.First > to {
					continue // of a closing that has gone on for longer
				}
				s.Revised, madeUp = max(s.Revised, r.CheckedOn), madeUp || r.Fictional
				check := message.List(message.Sentences, message.Of(reference.CheckOf(r)))
				if r.Stale(c.asOf) {
					check.Parts = append(check.Parts, message.Word("calendar.stale"))
				}
				s.Lines = append(s.Lines, message.Say(message.New("calendar.law").Name("law", r.Title).Name("citation", l.Pinpoint()).
					Date("first", l.First).Date("last", l.Last).With("check", check).Name("url", r.SourceURL)))
			}
			if madeUp {
				s.Lines = append(s.Lines, say("calendar.invented"))
			}
			s.Lines = append(s.Lines, say("calendar.others"), say("calendar.ask"))
			s.Title = message.Say(invented(madeUp, message.New("calendar.closed").Name("place", place.Name)))
			out = append(out, s)
		}
	}
	return out
}

// CalendarName is the name of a zone's calendar.
func CalendarName(ws *workspace.Workspace, zone string) *message.Said {
	return message.Say(invented(ws.Site.Demo, message.New("calendar.name").Name("zone", zone).Name("title", ws.Site.Title)))
}

// invented says after a title that what it names is invented, if it is.
func invented(is bool, title message.Message) message.Message {
	if !is {
		return title
	}
	return message.Just(message.List(message.Bracketed, message.Of(title), message.Word("lawfeed.invented")))
}
