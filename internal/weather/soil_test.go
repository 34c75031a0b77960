package weather

import (
	"bytes"
	"encoding/csv"
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat"

	"ligule/internal/agromet"
	"ligule/internal/civil"
)

var update = flag.Bool("update", false, "rewrite the golden files")

func golden(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *update {
		require.NoError(t, os.WriteFile(path, []byte(got), 0o644))
	}
	want, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, string(want), got)
}

// agreement measures how far estimates are from measurements.
type agreement struct {
	n, near         int
	sum, sumSquared float64
}

func (a *agreement) add(diff float64) {
	a.n++
	a.sum += diff
	a.sumSquared += diff * diff
	if math.Abs(diff) <= 3 {
		a.near++
	}
}

func (a agreement) rmse() float64  { return math.Sqrt(a.sumSquared / float64(a.n)) }
func (a agreement) share() float64 { return float64(a.near) / float64(a.n) }

func (a agreement) row(name string) string {
	return fmt.Sprintf("%-9s %6d %6.2f %6.2f %6.1f\n", name, a.n, a.rmse(), a.sum/float64(a.n), 100*a.share())
}

// The soil model at 10 cm against the mean of the daily extremes measured
// under sod at Jackson, Tennessee, 1983 to 2018 (GHCN-Daily, elements SN52 and
// SX52). The bounds are own design: what the fit on other stations promised,
// and a margin for a station that took no part in it.
func TestOwnDesignSoilModelAtJackson(t *testing.T) {
	st, records := jackson(t)
	measured := records.cols[Soil10C]
	records.cols[Soil10C] = nil // let the model speak
	felt := AsOf(st, records, nil, records.End()+1).Felt()

	var all agreement
	var months [13]agreement
	years := map[int]*agreement{}
	for i, soilC := range measured {
		d := records.Start.AddDays(i)
		if d.Year() < 1983 || math.IsNaN(soilC) || math.IsNaN(felt.Soil10C[i]) {
			continue
		}
		require.Equal(t, SoilModeled, felt.Soil10By[i])
		if years[d.Year()] == nil {
			years[d.Year()] = &agreement{}
		}
		diff := felt.Soil10C[i] - soilC
		all.add(diff)
		months[d.Month()].add(diff)
		years[d.Year()].add(diff)
	}
	table := "Soil temperature at 10 cm, model minus measured under sod, Jackson TN 1983-2018\n" +
		"            days   RMSE   bias  within 3 °C\n" + all.row("all")
	for m := 1; m <= 12; m++ {
		table += months[m].row(fmt.Sprintf("month %d", m))
	}
	for y := 1983; y <= 2018; y++ {
		require.NotNil(t, years[y], "%d", y)
		table += years[y].row(strconv.Itoa(y))
	}
	golden(t, "soil-jackson.golden", table)

	assert.Greater(t, all.n, 12000)
	assert.LessOrEqual(t, all.rmse(), 2.0, "RMSE, °C")
	assert.GreaterOrEqual(t, all.share(), 0.90, "share of days within 3 °C")
}

// Reference evapotranspiration from temperatures alone against the pan at
// Jackson, month by month, April to October. A pan evaporates more than grass,
// by a factor that varies with its surroundings (FAO-56 chapter 4, pan
// evaporation method: pan coefficients of 0.35 to 0.85); it is the ups and downs
// that must agree.
func TestOwnDesignReferenceETFollowsThePanAtJackson(t *testing.T) {
	st, records := jackson(t)
	felt := AsOf(st, records, nil, records.End()+1).Felt()
	pan := panEvaporation(t, "jackson-tn_1982-2018.csv.gz")

	const mostDays = 25
	var panMM, etMM []float64 // daily means of a month
	for year := 1982; year <= 2018; year++ {
		for month := 4; month <= 10; month++ {
			var p, e []float64
			first := civil.MustDate(year, month, 1)
			for d := first; d < first.AddMonths(1); d++ {
				i, ok := felt.Index(d)
				mm, measured := pan[d]
				if ok && measured && felt.Basis(d) == Observed && !math.IsNaN(felt.ETMM[i]) {
					p, e = append(p, mm), append(e, felt.ETMM[i])
				}
			}
			if len(p) >= mostDays {
				panMM, etMM = append(panMM, stat.Mean(p, nil)), append(etMM, stat.Mean(e, nil))
			}
		}
	}
	assert.Greater(t, len(panMM), 200, "months")
	assert.GreaterOrEqual(t, stat.Correlation(panMM, etMM, nil), 0.90)
	ratio := stat.Mean(etMM, nil) / stat.Mean(panMM, nil)
	assert.True(t, ratio >= 0.35 && ratio <= 0.85, "pan coefficient %v", ratio)
}

func panEvaporation(t *testing.T, name string) map[civil.Date]float64 {
	rows, err := csv.NewReader(bytes.NewReader(file(t, name))).ReadAll()
	require.NoError(t, err)
	require.Equal(t, "pan_evap_mm", rows[0][5])
	pan := map[civil.Date]float64{}
	for _, row := range rows[1:] {
		if row[5] != "" {
			mm, err := strconv.ParseFloat(row[5], 64)
			require.NoError(t, err)
			pan[day(t, row[0])] = mm
		}
	}
	return pan
}

// level returns records of a constant temperature.
func level(start civil.Date, days int, meanC float64) *Series {
	s := NewSeries(start, days)
	for i := range days {
		s.Set(TmaxC, start.AddDays(i), meanC+5)
		s.Set(TminC, start.AddDays(i), meanC-5)
		s.Set(RainMM, start.AddDays(i), 0)
	}
	return s
}

func TestOwnDesignSoilSpinUp(t *testing.T) {
	start := day(t, "2016-03-01")
	records := level(start, 60, 15)
	gap := func(from, days int) {
		for i := range days {
			records.Set(TmaxC, start.AddDays(from+i), math.NaN())
		}
	}
	gap(25, 2) // filled
	gap(30, 3) // not filled
	felt := AsOf(Station{LatitudeDeg: 35}, records, nil, start.AddDays(60)).Felt()
	for i := range 60 {
		said := i >= 20 && i < 30 || i >= 33+agromet.SoilSpinUpDays
		assert.Equal(t, said, !math.IsNaN(felt.Soil5C[i]), "day %d", i)
		assert.Equal(t, said, felt.Soil10By[i] == SoilModeled, "day %d", i)
		if said {
			assert.InDelta(t, 16, felt.Soil10C[i], 1e-9, "a constant 15 °C and the offset of 1 °C")
		}
	}
}

func TestOwnDesignSoilProbe(t *testing.T) {
	start := day(t, "2016-03-01")
	records := level(start, 50, 15)
	for i := 10; i < 45; i++ {
		if i != 35 {
			records.Set(Soil5C, start.AddDays(i), 17+0.01*float64(i))
		}
	}
	issue := start.AddDays(50)
	fc := Forecast{Issued: issue, Days: level(issue, 7, 15)}
	fc.Days.Set(Soil5C, issue, 30)
	felt := AsOf(Station{LatitudeDeg: 35}, records, []Forecast{fc}, issue).Felt()
	at := func(i int) (float64, SoilMethod) { return felt.Soil5C[i], felt.Soil5By[i] }

	x, by := at(5)
	assert.True(t, math.IsNaN(x))
	assert.Equal(t, SoilNone, by)
	x, by = at(10)
	assert.Equal(t, 17.1, x, "a probe speaks also while the model is silent")
	assert.Equal(t, SoilProbe, by)
	x, by = at(35)
	assert.InDelta(t, 17.31, x, 1e-9, "the readings of days 28 to 34 against 16 °C: their error is that of day 31")
	assert.Equal(t, SoilShifted, by)
	for i := 45; i < 57; i++ {
		x, by = at(i)
		assert.Equal(t, SoilShifted, by, "day %d: a forecast of soil temperature is no probe", i)
		assert.InDelta(t, 17.41, x, 1e-9, "day %d: the readings of days 38 to 44", i)
	}
	assert.Equal(t, SoilModeled, felt.Soil10By[45], "the probe is at 5 cm")

	// A probe that fell silent long ago has no say.
	later := level(start, 70, 15)
	for i := 10; i < 45; i++ {
		later.Set(Soil5C, start.AddDays(i), 17)
	}
	felt = AsOf(Station{LatitudeDeg: 35}, later, nil, start.AddDays(70)).Felt()
	assert.Equal(t, SoilShifted, felt.Soil5By[38+14])
	assert.Equal(t, SoilModeled, felt.Soil5By[38+15])
}
