package turf

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"ligule/internal/civil"
	"ligule/internal/weather"
)

// Grass does not drink from soil at 0 °C or colder.
func TestEdgesOfFrozenSoil(t *testing.T) {
	for soilC, frozen := range map[float64]bool{-0.1: true, 0: true, 0.1: false} {
		d, _ := run(t, loadProfile(t, "tall-fescue"), records(date(t, "2020-01-01"), 60, steady(8, 1)))
		d.Felt.Soil5C[50] = soilC
		d.runBalance()
		assert.Equal(t, frozen, math.Abs(d.ETcMM[50]-0.4) < 1e-9, "%g °C", soilC)
	}
}

// A day of drought is one with a water factor below a fifth, as printed to
// thousandths.
func TestEdgesOfDroughtDays(t *testing.T) {
	for fw, drought := range map[float64]bool{0.199: true, 0.1996: false, 0.2: false, 0.201: false} {
		d, _ := run(t, loadProfile(t, "tall-fescue"), records(date(t, "2020-01-01"), 60, steady(20, 1)))
		d.FW[50], d.FW[51] = 1, fw
		d.runMemory()
		assert.Equal(t, drought, d.droughts[51] > 0, "%g", fw)
	}
}

// A freeze counts on the nights on record alone: one that is filled in between two
// others is no third.
func TestEdgesOfFreezesOverAGap(t *testing.T) {
	for name, c := range map[string]struct {
		missing int
		want    int
	}{"three nights on record": {-1, 3}, "the one between is missing": {81, 2}} {
		s := records(date(t, "2019-09-15"), 90, func(i int, _ civil.Date) day {
			switch {
			case i == c.missing:
				return day{meanC: math.NaN()}
			case i >= 80 && i <= 82:
				return day{-6, 4, 0, 0}
			}
			return day{15, 10, 2, 0}
		})
		assert.Equal(t, c.want, reading(t, loadProfile(t, "bermuda"), s).RainFed.FreezeNights, name)
	}
}

// An interval of a month is told, and a longer one is no mowing.
func TestEdgesOfTheLongestInterval(t *testing.T) {
	p := loadProfile(t, "tall-fescue")
	for want, exact := range map[int]float64{30: 30, 0: 30.01} {
		days, _ := p.mowing(Growing, MowingIntervalDays(p.MowUsualMM, p.PeakHeightMMD)/exact)
		assert.Equal(t, want, days, "every %g days", exact)
	}
}

// Under a cover of snow grass loses what frozen ground does.
func TestEdgesOfSnowCover(t *testing.T) {
	for mm, covered := range map[float64]bool{24.9: false, 25: true} {
		s := records(date(t, "2020-01-01"), 60, steady(8, 1))
		for i := range 60 {
			s.Set(weather.SnowDepthMM, s.Start.AddDays(i), mm)
		}
		d, _ := run(t, loadProfile(t, "tall-fescue"), s)
		assert.Equal(t, covered, math.Abs(d.ETcMM[50]-0.4) < 1e-9, "%g mm", mm)
	}
}
