package publish

import (
	"slices"
	"strings"

	"ligule/internal/agromet"
	"ligule/internal/bulletin"
	"ligule/internal/civil"
	"ligule/internal/quantity"
	"ligule/internal/spray"
)

// sprayView lists the hours fit for spraying, day by day.
type sprayView struct {
	Missing string // why there are no days; "" if there are
	Caption string
	Days    []sprayDayView
	Label   string // what the hours do not allow
}

// sprayDayView is one day ahead.
type sprayDayView struct {
	Date  civil.Date
	Parts []sprayPartView
	// What differs for herbicides of HRAC group 4, which are lost as vapor in
	// heat; "" if nothing does.
	Group4 string
}

// sprayPartView is a stretch of hours, or why there is none.
type sprayPartView struct {
	Text string
	Good bool
}

// sprayRainfastH (common practice, no source) is how many dry hours a spray is
// graded for. The page says so.
const sprayRainfastH = 4

// spray grades the hours ahead for a spray whose label is silent, at a place so
// many meters above the sea.
func (v viewer) spray(w *bulletin.Weather, elevationM float64) *sprayView {
	if len(w.Hours) == 0 {
		return &sprayView{Missing: v.must("spray", "none_on_file")}
	}
	sv := &sprayView{Label: v.must("spray", "label"), Caption: v.say("spray.caption", "date", longDate(w.HourlyIssued),
		"wind", v.bothPrec(agromet.UsualSprayWindMS, quantity.Speed, 0, 1), "hours", trimmed(sprayRainfastH))}
	usual := spray.Limits{MostWindMS: agromet.UsualSprayWindMS, RainfastH: sprayRainfastH, ElevationM: elevationM}
	group4 := usual
	group4.HRAC4 = true
	graded, graded4 := spray.GradeHours(w.Hours, usual), spray.GradeHours(w.Hours, group4)
	windows, windows4 := spray.Windows(graded, usual), spray.Windows(graded4, group4)
	for _, d := range datesAhead(w) {
		spans, spans4 := spraySpans(d, windows), spraySpans(d, windows4)
		day := sprayDayView{Date: d, Parts: v.sprayParts(d, spans, graded)}
		if len(spans) > 0 && !slices.Equal(spans, spans4) {
			day.Group4 = v.say("spray.group4", "hours", v.group4Hours(d, spans4, graded4))
		}
		sv.Days = append(sv.Days, day)
	}
	return sv
}

// datesAhead lists the days from the first to the last that any forecast tells
// about.
func datesAhead(w *bulletin.Weather) []civil.Date {
	var all []civil.Date
	for _, d := range w.Ahead {
		all = append(all, d.Date)
	}
	for _, h := range w.Hours {
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

// sprayParts words the stretches of a day in the order of its hours, or says in
// one part why there is none.
func (v viewer) sprayParts(d civil.Date, spans []spraySpan, graded []spray.GradedHour) []sprayPartView {
	if len(spans) == 0 {
		return []sprayPartView{{v.noSpray(between(graded, d, 0, 24)), false}}
	}
	var out []sprayPartView
	for _, s := range spans {
		hours := v.hourSpan(s.from, s.to)
		if s.good {
			out = append(out, sprayPartView{v.say("spray.good", "hours", hours), true})
			continue
		}
		out = append(out, sprayPartView{v.say("spray.marginal", "hours", hours, "reason", v.sprayReason(between(graded, d, s.from, s.to))), false})
	}
	return out
}

// group4Hours lists the stretches of a day in brief: why some are marginal
// stands above them already.
func (v viewer) group4Hours(d civil.Date, spans []spraySpan, graded []spray.GradedHour) string {
	if len(spans) == 0 {
		return v.noSpray(between(graded, d, 0, 24))
	}
	var out []string
	for _, s := range spans {
		id := "brief_marginal"
		if s.good {
			id = "good"
		}
		out = append(out, v.say("spray."+id, "hours", v.hourSpan(s.from, s.to)))
	}
	return strings.Join(out, "; ")
}

// between returns the hours of a day from one to another, the last outside.
func between(graded []spray.GradedHour, d civil.Date, from, to int) []spray.GradedHour {
	var out []spray.GradedHour
	for _, h := range graded {
		if h.Date == d && h.Of >= from && h.Of < to {
			out = append(out, h)
		}
	}
	return out
}

// noSpray says why a day has no window, from its hours of daylight.
func (v viewer) noSpray(day []spray.GradedHour) string {
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
		return v.must("spray", "absent")
	case unknown > len(closed):
		return v.must("spray", "unknown")
	case len(closed) == 0:
		return v.must("spray", "short")
	}
	return v.say("spray.none", "reason", v.sprayReason(closed))
}

// sprayReasons lists the reasons that are worded, those that close an hour
// first.
func sprayReasons() (closing, marginal []spray.Reason) {
	return []spray.Reason{
			spray.Windy, spray.Inversion, spray.Vapor, spray.Hot, spray.DriesAway, spray.Raining, spray.RainSoon, spray.Dark,
		}, []spray.Reason{
			spray.Calm, spray.Breezy, spray.Gusty, spray.Dewy, spray.DriesFast, spray.Drizzle,
		}
}

// sprayReason words what speaks against most of some hours, all of them closed
// or none; of two that speak against as many, the first of the list. What makes
// an hour marginal does not explain a closed one.
func (v viewer) sprayReason(hours []spray.GradedHour) string {
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
	return v.must("spray.reason", string(best))
}

// hourSpan prints a stretch of full hours: "7–10 am", "10 am–2 pm",
// "11 am–noon".
func (v viewer) hourSpan(from, to int) string {
	first, last := v.clockTime(from*60), v.clockTime(to*60)
	// What both share is said once.
	if number, half, ok := strings.Cut(first, " "); ok && strings.HasSuffix(last, " "+half) {
		first = number
	}
	// No line ends inside it: a word joiner keeps what a dash would part.
	return strings.ReplaceAll(tight(v.say("spray.span", "from", first, "to", last)), "–", "–\u2060")
}
