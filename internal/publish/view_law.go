package publish

import (
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"ligule/internal/bulletin"
	"ligule/internal/civil"
	"ligule/internal/law"
	"ligule/internal/message"
)

// lawView is the local law of a zone in one week.
type lawView struct {
	Alarm   bool     // closed or not cleared somewhere: stands above the author's note
	Shut    bool     // closed somewhere
	Part    bool     // closed at some places and not at others
	Closed  []string // closures in force this week
	Unknown []string // why a place is not cleared
	Dry     []string // places at which watering is closed all week
	Acting  []recordView
	Varies  bool // places differ for somebody
	Places  []placeView
	Next    []string
	Flags   []string
}

// placeView is the law of one place in one week.
type placeView struct {
	ID         string // of its heading
	Name       string
	Homeowner  stateView // nitrogen
	ForHire    stateView // nitrogen
	Phosphorus stateView // homeowner
	Home       reasonsView
	Hire       reasonsView
	Same       bool     // what is said to who does it at home holds for hire, word for word
	Exceptions []string // the laws that close phosphorus, each with its exceptions
	Records    []recordView
	Watering   waterView
}

// reasonsView is what the law of a place says to one person.
type reasonsView struct {
	Closed, Unknown, Conditions, Next []string
	Besides                           bool // the conditions of another, shown above, hold here too
}

// shorten leaves out the conditions that are shown of another.
func (r *reasonsView) shorten(shown reasonsView) {
	own := slices.DeleteFunc(slices.Clone(r.Conditions), func(c string) bool { return slices.Contains(shown.Conditions, c) })
	r.Besides = len(own) < len(r.Conditions)
	r.Conditions = own
}

// equal compares what is shown. Where all is closed, conditions are not.
func (r reasonsView) equal(o reasonsView, shut bool) bool {
	return slices.Equal(r.Closed, o.Closed) && slices.Equal(r.Unknown, o.Unknown) && slices.Equal(r.Next, o.Next) &&
		(shut || slices.Equal(r.Conditions, o.Conditions))
}

// stateView is what the law says over a week, as code and words.
type stateView struct{ ID, Word string }

// Mark is the verdict's mark that goes with a state; "" for none, since no mark
// says "limits apply".
func (s stateView) Mark() string {
	switch {
	case isClosed(s.ID):
		return "closed"
	case s.ID == law.NotCleared.String():
		return "wait"
	}
	return ""
}

// Shut reports whether every day of the week is closed.
func (s stateView) Shut() bool { return s.ID == "closed_all" }

// recordView is a law of the chain, as a place's page shows it.
type recordView struct {
	ID           string
	Title        string
	Citation     string
	URL          string
	Jurisdiction string
	Address      string // of its page here
	Check        string // how it is known, with the date
	CheckedOn    civil.Date
	NextReview   civil.Date
	Standing     string // "" in force; else what it is instead, in words
	Review       string // when it is to be read again, or was
	Weak         string // why it can close and never clears; "" if it can do both
	Stale        bool
	Unverified   bool
	Fictional    bool
}

func (v viewer) law(l bulletin.Law, asOf civil.Date) lawView {
	lv := lawView{
		Closed: v.texts(l.Closed), Unknown: v.texts(l.Unknown), Varies: l.Varies || differs(l.Places), Next: v.texts(l.NextChange), Flags: v.texts(l.Flags),
	}
	shut := 0
	for i, p := range l.Places {
		pv := placeView{
			ID: "place-" + strconv.Itoa(i+1), Name: p.Place.Name,
			Homeowner: v.lawState(p.Homeowner), ForHire: v.lawState(p.ForHire), Phosphorus: v.lawState(p.Phosphorus),
			Home: v.reasons(p.Home, p.Place.Name), Hire: v.reasons(p.Hire, p.Place.Name), Exceptions: v.exceptions(p.Phosphorus), Watering: v.watering(p.Watering, asOf),
		}
		pv.Same = pv.Homeowner == pv.ForHire && pv.Home.equal(pv.Hire, pv.Homeowner.Shut())
		if !pv.Homeowner.Shut() {
			pv.Hire.shorten(pv.Home)
		}
		for _, r := range p.Records {
			pv.Records = append(pv.Records, v.record(r, asOf))
		}
		if pv.Watering.State.ID == "closed_all" {
			lv.Dry = append(lv.Dry, p.Place.Name)
		}
		lv.Places = append(lv.Places, pv)
		for _, r := range acting(p) {
			if rv := v.record(r, asOf); !slices.Contains(lv.Acting, rv) {
				lv.Acting = append(lv.Acting, rv)
			}
		}
		if isClosed(p.Homeowner.State) {
			shut++
		}
		lv.Alarm = lv.Alarm || p.Homeowner.State == law.NotCleared.String()
	}
	lv.Part = 0 < shut && shut < len(l.Places)
	lv.Shut = shut > 0 || len(lv.Closed) > 0
	// A zone without any place has no law on record, which clears nothing.
	lv.Alarm = lv.Alarm || lv.Shut || len(lv.Unknown)+len(lv.Dry) > 0 || len(lv.Places) == 0
	return lv
}

// differs reports whether the places of a zone have different answers for
// anybody who is answered here.
func differs(places []bulletin.PlaceLaw) bool {
	var home, hire, phosphorus []law.PlaceWeek
	for _, p := range places {
		home, hire, phosphorus = append(home, p.Homeowner), append(hire, p.ForHire), append(phosphorus, p.Phosphorus)
	}
	return law.VariesByPlace(home) || law.VariesByPlace(hire) || law.VariesByPlace(phosphorus)
}

// reasons takes sentences that start with the place without it: they stand under
// its name.
func (v viewer) reasons(r bulletin.PlaceReasons, place string) reasonsView {
	under := func(list []message.Message) []string {
		out := v.texts(list)
		for i, t := range out {
			out[i] = underName(t, place)
		}
		return out
	}
	return reasonsView{Closed: under(r.Closed), Unknown: under(r.Unknown), Conditions: under(r.Conditions), Next: under(r.Next)}
}

// underName takes the name of a place off the front of a sentence.
func underName(text, place string) string {
	for _, name := range []string{place, upperFirst(place)} {
		if rest, ok := strings.CutPrefix(text, name+": "); ok {
			return upperFirst(rest)
		}
	}
	return text
}

func upperFirst(s string) string {
	r, size := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(r)) + s[size:]
}

// exceptions lists the laws that close something in the week, each with what
// would lift it there.
func (v viewer) exceptions(w law.PlaceWeek) []string {
	var out []string
	for _, day := range w.Days {
		for _, h := range day.Closed() {
			if h.Record == nil || h.Rule == nil {
				continue
			}
			id, facts := "law_place.closed_by", ""
			if len(h.Rule.Unless) > 0 {
				id, facts = "law_place.closed_unless", v.list("law_fact", h.Rule.Unless)
			}
			if line := v.say(id, "law", h.Record.Title, "rule", law.Pinpoint(h.Record, h.Rule), "facts", facts); !slices.Contains(out, line) {
				out = append(out, line)
			}
		}
	}
	return out
}

func isClosed(state string) bool { return state == "closed_all" || state == "closed_part" }

// lawState words a week's state; without an answer nothing is cleared.
func (v viewer) lawState(w law.PlaceWeek) stateView {
	id := w.State
	if id == "" {
		id = law.NotCleared.String()
	}
	return stateView{id, v.must("law_state", id)}
}

// acting lists the laws that close a place this week, or leave it uncleared.
func acting(p bulletin.PlaceLaw) []*law.Record {
	var out []*law.Record
	add := func(r *law.Record) {
		if r != nil && !slices.Contains(out, r) {
			out = append(out, r)
		}
	}
	for _, day := range p.Homeowner.Days {
		for _, h := range day.Closed() {
			add(h.Record)
		}
		if day.Verdict != law.NotCleared {
			continue
		}
		for _, h := range day.Hits {
			if h.Verdict == law.NotCleared {
				add(h.Record)
			}
		}
		for _, n := range day.Notices {
			add(n.Record)
		}
	}
	return out
}

func (v viewer) record(r *law.Record, asOf civil.Date) recordView {
	rv := recordView{
		ID: r.ID, Title: r.Title, Citation: r.Citation, URL: r.SourceURL, Jurisdiction: r.JurisdictionName,
		Address: "/local-rules/" + r.Jurisdiction + "/", Check: v.say("law_check."+r.Verification, "date", longDate(r.CheckedOn)),
		CheckedOn: r.CheckedOn, NextReview: r.NextReview(), Stale: r.Stale(asOf), Unverified: r.Verification == "unverified", Fictional: r.Fictional,
	}
	if r.Status != "in_force" {
		rv.Standing = v.word("law_status", r.Status)
	}
	if over(r, asOf) {
		rv.Stale, rv.Unverified = false, false
		rv.Review = v.must("law_review", "none")
		return rv
	}
	return v.reviewed(rv, asOf)
}

// over reports whether a record speaks no more, or not yet, and so is not read
// again: one that is only proposed, or that another has followed.
func over(r *law.Record, asOf civil.Date) bool {
	switch r.Status {
	case "proposed":
		return true
	case "superseded":
		return r.EffectiveTo.IsZero() || asOf > r.EffectiveTo
	case "repealed":
		return !r.EffectiveTo.IsZero() && asOf > r.EffectiveTo
	}
	return false
}

// reviewSoonDays is how far ahead a review is called near: as far as it is
// warned of when records are checked.
const reviewSoonDays = 30

// reviewed words when a record is to be read again, and what a record that is
// past that day or that nobody has confirmed is good for.
func (v viewer) reviewed(r recordView, asOf civil.Date) recordView {
	id := "due"
	switch {
	case r.Stale:
		id = "past"
	case r.NextReview <= asOf.AddDays(reviewSoonDays):
		id = "soon"
	}
	r.Review = v.say("law_review."+id, "date", longDate(r.NextReview))
	switch {
	case r.Stale && r.Unverified:
		r.Weak = v.must("law_weak", "both")
	case r.Stale:
		r.Weak = v.must("law_weak", "stale")
	case r.Unverified:
		r.Weak = v.must("law_weak", "unverified")
	}
	return r
}
