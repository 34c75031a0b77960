package advice

import (
	"math"

	"ligule/internal/civil"
	"ligule/internal/message"
	"ligule/internal/quantity"
	"ligule/internal/turf"
	"ligule/internal/weather"
)

// nitrogenYear is how a year's nitrogen falls to its growth: the curve that a
// reader who follows along goes by.
type nitrogenYear struct {
	annualGM2 float64 // the grass's middle yearly rate
	weekGM2   float64 // that the growth of the last seven days accounts for
	leftGM2   float64 // of the year's, after what this year's growth accounts for
}

// leastYears is how many whole years of record the usual year is taken from
// at the least. Own design.
const leastYears = 3

// nitrogenOf shares out the grass's middle yearly rate by the growth index of
// a watered lawn; NaN without enough years on file. It is reckoned from
// January 1, as laws count their yearly caps.
func (in *Input) nitrogenOf() nitrogenYear {
	if in.nitrogen == nil {
		n := in.shareOut()
		in.nitrogen = &n
	}
	return *in.nitrogen
}

func (in *Input) shareOut() nitrogenYear {
	nan := math.NaN()
	out := nitrogenYear{in.Grass.NMediumGM2, nan, nan}
	if in.Daily == nil || math.IsNaN(out.annualGM2) {
		return out
	}
	// The sum of the weekly index of a year, a week at a time from January 7 on;
	// known is false where any week of it is not.
	sum := func(from, before civil.Date) (g float64, known bool) {
		for d := from.AddDays(6); d < before; d = d.AddDays(7) {
			x := in.Daily.IndexOn(d, true)
			if math.IsNaN(x) {
				return 0, false
			}
			g += x
		}
		return g, true
	}
	total, years := 0.0, 0
	thisYear := in.IssueDate.Year()
	for y := thisYear - 1; y >= thisYear-maxYears; y-- {
		first := civil.MustDate(y, 1, 1)
		if _, ok := in.Felt.Index(first.AddDays(-31)); !ok {
			break
		}
		if g, ok := sum(first, civil.MustDate(y+1, 1, 1)); ok {
			total += g
			years++
		}
	}
	if years < leastYears {
		return out
	}
	usual := total / float64(years)
	if week := in.Daily.IndexOn(in.IssueDate.AddDays(-1), true); !math.IsNaN(week) {
		out.weekGM2 = turf.SeasonShareGM2(out.annualGM2, week, usual)
	}
	if soFar, ok := sum(civil.MustDate(thisYear, 1, 1), in.IssueDate); ok {
		out.leftGM2 = math.Max(0, out.annualGM2-turf.SeasonShareGM2(out.annualGM2, soFar, usual))
	}
	return out
}

// maxYears is how many past years the usual year is taken from.
const maxYears = 10

// heatHoldC is the forecast maximum from which cool-season grass is not fed:
// 90 °F. Purdue University's fall fertilization sheet warns of feeding in heat;
// that this temperature is the limit is own design.
const heatHoldC = 32.2

// feedHeatGate holds nitrogen on cool-season grass while the forecast has heat.
func (in *Input) feedHeatGate(d Draft) (*gated, []message.Message) {
	if !usesAny(d, Nitrogen) || in.Grass.Kind != turf.CoolSeason || in.Felt == nil {
		return nil, nil
	}
	for day := max(in.IssueDate, in.Week.Monday()); day <= in.Week.Sunday(); day++ {
		t := in.known(weather.TmaxC, day)
		if quantity.Tenths(t) < heatHoldC || math.IsNaN(t) {
			continue
		}
		return stopped("heat", Wait, "feed", func(m message.Message) message.Message {
			return m.WeekDay("day", day).Both("value", t, quantity.Temperature, 0, 0).Name("grass", in.Grass.Name)
		})
	}
	return nil, nil
}

// leastFeedingGM2 is the least nitrogen worth spreading: a twentieth of a pound
// per 1000 ft². Own design.
const leastFeedingGM2 = 0.25

// overlapFeedGate closes feeding once the year's rate of the grass is used up
// by a reader who followed along.
func (in *Input) overlapFeedGate(d Draft) (*gated, []message.Message) {
	if !usesAny(d, Nitrogen) {
		return nil, nil
	}
	n := in.nitrogenOf()
	if math.IsNaN(n.leftGM2) {
		return nil, nil
	}
	fill := func(m message.Message) message.Message {
		return m.Name("grass", in.Grass.Name).Both("annual", n.annualGM2, quantity.NitrogenRate, 1, 1).Both("left", n.leftGM2, quantity.NitrogenRate, 1, 1)
	}
	if n.leftGM2 < leastFeedingGM2 {
		return stopped("overlap", Skip, "feed", fill)
	}
	return nil, []message.Message{fill(message.New("gate.overlap.left"))}
}
