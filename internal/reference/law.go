package reference

import (
	"ligule/internal/civil"
	"ligule/internal/law"
	"ligule/internal/message"
	"ligule/internal/watering"
	"ligule/internal/workspace"
)

// Law is a law on record, with how it is known.
type Law struct {
	ID           string        `json:"id"`
	Title        string        `json:"title"`
	Citation     string        `json:"citation"`
	URL          string        `json:"url,omitempty"` // where to read it; "" if not on file
	Body         string        `json:"body"`          // id of the jurisdiction that made it
	Jurisdiction string        `json:"jurisdiction"`  // its name
	From         civil.Date    `json:"from,omitzero"`
	To           civil.Date    `json:"to,omitzero"` // zero: no end is on record
	Check        *message.Said `json:"check"`       // how it is known, with the date
	CheckedOn    civil.Date    `json:"checked_on,omitzero"`
	NextReview   civil.Date    `json:"next_review,omitzero"`
	Standing     *message.Said `json:"standing,omitempty"` // nil in force; else what it is instead
	Review       *message.Said `json:"review,omitempty"`   // when it is to be read again, or was
	Weak         *message.Said `json:"weak,omitempty"`     // why it can close and never clears; nil if it can do both
	Stale        bool          `json:"stale,omitempty"`
	Unverified   bool          `json:"unverified,omitempty"`
	Fictional    bool          `json:"fictional,omitempty"`
	Legal        Force         `json:"legal,omitempty"`
}

// LawState is what the law says over a week, as code and words.
type LawState struct {
	ID   string        `json:"id,omitempty"` // "" where it was not asked
	Word *message.Said `json:"word,omitempty"`
}

// LawStateOf is the state of a week; without an answer nothing is cleared.
func LawStateOf(w law.PlaceWeek) LawState {
	id := w.State
	if id == "" {
		id = law.NotCleared.String()
	}
	return LawState{id, say("law_state." + id)}
}

// Mark is the verdict whose mark goes with a state; "" for none, since no mark
// says "limits apply".
func (s LawState) Mark() string {
	switch {
	case s.Closed():
		return "closed"
	case s.Unclear():
		return "wait"
	}
	return ""
}

// Closed reports whether some day of the week is closed.
func (s LawState) Closed() bool { return s.Shut() || s.ID == "closed_part" }

// Shut reports whether every day of the week is closed.
func (s LawState) Shut() bool { return s.ID == "closed_all" }

// Unclear reports whether the week is not cleared.
func (s LawState) Unclear() bool { return s.ID == law.NotCleared.String() }

// say is a phrase without slots.
func say(code string) *message.Said { return message.Say(message.New(code)) }

// value is a value by itself.
func value(v message.Value) *message.Said { return message.Say(message.Just(v)) }

// LawOf is a law on fertilizer.
func LawOf(r *law.Record, asOf civil.Date) Law {
	l := Law{
		ID: r.ID, Title: r.Title, Citation: r.Citation, URL: r.SourceURL, Body: r.Jurisdiction, Jurisdiction: r.JurisdictionName,
		From: r.EffectiveFrom, To: r.EffectiveTo, Check: message.Say(CheckOf(r)),
		CheckedOn: r.CheckedOn, NextReview: r.NextReview(), Stale: r.Stale(asOf), Unverified: r.Verification == law.UnverifiedText, Fictional: r.Fictional,
		Legal: legalForce(r, asOf),
	}
	if r.Status != law.StatusInForce {
		l.Standing = value(message.WordOr("law_status", string(r.Status)))
	}
	if over(r, asOf) {
		l.Stale, l.Unverified = false, false
		l.Review = say("law_review.none")
		return l
	}
	l.reviewed(asOf)
	return l
}

// CheckOf says how a law is known.
func CheckOf(r *law.Record) message.Message { return check(r.Verification, r.CheckedOn) }

func check(verification law.Verification, on civil.Date) message.Message {
	return message.New("law_check."+string(verification)).Date("date", on)
}

// over reports whether a record speaks no more, or not yet, and so is not read
// again: one that is only proposed, or that another has followed.
func over(r *law.Record, asOf civil.Date) bool {
	switch r.Status {
	case law.StatusProposed:
		return true
	case law.StatusSuperseded:
		return r.EffectiveTo.IsZero() || asOf > r.EffectiveTo
	case law.StatusRepealed:
		return !r.EffectiveTo.IsZero() && asOf > r.EffectiveTo
	}
	return false
}

// reviewSoonDays is how far ahead a review is called near: as far as it is
// warned of when records are checked.
const reviewSoonDays = 30

// reviewed says when a record is to be read again, and what a record that is
// past that day or that nobody has confirmed is good for.
func (l *Law) reviewed(asOf civil.Date) {
	code := "due"
	switch {
	case l.Stale:
		code = "past"
	case l.NextReview <= asOf.AddDays(reviewSoonDays):
		code = "soon"
	}
	l.Review = message.Say(message.New("law_review."+code).Date("date", l.NextReview))
	switch {
	case l.Stale && l.Unverified:
		l.Weak = say("law_weak.both")
	case l.Stale:
		l.Weak = say("law_weak.stale")
	case l.Unverified:
		l.Weak = say("law_weak.unverified")
	}
}

// WaterLawOf is a law on watering.
func WaterLawOf(ws *workspace.Workspace, r *watering.Record, asOf civil.Date) Law {
	l := Law{
		ID: r.ID, Title: r.Called(), Citation: r.Citation, URL: r.SourceURL, Body: r.Jurisdiction, Jurisdiction: jurisdictionName(ws, r.Jurisdiction),
		From: r.EffectiveFrom, To: r.EffectiveTo, Check: message.Say(check(r.Verification, r.CheckedOn)),
		CheckedOn: r.CheckedOn, NextReview: r.NextReview(), Stale: r.Stale(asOf), Unverified: r.Verification == law.UnverifiedText, Fictional: r.Fictional,
		Legal: waterForce(r, asOf),
	}
	l.reviewed(asOf)
	return l
}

// jurisdictionName is the name of a jurisdiction of the list; another id is
// printed as it stands.
func jurisdictionName(ws *workspace.Workspace, id string) string {
	if j, ok := ws.Body(id); ok {
		return j.Name
	}
	return id
}
