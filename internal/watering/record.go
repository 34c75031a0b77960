package watering

import (
	"slices"
	"time"

	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/law"
)

// Record is one law on watering lawns: standing schedules, or stages of
// shortage that are declared, or both.
type Record struct {
	law.Header

	Force       string   // mandatory, voluntary, by_stage
	SourceWater []string // public, well, surface, reclaimed: the water it is about

	NoNumber       string // odd, even, digit:N: the group of a lot without a number
	LetterSuffix   string // ignore, digit:N: the group of a number that ends in a letter
	CalendarParity bool   // odd dates for odd numbers, even dates for even ones
	ClosedOn31st   bool

	ClosedHours          []Hours
	MaxDepthIn           *float64 // print-only
	MaxMinutesPerStation *float64 // print-only

	Schedules []Schedule
	Exempt    []Exemption
	Stages    []Stage
	Declared  []DeclaredStage

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

// Days are the weekdays of one group of lots.
type Days struct {
	Group string // odd, even, nonresidential, digit_0_1 … digit_8_9
	Days  []time.Weekday
}

// Schedule is a standing list of days.
type Schedule struct {
	ID   string
	When *When // nil = always
	Days []Days
	Pos  diag.Pos
}

// When is when a schedule is on: while the clock is, or is not, on
// daylight time, or in a part of the year.
type When struct {
	DST    bool // the kind is dst
	Active bool
	Annual law.When
}

// Stage is one stage of shortage. Stages add up: stage 3 means the rules
// of stages 1, 2 and 3.
type Stage struct {
	N              int
	Name           string
	Force          string // mandatory, voluntary
	ClosedHours    []Hours
	Days           []Days
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

// Exemption frees a way or a purpose of watering from every limit.
type Exemption struct {
	What         string        // drip, hand_held_shutoff, reclaimed, new_turf, water_in, system_test
	Stages       []int         // only while one of these is the stage; empty = at any time
	AnyDay       *law.DayRange // new_turf: days after planting
	AlternateDay *law.DayRange // new_turf: every other of these days
	MaxIn        *float64      // water_in
	WithinHours  int           // water_in
}

// Verdict is what a watering law says, from weakest to strongest.
type Verdict uint8

// The verdicts.
const (
	Open Verdict = iota
	AdvisedAgainst
	NotCleared
	Closed
)

// String returns "open", "advised_against", "not_cleared" or "closed".
func (v Verdict) String() string {
	if v > Closed {
		return "invalid"
	}
	return [...]string{"open", "advised_against", "not_cleared", "closed"}[v]
}

// Question asks whether a lot may be watered at one moment of local wall
// time.
type Question struct {
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

// Answer is a verdict with what decided it.
type Answer struct {
	Verdict Verdict
	Silent  bool   // the record is not in force, or not about this water
	Part    string // the schedule's id or "stage N"; "" = the record as a whole
	Why     string // fits, day, hour, ban, day_31, exempt, no_stage, stage_unknown, no_number, stale, unverified, expired
	Exempt  string // what is exempt
}

// Stage returns the stage of a number, nil if there is none.
func (r *Record) Stage(n int) *Stage {
	if i := slices.IndexFunc(r.Stages, func(s Stage) bool { return s.N == n }); i >= 0 {
		return &r.Stages[i]
	}
	return nil
}
