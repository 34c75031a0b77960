package synth

import (
	"bytes"
	"math"
	"math/rand/v2"
	"strconv"

	"ligule/internal/agromet"
	"ligule/internal/civil"
)

const humidityStream = 0x5851f42d4c957f2d

// How the mean humidity of a day strays from what its extremes and rain would have:
// by as much as the estimate errs at real stations, and some of it for days. It has
// a stream of its own, so that no other weather hangs on it.
const (
	humiditySDPct  = 8.5
	humidityMemory = 0.5
)

// humidities returns the mean relative humidity of each day, whole percent.
func humidities(days []Day, seed, site uint64) []float64 {
	g := rand.NewPCG(seed, humidityStream^site)
	out := make([]float64, len(days))
	stray, yesterday := 0.0, math.NaN()
	for i, d := range days {
		z, _ := normalPair(g)
		stray = humidityMemory*stray + math.Sqrt(1-humidityMemory*humidityMemory)*humiditySDPct*z
		usual := agromet.EstimatedHumidityPct(d.TmaxC, d.TminC, d.RainMM, yesterday)
		out[i] = math.Round(min(100, max(25, usual+stray)))
		yesterday = d.RainMM
	}
	return out
}

// withHumidity adds the column of humidity to a station's file, on the days that
// have a record.
func withHumidity(file []byte, days []Day, pct []float64) []byte {
	lines := bytes.Split(bytes.TrimSuffix(file, []byte("\n")), []byte("\n"))
	out := append([]byte{}, lines[0]...)
	out = append(out, ",rh_mean\n"...)
	for _, line := range lines[1:] {
		out = append(append(out, line...), ',')
		cells := bytes.Split(line, []byte(","))
		d, err := civil.ParseDate(string(cells[0]))
		if err != nil {
			panic(err)
		}
		if len(cells[1]) > 0 {
			out = strconv.AppendFloat(out, pct[d-days[0].Date], 'f', 0, 64)
		}
		out = append(out, '\n')
	}
	return out
}
