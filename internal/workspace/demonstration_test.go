package workspace

import (
	"reflect"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/civil"
	"ligule/internal/law"
	"ligule/internal/watering"
)

// unset lists the exported fields that are zero in all of some values.
func unset[T any](list []T) []string {
	var out []string
	for _, f := range reflect.VisibleFields(reflect.TypeFor[T]()) {
		used := slices.ContainsFunc(list, func(x T) bool { return !reflect.ValueOf(x).FieldByIndex(f.Index).IsZero() })
		if f.IsExported() && !used {
			out = append(out, f.Name)
		}
	}
	return out
}

// The demonstration is there to be copied from: every key of a record stands
// in one of its laws, but for those named here.
func TestOwnDesignDemonstrationShowsEveryKeyOfARecord(t *testing.T) {
	ws, _ := lawWith(t, nil)
	var records []law.Record
	var rules []law.Rule
	var spans []law.When
	for _, r := range ws.Ordinances {
		records = append(records, *r)
		rules = append(rules, r.Rules...)
		for _, x := range r.Rules {
			spans = append(spans, x.When...)
		}
	}
	assert.Equal(t, []string{"LapseConfirmed"}, unset(records))
	assert.Empty(t, unset(rules))
	assert.Empty(t, unset(spans))
	var kinds, bounds, basis, verified, statuses []string
	for _, w := range spans {
		kinds, bounds, basis = append(kinds, w.Kind), append(bounds, w.Bounds), append(basis, w.BoundsBasis)
	}
	for _, r := range records {
		verified, statuses = append(verified, string(r.Verification)), append(statuses, string(r.Status))
	}
	assert.Subset(t, kinds, []string{"annual", "dates", "after_planting", "declared", "season"})
	assert.Subset(t, bounds, []string{"[]", "[)", "(]", "()"})
	assert.Subset(t, basis, []string{"text", "agency", "assumed"})
	assert.Subset(t, verified, []string{"verified", "secondary", "unverified"})
	assert.Subset(t, statuses, []string{"in_force", "enjoined", "superseded"})

	var water []watering.Record
	for _, r := range ws.Watering {
		water = append(water, *r)
	}
	assert.Equal(t, []string{"EffectiveTo", "CalendarParity", "ClosedOn31st"}, unset(water))
}

// What the invented watering laws say in the weeks of the four issues.
func TestOwnDesignWateringOfTheDemonstrationWeeks(t *testing.T) {
	ws, _ := lawWith(t, nil)
	issues := []civil.Date{civil.MustDate(2026, 4, 12), civil.MustDate(2026, 7, 12), civil.MustDate(2026, 9, 13), civil.MustDate(2026, 11, 22)}
	for _, row := range []struct {
		zone, place string
		states      [4]string // April, July, September, November
		waterIn     [4]string
	}{
		{"gannet-shore", "Vellinport", [4]string{"limited", "limited", "limited", "limited"}, [4]string{"exempt", "exempt", "exempt", "exempt"}},
		{"gannet-shore", "the unincorporated shore", [4]string{"limited", "limited", "limited", "limited"}, [4]string{"exempt", "exempt", "exempt", "exempt"}},
		{"brackmoor-plateau", "the Ivelsay watershed", [4]string{"open", "limited", "advised_against", "open"}, [4]string{"not_needed", "not_exempt", "not_needed", "not_needed"}},
		{"redfallow-piedmont", "Thornelby", [4]string{"no_record", "no_record", "no_record", "no_record"}, [4]string{}},
	} {
		z, ok := ws.Zone(row.zone)
		require.True(t, ok)
		i := slices.IndexFunc(z.Places, func(p law.Place) bool { return p.Name == row.place })
		require.GreaterOrEqual(t, i, 0, row.place)
		for k, issued := range issues {
			w := ws.WaterLaw.Week(z.Places[i], "public", issued+1, issued)
			assert.Equal(t, row.states[k], w.State, "%s on %s", row.place, issued)
			assert.Equal(t, row.waterIn[k], w.WaterIn.State, "%s on %s", row.place, issued)
		}
	}
	z, _ := ws.Zone("gannet-shore")
	july := ws.WaterLaw.Week(z.Places[0], "public", civil.MustDate(2026, 7, 13), civil.MustDate(2026, 7, 12))
	require.NotNil(t, july.MaxDepthIn)
	assert.Equal(t, "vellinport-water", july.MaxDepthIn.Record.ID)
	assert.Equal(t, 12, july.WaterIn.Hours, "the city's hours are the shorter")
	assert.Equal(t, []watering.Hours{{From: 0, To: 540}, {From: 1020, To: 1440}}, july.Groups[0].Days[2].At(watering.Open))
}

// The list of what is due, as of the November issue.
func TestOwnDesignReviewsOfTheDemonstration(t *testing.T) {
	ws, _ := lawWith(t, nil)
	asOf := civil.MustDate(2026, 11, 22)
	var due []string
	for _, r := range watering.Reviews(ws.Law, ws.WaterLaw, asOf) {
		if r.Within(asOf, 60) {
			due = append(due, r.What+" "+r.Jurisdiction)
		}
	}
	assert.Equal(t, []string{"not_checked selvary-county", "review ivelsay-district", "effective brackmoor-county", "review wendrake-county", "review ossamere"}, due)
}
