package bulletin

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"ligule/internal/advice"
	"ligule/internal/civil"
	"ligule/internal/law"
	"ligule/internal/message"
	"ligule/internal/watering"
	"ligule/internal/workspace"
)

// LawNotice announces that a closed season begins or ends, or that somebody has to
// look at a law.
type LawNotice struct {
	ID    string          `json:"id"` // never used again
	On    civil.Date      `json:"on"`
	Body  string          `json:"body"` // id of the jurisdiction
	Title *message.Said   `json:"title"`
	Lines []*message.Said `json:"lines"`
}

// lawNoticeDays is how far ahead it is announced that a window opens or closes,
// or that a review falls due.
const lawNoticeDays = 14

// LawNotices lists what an issue has to announce of the law.
func LawNotices(ws *workspace.Workspace, date civil.Date, zones []*Zone) []LawNotice {
	if ws.Law == nil {
		return nil
	}
	var out []LawNotice
	for _, j := range ws.Places {
		if len(ws.Law.Records(j.ID)) == 0 {
			continue
		}
		for _, t := range turns(ws, j, date) {
			out = append(out, t.notice(ws, date, zones))
		}
	}
	for _, r := range watering.Reviews(ws.Law, ws.WaterLaw, date) {
		if n, ok := reviewNotice(ws, r, date); ok {
			out = append(out, n)
		}
	}
	return out
}

// reviewNotice announces that somebody has to look at a law within two weeks, or
// should have. ok is false for what is neither near nor overdue.
func reviewNotice(ws *workspace.Workspace, r law.Review, date civil.Date) (n LawNotice, ok bool) {
	kind := "due"
	switch {
	case r.What == "not_checked" || r.Due.IsZero() || !r.Within(date, lawNoticeDays):
		return n, false
	case r.Past(date):
		kind = "past"
	}
	id, title := r.Jurisdiction, r.JurisdictionName
	if r.Law.ID != "" {
		id, title = r.Law.ID, r.Law.Called()
	}
	if r.Rule != nil {
		id += "/" + r.Rule.ID
	}
	if r.Order != "" {
		id += "/" + strings.NewReplacer("_", "-", " ", "-").Replace(r.Order)
	}
	order := message.Text(r.Order)
	if r.Stage > 0 {
		order = message.Of(message.New("lawfeed.stage").Count("n", r.Stage))
	}
	says := func(form string) message.Message {
		return message.New("lawfeed."+r.What+"_"+kind+form).Name("law", title).Name("citation", r.Citation).Name("jurisdiction", r.JurisdictionName).
			Date("date", r.Due).Date("after", r.Due+1).With("order", order).Date("checked", r.Law.CheckedOn)
	}
	n = LawNotice{
		ID: fmt.Sprintf("%s/%s/%s/%s", id, r.What, kind, r.Due), On: r.Due, Body: r.Jurisdiction,
		Title: message.Say(says("_title")), Lines: []*message.Said{message.Say(says(""))},
	}
	n.mark(r.Law.Fictional, ws.Site.Demo)
	return n, true
}

// mark says what must stand in every notice, that it is invented, if it is, and
// that it is no legal advice.
func (n *LawNotice) mark(fictional, demo bool) {
	n.Title = message.Say(invented(fictional || demo, n.Title.Message))
	if fictional && !demo { // where all is invented, the item starts by saying so
		n.Lines = append(n.Lines, say("calendar.invented"))
	}
	n.Lines = append(n.Lines, say("calendar.ask"))
}

// turn is a day on which a provision begins to close, or closes no more.
type turn struct {
	law   law.SpanLaw
	opens bool
	on    civil.Date
	asked []Asked // for whom and what
}

func (t turn) kind() string {
	if t.opens {
		return "opens"
	}
	return "closes"
}

// turns lists those of a jurisdiction's own law within two weeks after a day.
func turns(ws *workspace.Workspace, j law.Jurisdiction, date civil.Date) []turn {
	var out []turn
	place := law.Place{Name: j.Name, Chain: chain(ws, j.ID)}
	soon := func(d civil.Date) bool { return date < d && d <= date.AddDays(lawNoticeDays) }
	add := func(t turn, q Asked) {
		if !soon(t.on) || t.law.Record == nil || t.law.Rule == nil || t.law.Record.Jurisdiction != j.ID {
			return
		}
		o := advice.Gather(&out, t, func(a, b turn) bool {
			return a.law.Record == b.law.Record && a.law.Rule == b.law.Rule && a.on == b.on && a.opens == b.opens
		})
		o.asked = append(o.asked, q)
	}
	for _, nutrient := range law.Nutrients() {
		for _, actor := range []law.Actor{law.Homeowner, law.ForHire} {
			closed := func(through civil.Date) []law.Span {
				return ws.Law.ClosedSpans(place, actor, nutrient, date, through, date)
			}
			// A look ahead that is short, since few weeks bring a turn.
			if !slices.ContainsFunc(closed(date.AddDays(lawNoticeDays+1)), func(s law.Span) bool {
				return slices.ContainsFunc(s.Laws, func(l law.SpanLaw) bool { return soon(l.First) || soon(l.Last+1) })
			}) {
				continue
			}
			for _, s := range closed(date.AddDays(turnDays)) {
				for _, l := range s.Laws {
					add(turn{law: l, on: l.First}, Asked{Actor: actor, Nutrient: nutrient})
					add(turn{law: l, opens: true, on: l.Last + 1}, Asked{Actor: actor, Nutrient: nutrient})
				}
			}
		}
	}
	return out
}

// turnDays is how far ahead the end of a closing is looked for.
const turnDays = 400

func (t turn) notice(ws *workspace.Workspace, date civil.Date, zones []*Zone) LawNotice {
	r := t.law.Record
	says := func(form string) message.Message {
		return message.New("lawfeed."+form).Name("law", r.Title).Name("citation", t.law.Pinpoint()).Name("jurisdiction", r.JurisdictionName).Date("date", t.on).
			Date("first", t.law.First).Date("last", t.law.Last).Date("before", t.on-1).Date("checked", r.CheckedOn).With("what", AskedOf(t.asked))
	}
	form := t.kind()
	if !t.opens && t.law.Last >= date.AddDays(turnDays) {
		form = "closes_for_good"
	}
	n := LawNotice{
		ID: fmt.Sprintf("%s/%s/%s/%s", r.ID, t.law.Rule.ID, t.kind(), t.on), On: t.on, Body: r.Jurisdiction,
		Title: message.Say(says(t.kind() + "_title")), Lines: append([]*message.Said{message.Say(says(form))}, t.places(ws, date, zones)...),
	}
	n.mark(r.Fictional, ws.Site.Demo)
	return n
}

// maxTurnPlaces keeps a notice of a law over a whole region readable.
const maxTurnPlaces = 30

// places says what all laws together say on the day of a turn, wherever its law
// speaks: once for all who are told the same.
func (t turn) places(ws *workspace.Workspace, date civil.Date, zones []*Zone) []*message.Said {
	type told struct {
		states map[law.Verdict][]message.Message // places
		asked  []Asked
	}
	same := func(a, b []message.Message) bool { return slices.EqualFunc(a, b, message.Message.Equal) }
	var all []told
	for _, q := range t.asked {
		states := map[law.Verdict][]message.Message{}
		for _, z := range zones {
			place, ok := ws.Zone(z.ID)
			if !ok {
				continue
			}
			for _, p := range place.Places {
				if slices.Contains(ws.Law.RecordsOf(p, t.on-1, t.on), t.law.Record) {
					a := ws.Law.Ask(law.Question{Place: p, Actor: q.Actor, Date: t.on, AsOf: date, Product: law.ProductOf(q.Nutrient)})
					states[a.Verdict] = append(states[a.Verdict], message.New("lawfeed.in_zone").Name("place", p.Name).Name("zone", z.Name))
				}
			}
		}
		o := advice.Gather(&all, told{states: states}, func(a, b told) bool { return maps.EqualFunc(a.states, b.states, same) })
		o.asked = append(o.asked, q)
	}
	var out []*message.Said
	for _, o := range all {
		for verdict := law.Closed + 1; verdict > law.Open; {
			verdict--
			places := o.states[verdict]
			if len(places) == 0 {
				continue
			}
			list := message.Messages(message.Comma, places[:min(len(places), maxTurnPlaces)]...)
			if more := len(places) - maxTurnPlaces; more > 0 {
				list = message.Of(message.New("lawfeed.and_more").With("places", list).Count("more", more))
			}
			out = append(out, message.Say(message.New("lawfeed.places").Date("date", t.on).With("what", AskedOf(o.asked)).
				Word("state", "law_day."+verdict.String()).With("places", list)))
		}
	}
	return out
}
