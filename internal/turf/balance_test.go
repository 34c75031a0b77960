package turf

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"ligule/internal/agromet"
	"ligule/internal/civil"
	"ligule/internal/weather"
)

func TestPublishedAvailableWaterOfSoils(t *testing.T) {
	for _, c := range []struct {
		id         string
		inchPerFt  float64 // middle of FAO-56 Table 19's available water
		low, high  float64 // range of its wilting point
		lowFC, hFC float64 // and of its field capacity
	}{
		{"sand", 0.96, 0.02, 0.07, 0.07, 0.17},
		{"loamy-sand", 1.08, 0.03, 0.10, 0.11, 0.19},
		{"sandy-loam", 1.56, 0.06, 0.16, 0.18, 0.28},
		{"loam", 1.86, 0.07, 0.17, 0.20, 0.30},
		{"silt-loam", 1.92, 0.09, 0.21, 0.22, 0.36},
		{"silt", 2.16, 0.12, 0.22, 0.28, 0.36},
		{"silty-clay-loam", 1.86, 0.17, 0.24, 0.30, 0.37},
		{"silty-clay", 1.92, 0.17, 0.29, 0.30, 0.42},
		{"clay", 1.92, 0.20, 0.24, 0.32, 0.40},
	} {
		t.Run("FAO-56 Table 19: "+c.id, func(t *testing.T) {
			s, ok := SoilByID(c.id)
			require.True(t, ok)
			assert.Equal(t, c.id, s.ID)
			assert.InDelta(t, c.inchPerFt, 12*(s.FieldCapacity-s.WiltingPoint), 0.005)
			assert.True(t, s.WiltingPoint >= c.low-1e-9 && s.WiltingPoint <= c.high+1e-9, "%v", s)
			assert.InDelta(t, (c.lowFC+c.hFC)/2, s.FieldCapacity, 1e-9)
		})
	}
	assert.Len(t, SoilIDs(), 9)
	s, _ := SoilByID("silty-clay-loam")
	assert.Equal(t, "Silty clay loam", s.Name)
	_, ok := SoilByID("gravel")
	assert.False(t, ok)
}

func TestPublishedHydrologicGroups(t *testing.T) {
	const source = "Technical Release 55, Table 2-2a and Appendix A (from memory): "
	for id, want := range map[string]float64{"sand": 39, "sandy-loam": 39, "silt-loam": 61, "silty-clay-loam": 80, "clay": 80} {
		t.Run(source+id, func(t *testing.T) {
			s, _ := SoilByID(id)
			assert.Equal(t, want, s.curveNumber())
		})
	}
}

func TestOwnDesignGreenFraction(t *testing.T) {
	warm, cool := warmClass(38, 6), coolClass(76, 6, "")
	for _, c := range []struct {
		p           *Profile
		soilC, want float64
	}{
		{warm, 4, 0}, {warm, 10, 0}, {warm, 10 + 25.0/6, 0.5}, {warm, 55.0 / 3, 1}, {warm, 30, 1},
		{cool, -1, 0}, {cool, 2.5, 0.5}, {cool, 5, 1}, {cool, 30, 1},
	} {
		assert.InDelta(t, c.want, c.p.greenFraction(c.soilC), 1e-9, "%s at %v °C", c.p.Kind, c.soilC)
	}
}

// The balance of every day that has one closes: what the soil lost is what
// came in less what went out.
func TestBalanceCloses(t *testing.T) {
	p := loadProfile(t, "bermuda")
	soils := SoilIDs()
	rapid.Check(t, func(t *rapid.T) {
		s := drawYears(t, 400, rapid.Bool().Draw(t, "holes"))
		soil, _ := SoilByID(rapid.SampledFrom(soils).Draw(t, "soil"))
		f := weather.AsOf(testStation, s, nil, s.End().AddDays(1)).Felt()
		d := Run(p, soil, f)
		rain := f.View.Days.Col(weather.RainMM)
		before, known := d.RAWMM/2, 0
		for i := range d.FW {
			if math.IsNaN(d.DepletionMM[i]) {
				if d.BalanceOK[i] || !math.IsNaN(d.FW[i]) {
					t.Fatalf("a balance of a day without weather")
				}
				if known--; known < -weather.GapMaxDays {
					before = d.RAWMM / 2
				}
				continue
			}
			known = 0
			if d.RunoffMM[i] > 0 && rain[i] < agromet.LeastRunoffRainMM {
				t.Fatalf("runoff of %v mm", rain[i])
			}
			entered := rain[i] - d.RunoffMM[i]
			if math.Round(10*rain[i]) < math.Round(10*0.2*f.ETMM[i]) { // compared at a tenth
				entered = 0
			}
			gone := d.DepletionMM[i] - before + entered - d.DrainageMM[i] - d.ETcMM[i]
			if math.Abs(gone) > 1e-9 {
				t.Fatalf("day %d: %v mm came or went unseen", i, gone)
			}
			before = d.DepletionMM[i]
			if before < 0 || before > d.TAWMM || d.ETcMM[i] < 0 || d.DrainageMM[i] < 0 {
				t.Fatalf("day %d out of bounds", i)
			}
			if d.BalanceOK[i] != (d.FW[i] >= 0 && d.FW[i] <= 1) {
				t.Fatalf("water factor %v of day %d", d.FW[i], i)
			}
		}
	})
}

func TestBalanceIsWithheldWhileItSpinsUp(t *testing.T) {
	p := loadProfile(t, "bermuda")
	first := date(t, "2020-05-01")
	hole := func(from, days int) *weather.Series {
		return records(first, 120, func(i int, _ civil.Date) day {
			if i >= from && i < from+days {
				return day{meanC: math.NaN()}
			}
			return day{24, 10, 3, 0}
		})
	}
	for _, c := range []struct {
		name       string
		from, days int
		firstDay   int // first day with a balance
		withheld   int // days after the hole without one
	}{
		{"from the start of the record", 0, 0, 30, 0},
		{"two missing days are filled", 60, 2, 30, 0},
		{"three start it again", 60, 3, 30, 30},
	} {
		t.Run(c.name, func(t *testing.T) {
			d, _ := run(t, p, hole(c.from, c.days))
			for i, ok := range d.BalanceOK[:120] {
				inHole := c.days > weather.GapMaxDays && i >= c.from && i < c.from+c.days+c.withheld
				assert.Equal(t, i >= c.firstDay && !inHole, ok, "day %d", i)
			}
		})
	}
}

func TestOwnDesignFrozenAndSnowCoveredTurf(t *testing.T) {
	p := loadProfile(t, "tall-fescue")
	first := date(t, "2020-01-01")
	d, _ := run(t, p, records(first, 60, steady(-8, 0)))
	require.LessOrEqual(t, d.Felt.Soil5C[50], 0.0)
	assert.InDelta(t, 0.4, d.ETcMM[50], 1e-9, "frozen soil")

	s := records(first, 60, steady(8, 1))
	for i := 50; i < 60; i++ {
		s.Set(weather.SnowDepthMM, first.AddDays(i), 30)
	}
	d, _ = run(t, p, s)
	assert.InDelta(t, 0.4, d.ETcMM[55], 1e-9, "under snow")
	assert.Greater(t, d.ETcMM[45], 0.5, "green and open")
}

// Days are carried in one go: a longer record needs no more allocations.
func TestRunAllocatesAFixedNumberOfTimes(t *testing.T) {
	p := loadProfile(t, "bermuda")
	soil := loam(t)
	allocs := func(days int) float64 {
		s := records(date(t, "2008-01-01"), days, steady(20, 2))
		f := weather.AsOf(testStation, s, nil, s.End().AddDays(1)).Felt()
		return testing.AllocsPerRun(5, func() { Run(p, soil, f) })
	}
	assert.Equal(t, allocs(365), allocs(3652))
	assert.LessOrEqual(t, allocs(3652), 10.0)
}

func BenchmarkRunTenYears(b *testing.B) {
	p := loadProfile(b, "bermuda")
	s := records(date(b, "2008-01-01"), 3652, steady(20, 2))
	f := weather.AsOf(testStation, s, nil, s.End().AddDays(1)).Felt()
	soil := loam(b)
	b.ReportAllocs()
	for b.Loop() {
		Run(p, soil, f)
	}
}

func BenchmarkTenYearsOfWeeks(b *testing.B) {
	p := loadProfile(b, "bermuda")
	d, issue := run(b, p, records(date(b, "2008-01-01"), 3652, func(_ int, d civil.Date) day {
		return day{16 - 11*math.Cos(2*math.Pi*float64(d.YearDay()-20)/365), 11, 3.2, 0}
	}))
	b.ReportAllocs()
	for b.Loop() {
		for w := range 520 {
			d.At(issue.AddDays(-7 * w))
		}
	}
}
