package publish

import (
	"math"

	"ligule/internal/bulletin"
	"ligule/internal/quantity"
)

// weatherView is the week's weather as grass felt it: a table whose rows are
// drawn as well as written.
type weatherView struct {
	*bulletin.Weather
	Past, Ahead []dayView
	Freezing    string // where 0 °C lies across the picture, in percent; "" outside it
}

// dayView is one day.
type dayView struct {
	bulletin.Day
	Bar           *spanView // of the temperature; nil without both ends
	RainWidth     string    // of the rain's bar, in percent; "" for a dry or unknown day
	RainWidthMail int       // the same in whole percent, at least 1; 0 for none
}

// spanView is a bar across a picture, in percent of its width.
type spanView struct {
	From, Width           string
	MailBefore, MailWidth int // whole percent, for bars made of table cells
	MailAfter             int
}

// leastRainScaleMM is the rain of a full bar in weeks without a wetter day.
const leastRainScaleMM = 25.4

func newWeatherView(w *bulletin.Weather) *weatherView {
	if w == nil {
		return nil
	}
	wv := &weatherView{Weather: w}
	scale := newScale(w.Past, w.Ahead)
	if scale.low < 0 && scale.high > 0 {
		wv.Freezing = percentOf(scale.x(0))
	}
	for _, d := range w.Past {
		wv.Past = append(wv.Past, newDayView(d, scale))
	}
	for _, d := range w.Ahead {
		wv.Ahead = append(wv.Ahead, newDayView(d, scale))
	}
	return wv
}

// scale is what the pictures of both weeks are drawn to.
type scale struct{ low, high, rainMM float64 }

func newScale(weeks ...[]bulletin.Day) scale {
	s := scale{math.Inf(1), math.Inf(-1), leastRainScaleMM}
	for _, days := range weeks {
		for _, d := range days {
			if d.TminC.Known() {
				s.low = math.Min(s.low, float64(d.TminC))
			}
			if d.TmaxC.Known() {
				s.high = math.Max(s.high, float64(d.TmaxC))
			}
			if d.RainMM.Known() {
				s.rainMM = math.Max(s.rainMM, float64(d.RainMM))
			}
		}
	}
	// A little air on both sides, and no division by nothing.
	s.low, s.high = s.low-1, s.high+1
	return s
}

// x is where a temperature lies across the picture, 0 to 100.
func (s scale) x(tC float64) float64 { return 100 * (tC - s.low) / (s.high - s.low) }

func newDayView(d bulletin.Day, s scale) dayView {
	dv := dayView{Day: d}
	if d.TminC.Known() && d.TmaxC.Known() {
		from, to := s.x(float64(d.TminC)), s.x(float64(d.TmaxC))
		b := &spanView{From: percentOf(from), Width: percentOf(math.Max(1, to-from))}
		b.MailBefore = clampInt(math.Round(from), 1, 98)
		b.MailWidth = clampInt(math.Round(to-from), 1, 99-b.MailBefore)
		b.MailAfter = 100 - b.MailBefore - b.MailWidth
		dv.Bar = b
	}
	if d.RainMM > 0 {
		width := 100 * float64(d.RainMM) / s.rainMM
		dv.RainWidth, dv.RainWidthMail = percentOf(width), clampInt(math.Round(width), 1, 100)
	}
	return dv
}

func percentOf(x float64) string { return quantity.Fixed(math.Max(0, math.Min(100, x)), 1) }

func clampInt(x float64, low, high int) int { return max(low, min(high, int(x))) }
