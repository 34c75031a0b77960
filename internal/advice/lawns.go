package advice

import (
	"cmp"
	"slices"
	"strconv"

	"ligule/internal/civil"
	"ligule/internal/message"
	"ligule/internal/pest"
)

// Lawn is what is advised for one place of the zone, by what was reported of it or
// put down on it. It stands under the zone's answer and is never that answer.
type Lawn struct {
	Place   string // as the log writes it; "" where it does not
	Date    civil.Date
	Treated bool // the date is that of the last treatment, not of the last report
	Draft   Draft
}

// lawn makes an input that of one place of the zone.
type lawn struct {
	place    string
	mownDays int     // by a report that stands; 0: not told
	pests    []*Pest // found there
}

// lawns returns the places that reports and treatments tell of, each as an input
// of its own that knows only what was found and put down there. A line without a
// place is of a lawn that no other line need be of: the last one of a pest speaks.
func (in *Input) lawns() []*Input {
	if in.lawn != nil || in.Pests == nil || in.Felt == nil {
		return nil
	}
	if in.places != nil {
		return in.places
	}
	in.places = []*Input{}
	of := map[[2]string]*Input{}
	at := func(place, id string) *Input {
		key := [2]string{place}
		if place == "" {
			key[1] = id
		}
		if of[key] == nil {
			sub := *in
			sub.lawn, sub.Reports, sub.Treatments = &lawn{place: place}, nil, nil
			sub.chosen, sub.found = nil, slices.Clone(in.pests())
			of[key] = &sub
			in.places = append(in.places, &sub)
		}
		return of[key]
	}
	for _, r := range in.Reports {
		if !in.mine(r.Grass) || r.Date >= in.IssueDate {
			continue
		}
		if r.Place == "" && (r.Finding == pest.FoundNone || r.Finding == pest.FoundUnknown) {
			continue
		}
		sub := at(r.Place, r.Finding)
		if r.Place == "" {
			sub.Reports = nil
		}
		sub.Reports = append(sub.Reports, r)
		if r.Stands(in.IssueDate) && r.MownDays > 0 {
			sub.lawn.mownDays = r.MownDays
		}
	}
	for _, t := range in.Treatments {
		if in.mine(t.Grass) && t.Date < in.IssueDate {
			sub := at(t.Place, t.Target)
			sub.Treatments = append(sub.Treatments, t)
		}
	}
	for _, sub := range in.places {
		sub.findings()
	}
	for _, p := range in.found {
		if len(p.Lawns) > 0 {
			p.Looked = in.reports(p)
		}
	}
	slices.SortStableFunc(in.places, func(a, b *Input) int { return -cmp.Compare(a.lastLook(), b.lastLook()) })
	return in.places
}

// findings judges the pests that were found at the place, as far as that still
// counts.
func (in *Input) findings() {
	look := in.look()
	for i, zone := range in.found {
		log := look.Log(zone.ID())
		last, _ := log.Standing(in.IssueDate)
		ever := zone.Kind == Disease && zone.Disease.Apart() && log.Ever(in.IssueDate)
		found := last != nil || ever || log.Due(in.IssueDate) || log.History(in.IssueDate) || log.Recorded(in.IssueDate)
		if !found && log.Wet(in.IssueDate) == nil {
			continue
		}
		p := *zone
		p.Found, p.Last = p.assess(look), log.Last()
		if !found {
			if p.Found.Wet {
				p.Last = log.Wet(in.IssueDate)
				in.found[i], in.lawn.pests = &p, append(in.lawn.pests, &p)
			}
			continue
		}
		if p.Kind == Disease {
			in.decide(&p)
		}
		in.found[i], in.lawn.pests = &p, append(in.lawn.pests, &p)
		zone.Lawns = append(zone.Lawns, &p)
	}
}

// look is what the pests are judged by.
func (in *Input) look() *pest.Input {
	return &pest.Input{
		Felt: in.Felt, Daily: in.Daily, Grass: in.Grass, Issue: in.IssueDate,
		Reports: in.Reports, Treatments: in.log(), Lawn: in.lawn != nil, Forecasts: in.Forecasts,
		Station: in.Station, YoungStand: in.young() == pest.Yes,
	}
}

// young is whether the lawn that is advised was seeded within a year; of a zone
// nobody can tell.
func (in *Input) young() pest.Told {
	if in.lawn == nil {
		return pest.NotTold
	}
	return pest.Young(in.Reports, in.IssueDate)
}

// stoodWet is the last look at which water stood while the grass grew; nil without any.
func (in *Input) stoodWet() *pest.Report {
	log := in.look().Log("")
	return log.Wet(in.IssueDate)
}

// log is what was put down on the lawn that is advised: for a zone nobody knows.
func (in *Input) log() []pest.Treatment {
	if in.lawn == nil {
		return nil
	}
	return in.Treatments
}

// lastLook is the day of the last report of the place, or the zero Date.
func (in *Input) lastLook() civil.Date {
	if n := len(in.Reports); n > 0 {
		return in.Reports[n-1].Date
	}
	return 0
}

// Whom a rule of pests speaks for, besides the zone as a whole.
const (
	alsoLawns = "also" // and each lawn where the pest was found
	onlyLawns = "only" // those alone, and not the zone
)

// asks lists of which pests a rule is asked; one that speaks of none is asked once of
// each lawn.
func (in *Input) asks(r *Rule) []*Pest {
	switch {
	case r.Each == "" && in.lawn != nil:
		return []*Pest{nil}
	case in.lawn == nil && r.Lawns != onlyLawns:
		return in.pests()
	case in.lawn != nil && r.Lawns != "":
		return in.lawn.pests
	}
	return nil
}

// under puts under a zone's answer what is advised for single lawns: of what the
// rules propose the heaviest for each lawn and pest, unless the zone is told the
// same; and of what the zone is told to do, what the log of a lawn makes of that.
// proposed are those of the lawns, heaviest first.
func (in *Input) under(a *Answer, proposed []candidate) {
	spoken := append([]Draft{a.Lead}, a.Support...)
	for _, sub := range in.lawns() {
		var said []string // ids of pests, "" for none
		add := func(d Draft, date civil.Date, treated bool) {
			a.Lawns = append(a.Lawns, Lawn{sub.lawn.place, date, treated, d})
		}
		for _, c := range proposed {
			id, last := "", sub.stoodWet()
			if p := c.draft.Pest; p != nil {
				id, last = p.ID(), p.Last
			}
			if c.lawn != sub || slices.Contains(said, id) {
				continue
			}
			said = append(said, id)
			if c.draft.Verdict == Do && slices.Contains(c.draft.Uses, Nitrogen) {
				c.draft.Conditions = append(sub.amounts(c.draft.Rule), c.draft.Conditions...)
			}
			if !slices.ContainsFunc(spoken, func(d Draft) bool {
				return d.Pest != nil && d.Pest.ID() == id && d.Verdict == c.draft.Verdict && d.Rule == c.draft.Rule
			}) {
				add(c.draft, last.Date, false)
			}
		}
		for _, d := range spoken {
			if d.Verdict != Do || len(sub.Treatments) == 0 || d.Pest != nil && slices.Contains(said, d.Pest.ID()) {
				continue
			}
			last := sub.Treatments[len(sub.Treatments)-1].Date
			g, own := sub.pass(d)
			if g != nil {
				add(d.held(g), last, true)
				continue
			}
			_, common := in.pass(d)
			own = slices.DeleteFunc(own, func(m message.Message) bool { return message.Contains(common, m) })
			if len(own) > 0 {
				d.Say, d.Conditions = message.New("lawn.own"), own
				add(d, last, true)
			}
		}
	}
}

// held is a draft that a gate has stopped, as the gate's answer.
func (d Draft) held(by *gated) Draft {
	d.Gate, d.Verdict, d.Say, d.Why, d.Reasons, d.Conditions = by.gate, by.verdict, by.say, message.Message{}, by.reasons, nil
	return d
}

// reports says how many looked at lawns of the grass and how many found a pest,
// in the seven days before the issue and in the seven before those.
func (in *Input) reports(p *Pest) message.Message {
	out, lately := message.New("reports.weeks"), false
	for i, slot := range []string{"now", "before"} {
		to := in.IssueDate.AddDays(-pest.WeekDays * i)
		looks, found := map[string]bool{}, 0 // whether it was found
		for n, r := range in.Reports {
			if in.mine(r.Grass) && r.Date >= to.AddDays(-pest.WeekDays) && r.Date < to {
				// Who named no place may have looked anywhere.
				look := cmp.Or(r.Place, strconv.Itoa(n)) + r.Date.String()
				looks[look] = looks[look] || r.Finding == p.ID()
			}
		}
		for _, yes := range looks {
			if yes {
				found++
			}
		}
		id := "reports.nobody"
		if len(looks) > 0 {
			id, lately = "reports.looked", true
		}
		out = out.Said(slot, message.New(id).Count("looked", len(looks)).Count("found", found))
	}
	if !lately {
		return message.New("reports.none")
	}
	return out
}
