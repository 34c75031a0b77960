package law

import (
	"time"

	"ligule/internal/civil"
	"ligule/internal/diag"
)

// WaterRecord is one law on watering lawns: standing schedules, or stages of
// shortage that are declared, or both.
type WaterRecord struct {
	Schema       int
	ID           string
	Fictional    bool
	Jurisdiction string
	AppliesIn    string
	TZ           string
	Title        string
	Citation     string
	SourceURL    string

	EffectiveFrom civil.Date
	EffectiveTo   civil.Date
	Verification  string
	CheckedOn     civil.Date
	ReviewMonths  int

	Force       string   // mandatory, voluntary, by_stage
	SourceWater []string // public, well, surface, reclaimed: the water it is about

	NoNumber       string // odd, even, digit:N: the group of a lot without a number
	LetterSuffix   string // ignore, digit:N: the group of a number that ends in a letter
	CalendarParity bool   // odd dates for odd numbers, even dates for even ones
	ClosedOn31st   bool

	ClosedHours          []Hours
	MaxDepthIn           *float64 // print-only
	MaxMinutesPerStation *float64 // print-only

	Schedules []WaterSchedule
	Exempt    []WaterExemption
	Stages    []WaterStage
	Declared  []DeclaredStage
	Pos       diag.Pos

	at  map[string]diag.Pos
	loc *time.Location // of TZ; nil if it was not read from a file
}

// Hours is a span of local wall time in minutes after midnight: From is
// inside, To is not. It runs over midnight if To is not after From.
type Hours struct{ From, To int }

func (h Hours) hold(minute int) bool {
	if h.From < h.To {
		return h.From <= minute && minute < h.To
	}
	return minute >= h.From || minute < h.To
}

// WaterDays are the weekdays of one group of lots.
type WaterDays struct {
	Group string // odd, even, nonresidential, digit_0_1 … digit_8_9
	Days  []time.Weekday
}

// WaterSchedule is a standing list of days.
type WaterSchedule struct {
	ID   string
	When *WaterWhen // nil = always
	Days []WaterDays
	Pos  diag.Pos
}

// WaterWhen is when a schedule is on: while the clock is, or is not, on
// daylight time, or in a part of the year.
type WaterWhen struct {
	DST    bool // the kind is dst
	Active bool
	Annual When
}

// WaterStage is one stage of shortage. Stages add up: stage 3 means the rules
// of stages 1, 2 and 3.
type WaterStage struct {
	N              int
	Name           string
	Force          string // mandatory, voluntary
	ClosedHours    []Hours
	Days           []WaterDays
	ReplacesDaysOf []int // stages whose days these replace
	Ban            bool
	Pos            diag.Pos
}

// DeclaredStage is a stage in force for a time.
type DeclaredStage struct {
	Stage           int
	From            civil.Date
	To, AssumeUntil civil.Date // one of them
	Pos             diag.Pos
}

// WaterExemption frees a way or a purpose of watering from every limit.
type WaterExemption struct {
	What         string    // drip, hand_held_shutoff, reclaimed, new_turf, water_in, system_test
	Stages       []int     // only while one of these is the stage; empty = at any time
	AnyDay       *DayRange // new_turf: days after planting
	AlternateDay *DayRange // new_turf: every other of these days
	MaxIn        *float64  // water_in
	WithinHours  int       // water_in
}

// WaterVerdict is what a watering law says, from weakest to strongest.
type WaterVerdict uint8

// The verdicts.
const (
	WaterOpen WaterVerdict = iota
	WaterAdvisedAgainst
	WaterNotCleared
	WaterClosed
)

// String returns "open", "advised_against", "not_cleared" or "closed".
func (v WaterVerdict) String() string {
	switch v {
	case WaterOpen:
		return "open"
	case WaterAdvisedAgainst:
		return "advised_against"
	case WaterNotCleared:
		return "not_cleared"
	case WaterClosed:
		return "closed"
	}
	return "invalid"
}

// WaterQuestion asks whether a lot may be watered at one moment of local wall
// time.
type WaterQuestion struct {
	Date           civil.Date
	Minute         int        // after midnight
	AsOf           civil.Date // decides what is stale; zero = Date
	House          string     // "1427", "12B"; "" = none
	Nonresidential bool
	Method         string // drip, hand_held_shutoff, system_test; "" = sprinklers
	Source         string // public, well, surface, reclaimed; "" = public
	Planted        civil.Date
	WaterIn        *WaterIn
}

// WaterIn is the watering-in of a product that was spread before.
type WaterIn struct {
	Date    civil.Date // of the spreading
	Minute  int
	DepthIn float64
}

// WaterAnswer is a verdict with what decided it.
type WaterAnswer struct {
	Verdict WaterVerdict
	Silent  bool   // the record is not in force, or not about this water
	Part    string // the schedule's id or "stage N"; "" = the record as a whole
	Why     string // fits, day, hour, ban, day_31, exempt, no_stage, stage_unknown, no_number, stale, unverified, expired
	Exempt  string // what is exempt
}

// Called is what a watering law is called: its title, or else its citation.
func (r *WaterRecord) Called() string {
	if r.Title == "" {
		return r.Citation
	}
	return r.Title
}

// NextReview returns the last day on which the record counts as current, as
// [Record.NextReview] does.
func (r *WaterRecord) NextReview() civil.Date { return r.CheckedOn.AddMonths(r.ReviewMonths) }

// Stale reports whether the record is past its review on a day.
func (r *WaterRecord) Stale(asOf civil.Date) bool { return asOf > r.NextReview() }

// Stage returns the stage of a number, nil if there is none.
func (r *WaterRecord) Stage(n int) *WaterStage {
	for i := range r.Stages {
		if r.Stages[i].N == n {
			return &r.Stages[i]
		}
	}
	return nil
}

// place returns the position of a key of the record, or of the record itself.
func (r *WaterRecord) place(key string) diag.Pos {
	if p, ok := r.at[key]; ok {
		return p
	}
	return r.Pos
}
