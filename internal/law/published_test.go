package law

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/civil"
	"ligule/internal/turf"
)

// What publications say of the model's parts, besides the laws under
// testdata/published.

func window(from, to, b string) When {
	x, err := ParseAnchor(from)
	if err != nil {
		panic(err)
	}
	y, err := ParseAnchor(to)
	if err != nil {
		panic(err)
	}
	return When{Kind: "annual", FromAnchor: x, ToAnchor: y, Bounds: b, BoundsBasis: "text"}
}

// 101 Pa. Code 15.154 (legislative drafting manual): a period that "begins
// July 1, 1961 and ends June 30, 1962" is written "after June 30, 1961 and
// before July 1, 1962".
func TestPublishedDraftingRuleForPeriods(t *testing.T) {
	first, last := bounds(day("1961-06-30"), day("1962-07-01"), "()")
	assert.Equal(t, "1961-07-01", first.String())
	assert.Equal(t, "1962-06-30", last.String())
	assert.Equal(t, 365, int(last-first)+1)
	begins, ends := bounds(day("1961-07-01"), day("1962-06-30"), "[]")
	assert.Equal(t, first, begins)
	assert.Equal(t, last, ends)
}

// Daylight saving time of the United States, second Sunday of March to first
// Sunday of November, as a city code prints it (Winter Garden, Florida, Code
// 94-163); instances from a notice of 2012 and news of 2019.
func TestPublishedClockChanges(t *testing.T) {
	spring, err := ParseAnchor("nth:2-Sun-03")
	require.NoError(t, err)
	autumn, err := ParseAnchor("nth:1-Sun-11")
	require.NoError(t, err)
	assert.Equal(t, "2012-03-11", spring.in(2012, false).String())
	assert.Equal(t, "2019-11-03", autumn.in(2019, false).String())
	assert.Equal(t, "2026-03-08", spring.in(2026, false).String())
	assert.Equal(t, "2026-11-01", autumn.in(2026, false).String())
	// The zone's own rules agree in every year since the Energy Policy Act of
	// 2005 took effect in 2007.
	loc, err := time.LoadLocation("America/New_York")
	require.NoError(t, err)
	for y := 2007; y <= 2030; y++ {
		for _, a := range []Anchor{spring, autumn} {
			yy, m, d := a.in(y, false).YMD()
			before := time.Date(yy, time.Month(m), d, 0, 30, 0, 0, loc)
			assert.NotEqual(t, before.IsDST(), before.Add(6*time.Hour).IsDST(), "%d %s", y, a)
		}
	}
}

// Florida label rule 5E-1.003, as given by Trenholm, "Urban Turf Fertilizer
// Rule for Home Lawn Fertilization" (UF/IFAS EP353): up to 2 lb of nitrogen in
// spring or summer at 65 % or more controlled release, at most 0.7 lb soluble.
// The two limits meet exactly.
func TestPublishedControlledReleaseMeetsTheSolubleCap(t *testing.T) {
	assert.InDelta(t, 0.700, 2*(1-0.65), 1e-12)
	assert.InDelta(t, 2.0, LargestNLb1000(2, 0.7, 0.65), 1e-9)
	assert.False(t, over(2*(1-0.65), 0.7))
}

// New Jersey's law displaces all municipal fertilizer law; if it did not, the
// town's would close.
func TestPublishedNewJerseyDisplacesMunicipalLaw(t *testing.T) {
	records := readArchive(t, "testdata/published/new-jersey.txtar").records(t)
	q := Question{Place: Place{Chain: []string{"nj", "town"}}, Product: lawn50, Date: day("2026-07-10"), AsOf: day(usualAsOf)}
	assert.Equal(t, "conditional", answerText(NewBook(records, nil).Ask(q)))
	require.Equal(t, "nj", records[0].ID)
	records[0].PreemptTopics = nil
	assert.Equal(t, "closed by town/summer", answerText(NewBook(records, nil).Ask(q)))
}

// Marion County, Florida, Code 19-247: at 30 % slow nitrogen the caps of one
// pound in all and 0.7 lb soluble bind together.
func TestPublishedMarionCountyCapsMeet(t *testing.T) {
	assert.InDelta(t, 1.0, LargestNLb1000(1.0, 0.7, 0.3), 1e-9)
	assert.InDelta(t, 0.986, LargestNLb1000(1.0, 0.7, 0.29), 5e-4)
}

// The arithmetic of rates, worked by hand.
func TestOwnDesignRateArithmetic(t *testing.T) {
	bag24, urea := turf.Analysis{NPct: 24}, turf.Analysis{NPct: 46}
	assert.InDelta(t, 3.750, bag24.ProductFor(0.9), 1e-9)
	assert.InDelta(t, 13333, 50/bag24.ProductFor(0.9)*1000, 0.5, "a 50 lb bag")
	for share, want := range map[float64]float64{0: 0.700, 0.20: 0.875, 0.2222: 0.900, 0.5: 0.900, 1: 0.900} {
		assert.InDelta(t, want, LargestNLb1000(0.9, 0.7, share), 1e-4, "slow share %g", share)
	}
	assert.InDelta(t, 1.522, urea.ProductFor(LargestNLb1000(math.NaN(), 0.7, 0)), 5e-4)
	assert.InDelta(t, 1.087, urea.ProductFor(LargestNLb1000(math.NaN(), 0.5, 0)), 5e-4)
	assert.Equal(t, 0.9, LargestNLb1000(0.9, math.NaN(), 0))
	assert.True(t, math.IsNaN(LargestNLb1000(math.NaN(), math.NaN(), 0)))

	// 14 % soluble nitrogen at 5 lb is 0.7 lb, which binary fractions miss.
	fourteen, five := 14.0, 5.0
	x := five * (fourteen / 100)
	assert.Equal(t, 0.7000000000000001, x)
	assert.False(t, over(x, 0.7))
	assert.True(t, over(0.701, 0.7))

	quarter := 0.25
	assert.InDelta(t, 0.109, quarter*turf.PhosphorusInP2O5, 5e-4)
	assert.InDelta(t, 0.573, *(&Rule{PBasis: "P"}).asP2O5(&quarter), 5e-4)
	assert.InDelta(t, 0.25, *(&Rule{PBasis: "P2O5"}).asP2O5(&quarter), 0)
	assert.InDelta(t, 0.292, 0.67*turf.PhosphorusInP2O5, 5e-4)
	assert.InDelta(t, 1.042, bag24.ProductFor(0.25), 5e-4)
	assert.InDelta(t, turf.PhosphorusInP2O5, 2*30.974/(2*30.974+5*15.999), 1e-4)

	for months, want := range map[int]float64{3: 0.933, 5: 0.720, 6: 0.667} {
		got := LargestMonthlyReleaseLb1000(2.0, 0.8, months)
		assert.InDelta(t, want, got, 5e-4)
		assert.Equal(t, months < 6, over(got, 0.7), "%d months", months)
	}
	assert.InDelta(t, 6800, TreatedFt2(8000, 80, 15), 1e-9)
	assert.Equal(t, 0.0, TreatedFt2(100, 80, 15))
}

// The cap on monthly release is tested once the product says how fast it
// releases, and printed until then.
func TestOwnDesignMonthlyRelease(t *testing.T) {
	b := inventedBook(t)
	for months, want := range map[int]string{0: "", 3: "om-state/rate-enhanced:release", 5: "om-state/rate-enhanced:release", 6: ""} {
		p := eef
		p.ReleaseMonths = months
		a := b.Ask(Question{Place: hocklan, Product: p, Date: day("2026-04-20"), AsOf: day(usualAsOf), RateLb1000: num(5)})
		assert.Equal(t, want, closing(a), "%d months", months)
	}
}

// Phosphorus caps count P2O5 or P, as the law says.
func TestOwnDesignPhosphorusCaps(t *testing.T) {
	tested := func(q *Question) { soilTest("2025-04-10")(q) }
	ask := func(b *Book, lb float64, year *float64) string {
		q := Question{Place: vellinport, Product: start, Date: day("2026-04-20"), AsOf: day(usualAsOf), RateLb1000: num(lb), AnnualP2O5Lb1000: year}
		tested(&q)
		return closing(b.Ask(q))
	}
	b := inventedBook(t)
	assert.Empty(t, ask(b, 1.0416, nil))
	assert.Equal(t, "vellinport-city/phosphorus", ask(b, 1.05, nil))
	assert.Empty(t, ask(b, 1.0, num(0.26)))
	assert.Equal(t, "vellinport-city/phosphorus", ask(b, 1.0, num(0.27)))
	asP := changed(t, "vellinport-city", func(r *Record) {
		for i := range r.Rules {
			if r.Rules[i].PBasis != "" {
				r.Rules[i].PBasis = "P"
			}
		}
	})
	assert.Empty(t, ask(asP, 2.38, nil), "0.571 lb P2O5 is under 0.25 lb P")
	assert.Equal(t, "vellinport-city/phosphorus", ask(asP, 2.39, nil))
}

func TestParseAnchor(t *testing.T) {
	for text, want := range map[string]string{
		"06-01":              "2026-06-01",
		"02-last":            "2026-02-28",
		"nth:1-Mon-09":       "2026-09-07",
		"nth:4-Thu-11":       "2026-11-26",
		"nth:4-Thu-11+1d":    "2026-11-27",
		"nth:last-Mon-05":    "2026-05-25",
		"nth:1-Thu-01-1d":    "2025-12-31",
		"nth:last-Thu-12+1d": "2027-01-01",
	} {
		a, err := ParseAnchor(text)
		require.NoError(t, err, text)
		assert.Equal(t, want, a.in(2026, false).String(), text)
		assert.Equal(t, text, a.String())
	}
	leap, err := ParseAnchor("02-29")
	require.NoError(t, err)
	assert.Equal(t, "2026-03-01", leap.in(2026, false).String(), "as a start in a common year")
	assert.Equal(t, "2026-02-28", leap.in(2026, true).String(), "as an end in a common year")
	assert.Equal(t, "2028-02-29", leap.in(2028, true).String())
	for _, bad := range []string{"", "6-1", "02-30", "13-01", "last-02", "2-last", "00-last", "nth:", "nth:2-Sun", "nth:0-Sun-03", "nth:+2-Sun-03",
		"nth:2-sun-03", "nth:2-Sun-3", "nth:2-Sun-03+", "nth:2-Sun-03+d", "nth:2-Sun-03+61d", "nth:2-Sun-03-61d", "nth:2-Sun-03+1d "} {
		_, err := ParseAnchor(bad)
		assert.Error(t, err, bad)
	}
}

// An anchor that is accepted is one day of each year, within 60 days of it.
func FuzzParseAnchor(f *testing.F) {
	for _, s := range []string{"06-01", "02-29", "02-last", "nth:2-Sun-03", "nth:last-Mon-05+1d", "nth:1-Sun-01-60d"} {
		f.Add(s, 2026)
	}
	f.Fuzz(func(t *testing.T, s string, year int) {
		a, err := ParseAnchor(s)
		if err != nil {
			return
		}
		year = 1900 + int(uint(year)%300)
		for _, end := range []bool{false, true} {
			d := a.in(year, end)
			if d < civil.MustDate(year, 1, 1)-60 || d > civil.MustDate(year, 12, 31)+60 {
				t.Errorf("%s of %d is %s", s, year, d)
			}
		}
	})
}
