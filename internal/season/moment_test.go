package season

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/stat"
	"pgregory.net/rapid"

	"ligule/internal/agromet"
	"ligule/internal/civil"
)

func spreadOf(origin civil.Date, early bool, days []float64, never, already int) Spread {
	s := newSpread(origin, early)
	for _, d := range days {
		s.add(Dated, int(d))
	}
	for range never {
		s.add(Never, 0)
	}
	for range already {
		s.add(Already, 0)
	}
	s.sort()
	return s
}

// Quantiles of dates against gonum: its interpolated quantile is type 4 of
// Hyndman & Fan 1996, brought to the place of type 8.
func TestSpreadQuantileAgreesWithGonum(t *testing.T) {
	origin := civil.MustDate(2023, 1, 1)
	rapid.Check(t, func(t *rapid.T) {
		days := rapid.SliceOfN(rapid.Map(rapid.IntRange(0, 364), func(i int) float64 { return float64(i) }), 1, 40).Draw(t, "days")
		p := rapid.Float64Range(0, 1).Draw(t, "p")
		sorted := slices.Clone(days)
		slices.Sort(sorted)
		n := float64(len(sorted))
		place := min(max((n+1.0/3)*p+1.0/3, 1), n)
		want := stat.Quantile(place/n, stat.LinInterp, sorted, nil)
		got := spreadOf(origin, false, days, 0, 0).Quantile(p)
		if got.Outcome != Dated || math.Abs(float64(got.Date-origin)-want) > 0.5+1e-6 {
			t.Fatalf("%v of %v: %v, gonum %v", p, sorted, got, want)
		}
	})
}

// The mixed distribution of years with and without a freeze as NOAA's Last
// Freeze/Frost Probability states it: a freeze comes before the autumn day of a
// risk with that risk, and after the spring day of it.
func TestSpreadAgreesWithFreezeDays(t *testing.T) {
	origin := civil.MustDate(2023, 1, 1)
	rapid.Check(t, func(t *rapid.T) {
		days := rapid.SliceOfN(rapid.Map(rapid.IntRange(0, 180), func(i int) float64 { return float64(i) }), 1, 30).Draw(t, "days")
		none := rapid.IntRange(0, 30).Draw(t, "years without")
		risk := rapid.Float64Range(0, 1).Draw(t, "risk")
		slices.Sort(days)
		years := len(days) + none
		for _, spring := range []bool{true, false} {
			share := risk * float64(years) / float64(len(days)) // among the years with one
			s := spreadOf(origin, spring, days, none, 0)
			got, want := s.Quantile(risk), agromet.Quantile(days, share)
			if spring {
				// A freeze after the date with that risk: one before it with the rest.
				got, want = s.Quantile(1-risk), agromet.Quantile(days, 1-share)
			}
			edge := math.Abs(risk*float64(years)-float64(len(days))) < 1e-6
			switch {
			case edge: // a last bit decides
			case math.IsNaN(want) != (got.Outcome != Dated),
				got.Outcome == Dated && math.Abs(float64(got.Date-origin)-want) > 0.5+1e-6:
				t.Fatalf("spring %v, risk %v, %d of %d years: %v, wanted %v", spring, risk, len(days), years, got, want)
			}
		}
	})
}

// A quantile is never earlier than that of a smaller share, Never comes after
// every date and Already before, and Before turns it back.
func TestSpreadIsOrdered(t *testing.T) {
	origin := civil.MustDate(2023, 7, 1)
	rank := func(m Moment, early Outcome) int {
		switch m.Outcome {
		case early, Already:
			return -1
		case Dated:
			return int(m.Date - origin)
		}
		return math.MaxInt
	}
	rapid.Check(t, func(t *rapid.T) {
		days := rapid.SliceOfN(rapid.Map(rapid.IntRange(0, 364), func(i int) float64 { return float64(i) }), 0, 30).Draw(t, "days")
		never, already := rapid.IntRange(0, 5).Draw(t, "never"), rapid.IntRange(0, 5).Draw(t, "already")
		early := rapid.Bool().Draw(t, "early")
		s := spreadOf(origin, early, days, never, already)
		if s.Years != len(days)+never+already || s.Dates() != len(days) {
			t.Fatalf("%+v", s)
		}
		p, q := rapid.Float64Range(0, 1).Draw(t, "p"), rapid.Float64Range(0, 1).Draw(t, "q")
		if p > q {
			p, q = q, p
		}
		if s.Years == 0 {
			if s.Quantile(p).Outcome != Unknown || !math.IsNaN(s.Before(origin)) {
				t.Fatal("of no years something is known")
			}
			return
		}
		earlyWord := Already
		if early {
			earlyWord = Never
		}
		a, b := s.Quantile(p), s.Quantile(q)
		if rank(a, earlyWord) > rank(b, earlyWord) {
			t.Fatalf("%v: %v, %v: %v", p, a, q, b)
		}
		if a.Outcome == Dated {
			if share := s.Before(a.Date + 1); share < p-1/float64(s.Years) {
				t.Fatalf("%v before %v, wanted %v", share, a, p)
			}
		}
	})
}
