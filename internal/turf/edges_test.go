package turf

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
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
