package bulletin

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/advice"
	"ligule/internal/civil"
	"ligule/internal/workspace"
)

// The facts say in codes what a grade rests on; a grade that cannot be given
// has facts too.
func TestFactsBehindGrades(t *testing.T) {
	issue := civil.MustDate(2026, 4, 12)
	byKey := map[string]Pest{}
	all := onZoysia(t, issue)
	for _, p := range all {
		one := newPest(p)
		byKey[one.ID+" "+one.Facts.Invalid] = one
	}
	patch := byKey["large-patch "]
	require.True(t, patch.Known() && patch.Judged())
	f := patch.Facts
	assert.Equal(t, []Num{0.412, 0.5, 0.28, 83}, []Num{f.Score, f.Observed, f.Ahead, f.Percentile})
	assert.True(t, f.Estimated && f.History && !f.Reported && !f.Forecast)
	assert.Equal(t, []SeasonFact{{ID: "fall-prevention", State: "open", Since: issue.AddDays(-12)}}, f.Seasons)
	assert.Nil(t, f.Stage, "a disease has none")

	mildew := byKey["powdery-mildew no-model"]
	assert.False(t, mildew.Known() || mildew.Judged())
	here := byKey["crabgrass "].Facts
	require.NotNil(t, here.Stage)
	assert.Equal(t, Num(42), here.Stage.SumC)
	assert.Equal(t, issue.AddDays(-3), here.Stage.Since)
	assert.Equal(t, issue.AddDays(4), here.Stage.NextOn)
	assert.NotEmpty(t, here.Stage.Next)
	assert.False(t, here.Score.Known())
	far := byKey["crabgrass outside-region"]
	assert.Nil(t, far.Facts.Stage)
	assert.True(t, far.Judged() && !far.Known(), "elsewhere it is")
	grubs := byKey["white-grubs "]
	assert.Equal(t, []string{"degree-days", "soil"}, grubs.Facts.Lacks)
	assert.False(t, grubs.Known())
}

// All pests stand in the order of the book again, whatever their grades.
func TestAllPestsByKindAndID(t *testing.T) {
	all := onZoysia(t, civil.MustDate(2026, 4, 12))
	pests := weekPests(&workspace.Workspace{}, all)
	kinds := []string{string(advice.Disease), string(advice.Weed), string(advice.Insect)}
	got := pests.All()
	require.Len(t, got, len(all))
	last := ""
	for _, p := range got {
		for i, kind := range kinds {
			if p.Kind == kind {
				key := string(rune('0'+i)) + p.ID
				assert.LessOrEqual(t, last, key)
				last = key
			}
		}
	}
	var none *Pests
	assert.Empty(t, none.All())
}
