package disease

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"ligule/internal/civil"
	"ligule/internal/pest"
	"ligule/internal/pesttest"
	"ligule/internal/turf"
	"ligule/internal/weather"
)

// What the grades of all years come to, and the seasons that are printed for such a
// place. Publications are named; "note" is an extension note, newsletter or column.
func TestPublishedSeasonsOverYears(t *testing.T) {
	g := pesttest.NewGolden()
	diseases := demoDiseases(t)
	for _, s := range pesttest.Stations() {
		f := s.Felt(t)
		station := &pest.Station{}
		for _, id := range s.Grasses {
			p := grass(t, id)
			in := &pest.Input{Felt: f, Daily: turf.Run(p, loam(t), f), Grass: p, Issue: f.View.IssueDate, Station: station}
			for _, d := range diseases {
				if host, _ := d.Host(id); host > pest.MinorHost {
					g.Add(s.ID, d.ID, id, d.Weeks(in))
				}
			}
		}
	}
	g.Check(t)
	const (
		blue, rye, fescue = "kentucky-bluegrass", "perennial-ryegrass", "tall-fescue"
		bermuda, zoysia   = "bermuda", "zoysia"
		augustine         = "st-augustine"
	)
	// What is printed without exception.
	for _, s := range []string{"toccoa-ga", "baton-rouge-la", "liberty-tx", "everglades-fl"} {
		for _, grass := range []string{bermuda, augustine} {
			g.Never(t, s, "gray-snow-mold", grass, pest.Watch, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12)
		}
	}
	g.Never(t, "everglades-fl", "large-patch", augustine, pest.Act, 6, 7, 8)
	g.Never(t, "kingfisher-ok", "spring-dead-spot", bermuda, pest.Watch, 8, 9, 10, 11)
	g.Never(t, "jackson-tn", "spring-dead-spot", bermuda, pest.Watch, 8, 9, 10, 11)
	g.Never(t, "seward-ne", "brown-patch", fescue, pest.Watch, 10, 11, 12)
	g.Test(t, []pesttest.Print{
		{Station: "laurel-md", Pest: "brown-patch", Grass: fescue, Months: "qqqqsAAAAsqq", Source: "Maryland 2017, brown patch"},
		{Station: "norfolk-va", Pest: "brown-patch", Grass: fescue, Months: "qqqqsAAAAsqq", Source: "Maryland 2017, brown patch: the coast of Virginia"},
		{Station: "monroe-nc", Pest: "brown-patch", Grass: fescue, Months: "qqsAAAAAAAsq", Source: "UGA C891"},
		{Station: "seward-ne", Pest: "brown-patch", Grass: fescue, Months: "qqqqsAAAsQQQ", Source: "K-State 2017"},
		{Station: "monroe-nc", Pest: "dollar-spot", Grass: bermuda, Months: "sAAAAAAAAAAA", Source: "UGA Forsyth County 2023"},
		{Station: "new-brunswick-nj", Pest: "dollar-spot", Grass: blue, Months: "qqqsAAAAAAsq", Source: "Rutgers, dollar spot"},
		{Station: "jackson-tn", Pest: "dollar-spot", Grass: blue, Months: "qqssAAAAAAsq", Source: "Missouri 2014"},
		{Station: "kingfisher-ok", Pest: "dollar-spot", Grass: bermuda, Months: "qqsAAAssAAsq", Source: "Oklahoma, golf trade article 2010"},
		{Station: "laurel-md", Pest: "fairy-ring", Grass: fescue, Months: "AAAAAAAAAAAA", Source: "Maryland HG 63, 2012"},
		{Station: "everglades-fl", Pest: "fairy-ring", Grass: augustine, Months: "sssssAAAAsss", Source: "UF/IFAS, fairy rings 2018"},
		{Station: "baton-rouge-la", Pest: "gray-leaf-spot", Grass: augustine, Months: "qqssAAAAAssq", Source: "UF/IFAS Jacksonville 2018"},
		{Station: "monroe-nc", Pest: "gray-leaf-spot", Grass: fescue, Months: "qqqqsAAAAsqq", Source: "UGA 2021", Wet: true},
		{Station: "new-brunswick-nj", Pest: "gray-leaf-spot", Grass: rye, Months: "qqqqqqsAAsqq", Source: "Penn State, gray leaf spot", Wet: true},
		{Station: "baton-rouge-la", Pest: "gray-snow-mold", Grass: augustine, Months: "qqqqqqqqqqqq", Source: "needs lasting snow"},
		{Station: "norfolk-va", Pest: "gray-snow-mold", Grass: fescue, Months: "qqqqqqqqqqqq", Source: "needs lasting snow", Warns: true},
		{Station: "toccoa-ga", Pest: "large-patch", Grass: zoysia, Months: ".sAAAsqqAAAs", Source: "UGA C1088, spring and fall"},
		{Station: "everglades-fl", Pest: "large-patch", Grass: augustine, Months: "AAAAAQQQqsAA", Source: "University of Florida: November to May, below 80 °F"},
		{Station: "liberty-tx", Pest: "large-patch", Grass: augustine, Months: "..AAAsQQAAA.", Source: "AgriLife 2018; of the winter it says no more than that a mild one is enough"},
		{Station: "kingfisher-ok", Pest: "large-patch", Grass: zoysia, Months: "qqsAAsqs.A.q", Source: "K-State 2017: it infects from September, and shows in fall only if that is cool and wet"},
		{Station: "laurel-md", Pest: "leaf-spot", Grass: blue, Months: "qqsAAAAAssqq", Source: "Latin, Purdue BP-103"},
		{Station: "ithaca-ny", Pest: "microdochium-patch", Grass: rye, Months: "sAAAsqqqqsss", Source: "Ohio State 2017; Rutgers 2013"},
		{Station: "laurel-md", Pest: "necrotic-ring-spot", Grass: blue, Months: "qqqsAAssAAsq", Source: "Kentucky; Missouri"},
		{Station: "laurel-md", Pest: "pythium-blight", Grass: rye, Months: "qqqqsAAAsqqq", Source: "Purdue 2016", Wet: true},
		{Station: "seward-ne", Pest: "pythium-blight", Grass: fescue, Months: "qqqqsAAAsQQQ", Source: "K-State 2017", Wet: true},
		{Station: "laurel-md", Pest: "red-thread", Grass: fescue, Months: "qqsAAsqsAAsq", Source: "Maryland 2024"},
		{Station: "laurel-md", Pest: "red-thread", Grass: rye, Months: "qqsAAsqsAAsq", Source: "Maryland 2024"},
		{Station: "ithaca-ny", Pest: "red-thread", Grass: rye, Months: "qqsAAsqsAAsq", Source: "Cornell, red thread"},
		{Station: "ithaca-ny", Pest: "rust", Grass: blue, Months: "qqqqqqsAAAsq", Source: "Wisconsin 2018"},
		{Station: "laurel-md", Pest: "rust", Grass: blue, Months: "qqqqqqsAAAAs", Source: "Missouri IPM1029"},
		{Station: "kingfisher-ok", Pest: "spring-dead-spot", Grass: bermuda, Months: "qsAAAAsQQQQq", Source: "Oklahoma State EPP-7665"},
		{Station: "jackson-tn", Pest: "spring-dead-spot", Grass: bermuda, Months: "qsAAAAssQQqq", Source: "Missouri IPM1029"},
		{Station: "jackson-tn", Pest: "summer-patch", Grass: blue, Months: "qqqqsAAAsqqq", Source: "Missouri IPM1029"},
		{Station: "laurel-md", Pest: "summer-patch", Grass: blue, Months: "qqqqqsAAAsqq", Source: "Maryland HG 63, 2012"},
		{Station: "everglades-fl", Pest: "take-all-root-rot", Grass: augustine, Months: "qqqssAAAAsqq", Source: "UF/IFAS Pinellas 2009"},
		{Station: "baton-rouge-la", Pest: "take-all-root-rot", Grass: augustine, Months: "qsAAAsssAAsq", Source: "UGA, take-all root rot: when it is active, not when it shows", Warns: true},
	})
}

// With the humidity that the U.S. Climate Reference Network measured, and that a
// station with none has, on records of 2020 and on a year made humid.
func TestActNeedsMeasuredHumidity(t *testing.T) {
	p := grass(t, "perennial-ryegrass")
	acts := func(f *weather.Felt) (n int) {
		in := &pest.Input{Felt: f, Daily: turf.Run(p, loam(t), f), Grass: p, Issue: f.View.IssueDate}
		for _, id := range []string{"brown-patch", "dollar-spot"} {
			for _, w := range demoDisease(t, id).Weeks(in) {
				n += count(w.Known && w.Grade == pest.Act)
			}
		}
		return n
	}
	measured := 0
	for _, c := range crn {
		r := readRecord(t, c.id)
		measured += acts(r.felt(c.lat, c.lon))
		delete(r.cols, "rh_mean_pct")
		assert.Zero(t, acts(r.felt(c.lat, c.lon)), "%s without its humidity", c.id)
	}
	assert.Greater(t, measured, 20)
	for humid, want := range map[bool]bool{true: true, false: false} {
		s := seriesOf(monthDay(2020, 1, 1), 366, func(i int, d civil.Date) [3]float64 {
			season := 10 * math.Sin(2*math.Pi*float64(i-110)/366)
			return [3]float64{21 + season, 11 + season, 2}
		})
		if humid {
			for d := s.Start; d <= s.End(); d++ {
				s.Set(weather.RHMeanPct, d, 88)
			}
		}
		assert.Equal(t, want, acts(weather.AsOf(somewhere, s, nil, s.End()+1).Felt()) > 0, "humidity measured: %t", humid)
	}
}
