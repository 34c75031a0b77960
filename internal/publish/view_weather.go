package publish

import (
	"math"

	"ligule/internal/civil"
	"ligule/internal/issue"
	"ligule/internal/quantity"
	"ligule/internal/weather"
)

// weatherView is the week's weather as grass felt it: a table whose rows are
// drawn as well as written.
type weatherView struct {
	LastRecord, ForecastIssued      civil.Date
	TempUnit, RainUnit, SoilUnit    string
	Past, Ahead                     []dayView
	Freezing                        string // where 0 °C lies across the picture, in percent; "" outside it
	Sums                            []sumView
	AheadDays                       int
	Spray                           *sprayView
	Radiation, Humidity, Wind, Soil string // how it was found, in words
	ETBand, LightBand               string // "±12%"
}

// dayView is one day. A text is "" where nothing is on record.
type dayView struct {
	Date          civil.Date
	Low, High     string
	Rain          string
	Soil2, Soil4  string
	Daylight      string
	Estimated     bool
	Bar           *barView // of the temperature; nil without both ends
	RainWidth     string   // of the rain's bar, in percent; "" for a dry or unknown day
	RainWidthMail int      // the same in whole percent, at least 1; 0 for none
}

// barView is a bar across a picture, in percent of its width.
type barView struct {
	From, Width           string
	MailBefore, MailWidth int // whole percent, for bars made of table cells
	MailAfter             int
}

// sumView is one row of the weekly figures.
type sumView struct{ ID, Past, Ahead string }

// leastRainScaleMM is the rain of a full bar in weeks without a wetter day.
const leastRainScaleMM = 25.4

// weather makes the view of a zone that lies so many meters above the sea.
func (v viewer) weather(w *issue.Weather, elevationM float64) *weatherView {
	if w == nil {
		return nil
	}
	wv := &weatherView{
		LastRecord: w.LastRecord, ForecastIssued: w.ForecastIssued, AheadDays: len(w.Ahead),
		TempUnit: v.unit(quantity.Temperature), RainUnit: v.unit(quantity.Depth), SoilUnit: v.unit(quantity.Temperature),
		Radiation: v.must("rung", w.RadiationRung.String()), Humidity: v.must("rung", w.HumidityRung.String()), Wind: v.must("rung", w.WindRung.String()),
		Soil: v.must("soil_method", w.SoilMethod.String()), ETBand: band(w.ETBandPct), LightBand: band(w.LightBandPct),
	}
	wv.Spray = v.spray(w, elevationM)
	scale := newScale(w.Past, w.Ahead)
	if scale.low < 0 && scale.high > 0 {
		wv.Freezing = percentOf(scale.x(0))
	}
	for _, d := range w.Past {
		wv.Past = append(wv.Past, v.day(d, scale))
	}
	for _, d := range w.Ahead {
		wv.Ahead = append(wv.Ahead, v.day(d, scale))
	}
	p, a := w.PastSum, w.AheadSum
	wv.Sums = []sumView{
		{"mean", v.both(p.MeanC, quantity.Temperature), v.both(a.MeanC, quantity.Temperature)},
		{"rain", v.bothPrec(p.RainMM, quantity.Depth, 2, 0), v.bothPrec(a.RainMM, quantity.Depth, 2, 0)},
		{"et", v.bothPrec(p.ETMM, quantity.Depth, 1, 0), v.bothPrec(a.ETMM, quantity.Depth, 1, 0)},
		{"light", v.both(p.LightMol, quantity.Light), v.both(a.LightMol, quantity.Light)},
		{"daylight", v.bothPrec(p.DaylightH, quantity.Hours, 1, 1), v.bothPrec(a.DaylightH, quantity.Hours, 1, 1)},
		{"soil2", v.both(p.Soil5C, quantity.Temperature), v.both(a.Soil5C, quantity.Temperature)},
		{"soil4", v.both(p.Soil10C, quantity.Temperature), v.both(a.Soil10C, quantity.Temperature)},
	}
	return wv
}

func band(pct float64) string {
	if math.IsNaN(pct) || pct <= 0 {
		return ""
	}
	return "±" + quantity.Fixed(pct, 0) + "%"
}

// scale is what the pictures of both weeks are drawn to.
type scale struct{ low, high, rainMM float64 }

func newScale(weeks ...[]issue.Day) scale {
	s := scale{math.Inf(1), math.Inf(-1), leastRainScaleMM}
	for _, days := range weeks {
		for _, d := range days {
			if !math.IsNaN(d.TminC) {
				s.low = math.Min(s.low, d.TminC)
			}
			if !math.IsNaN(d.TmaxC) {
				s.high = math.Max(s.high, d.TmaxC)
			}
			if !math.IsNaN(d.RainMM) {
				s.rainMM = math.Max(s.rainMM, d.RainMM)
			}
		}
	}
	// A little air on both sides, and no division by nothing.
	s.low, s.high = s.low-1, s.high+1
	return s
}

// x is where a temperature lies across the picture, 0 to 100.
func (s scale) x(tC float64) float64 { return 100 * (tC - s.low) / (s.high - s.low) }

func (v viewer) day(d issue.Day, s scale) dayView {
	dv := dayView{
		Date: d.Date, Low: v.number(d.TminC, quantity.Temperature, 0, 0), High: v.number(d.TmaxC, quantity.Temperature, 0, 0),
		Rain: v.number(d.RainMM, quantity.Depth, 2, 0), Soil2: v.number(d.Soil5C, quantity.Temperature, 0, 0),
		Soil4: v.number(d.Soil10C, quantity.Temperature, 0, 0), Daylight: v.number(d.DaylightH, quantity.Hours, 1, 1),
		Estimated: d.TempBasis == weather.Estimated || d.RainBasis == weather.Estimated,
	}
	if dv.Low != "" && dv.High != "" {
		from, to := s.x(d.TminC), s.x(d.TmaxC)
		b := &barView{From: percentOf(from), Width: percentOf(math.Max(1, to-from))}
		b.MailBefore = clampInt(math.Round(from), 1, 98)
		b.MailWidth = clampInt(math.Round(to-from), 1, 99-b.MailBefore)
		b.MailAfter = 100 - b.MailBefore - b.MailWidth
		dv.Bar = b
	}
	if d.RainMM > 0 {
		width := 100 * d.RainMM / s.rainMM
		dv.RainWidth, dv.RainWidthMail = percentOf(width), clampInt(math.Round(width), 1, 100)
	}
	return dv
}

func percentOf(x float64) string { return quantity.Fixed(math.Max(0, math.Min(100, x)), 1) }

func clampInt(x float64, low, high int) int { return max(low, min(high, int(x))) }
