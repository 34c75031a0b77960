package bulletin

import (
	"slices"

	"ligule/internal/agromet"
	"ligule/internal/civil"
	"ligule/internal/message"
	"ligule/internal/quantity"
	"ligule/internal/spray"
)

// Spray lists the hours fit for spraying, day by day.
type Spray struct {
	Missing *message.Said `json:"missing,omitempty"` // why there are no days; nil if there are
	Caption *message.Said `json:"caption,omitempty"`
	Days    []SprayDay    `json:"days,omitempty"`
	Label   *message.Said `json:"label,omitempty"` // what the hours do not allow
}

// SprayDay is one day ahead.
type SprayDay struct {
	Date  civil.Date  `json:"date"`
	Parts []SprayPart `json:"parts"`
	// What differs for herbicides of HRAC group 4, which are lost as vapor in
	// heat; nil if nothing does.
	Group4 *message.Said `json:"group4,omitempty"`
}

// SprayPart is a stretch of hours, or why there is none.
type SprayPart struct {
	Text *message.Said `json:"text"`
	Good bool          `json:"good,omitempty"`
}

// sprayRainfastH (common practice, no source) is how many dry hours a spray is
// graded for. The page says so.
const sprayRainfastH = 4

// sprayHours grades the hours ahead for a spray whose label is silent, at a place
// so many meters above the sea. The days ahead are those that any forecast tells
// about.
func sprayHours(hours []spray.Hour, issued civil.Date, ahead []Day, elevationM float64) *Spray {
	if len(hours) == 0 {
		return &Spray{Missing: say("spray.none_on_file")}
	}
	out := &Spray{Label: say("spray.label"), Caption: message.Say(message.New("spray.caption").Date("date", issued).
		Both("wind", agromet.UsualSprayWindMS, quantity.Speed, 0, 1).Count("hours", sprayRainfastH))}
	usual := spray.Limits{MostWindMS: agromet.UsualSprayWindMS, RainfastH: sprayRainfastH, ElevationM: elevationM}
	group4 := usual
	group4.HRAC4 = true
	graded, graded4 := spray.GradeHours(hours, usual), spray.GradeHours(hours, group4)
	windows, windows4 := spray.Windows(graded), spray.Windows(graded4)
	for _, d := range datesAhead(hours, ahead) {
		spans, spans4 := spraySpans(d, windows), spraySpans(d, windows4)
		day := SprayDay{Date: d, Parts: sprayParts(d, spans, graded)}
		if len(spans) > 0 && !slices.Equal(spans, spans4) {
			day.Group4 = message.Say(message.New("spray.group4").With("hours", group4Hours(d, spans4, graded4)))
		}
		out.Days = append(out.Days, day)
	}
	return out
}

// datesAhead lists the days from the first to the last that any forecast tells
// about.
func datesAhead(hours []spray.Hour, ahead []Day) []civil.Date {
	var all []civil.Date
	for _, d := range ahead {
		all = append(all, d.Date)
	}
	for _, h := range hours {
		all = append(all, h.Date)
	}
	slices.Sort(all)
	return slices.Compact(all)
}

// spraySpan is a stretch of hours of a day that are good throughout, or marginal.
type spraySpan struct {
	from, to int
	good     bool
}

func (s spraySpan) hours() message.Value { return message.Hours(s.from, s.to) }

// spraySpans lays the windows of a day out one after the other: a marginal
// window without the good ones that it holds.
func spraySpans(d civil.Date, windows []spray.Window) []spraySpan {
	var out, good []spraySpan
	for _, w := range windows {
		switch {
		case w.Date != d:
			continue
		case w.Grade == spray.Good:
			// It stands alone, or inside the marginal window that follows it.
			good = append(good, spraySpan{w.From, w.To, true})
			continue
		}
		from := w.From
		for _, g := range good {
			if from < g.from {
				out = append(out, spraySpan{from, g.from, false})
			}
			out, from = append(out, g), max(from, g.to)
		}
		if from < w.To {
			out = append(out, spraySpan{from, w.To, false})
		}
		good = nil
	}
	return append(out, good...)
}

// sprayParts says the stretches of a day in the order of its hours, or in one
// part why there is none.
func sprayParts(d civil.Date, spans []spraySpan, graded []spray.GradedHour) []SprayPart {
	if len(spans) == 0 {
		return []SprayPart{{Text: message.Say(noSpray(between(graded, d, 0, 24)))}}
	}
	var out []SprayPart
	for _, s := range spans {
		if s.good {
			out = append(out, SprayPart{message.Say(message.New("spray.good").With("hours", s.hours())), true})
			continue
		}
		reason := sprayReason(between(graded, d, s.from, s.to))
		out = append(out, SprayPart{message.Say(message.New("spray.marginal").With("hours", s.hours()).Word("reason", reason)), false})
	}
	return out
}

// group4Hours lists the stretches of a day in brief: why some are marginal
// stands above them already.
func group4Hours(d civil.Date, spans []spraySpan, graded []spray.GradedHour) message.Value {
	if len(spans) == 0 {
		return message.Of(noSpray(between(graded, d, 0, 24)))
	}
	var out []message.Message
	for _, s := range spans {
		id := "spray.brief_marginal"
		if s.good {
			id = "spray.good"
		}
		out = append(out, message.New(id).With("hours", s.hours()))
	}
	return message.Messages(message.Semicolon, out...)
}

// between returns the hours of a day from one to another, the last outside.
func between(graded []spray.GradedHour, d civil.Date, from, to int) []spray.GradedHour {
	return slices.DeleteFunc(slices.Clone(graded), func(h spray.GradedHour) bool { return h.Date != d || h.Of < from || h.Of >= to })
}

// noSpray says why a day has no window, from its hours of daylight.
func noSpray(day []spray.GradedHour) message.Message {
	var closed []spray.GradedHour
	light, unknown := 0, 0
	for _, h := range day {
		if h.SinceSunriseH < 0 || h.ToSunsetH < 0 {
			continue
		}
		light++
		switch h.Grade {
		case spray.Unknown:
			unknown++
		case spray.No:
			closed = append(closed, h)
		}
	}
	switch {
	case light == 0:
		return message.New("spray.absent")
	case unknown > len(closed):
		return message.New("spray.unknown")
	case len(closed) == 0:
		return message.New("spray.short")
	}
	return message.New("spray.none").Word("reason", sprayReason(closed))
}

// sprayReasons lists the reasons that are told, those that close an hour first.
func sprayReasons() (closing, marginal []spray.Reason) {
	return []spray.Reason{
			spray.Windy, spray.Inversion, spray.Vapor, spray.Hot, spray.DriesAway, spray.Raining, spray.RainSoon, spray.Dark,
		}, []spray.Reason{
			spray.Calm, spray.Breezy, spray.Gusty, spray.Dewy, spray.DriesFast, spray.Drizzle,
		}
}

// sprayReason is the phrase of what speaks against most of some hours, all of
// them closed or none; of two that speak against as many, the first of the list.
// What makes an hour marginal does not explain a closed one.
func sprayReason(hours []spray.GradedHour) string {
	closing, marginal := sprayReasons()
	list := marginal
	if hours[0].Grade == spray.No {
		list = closing
	}
	most, best := 0, list[0]
	for _, r := range list {
		n := 0
		for _, h := range hours {
			// An hour of rain is told as that, not as one before more of it.
			if slices.Contains(h.Reasons, r) && !(r == spray.RainSoon && slices.Contains(h.Reasons, spray.Raining)) {
				n++
			}
		}
		if n > most {
			most, best = n, r
		}
	}
	return "spray.reason." + string(best)
}
