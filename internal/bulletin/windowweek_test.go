package bulletin

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/civil"
	"ligule/internal/season"
)

// A week names every window of a calendar; where each stands it knows by the
// weather alone.
func TestWindowsOfAWeek(t *testing.T) {
	c := &season.Calendar{Windows: []season.Window{{ID: "feeding", Kind: season.FeedingWindow, Title: "Feeding season"}, {ID: "sod", Kind: season.SoddingWindow, Title: "Sodding"}}}
	opens := civil.MustDate(2026, 4, 12)
	open := season.Reading{Window: c.Windows[0], Phase: season.Open, Instance: season.Instance{
		Year:   2026,
		Opens:  season.End{Basis: season.Happened, When: season.Moment{Outcome: season.Dated, Date: opens}},
		Closes: season.End{Basis: season.Expected, When: season.Moment{Outcome: season.Never}},
	}}
	got := windowWeeks(c, []season.Reading{open, {Window: c.Windows[1], Phase: season.CannotSay}})
	require.Len(t, got, 2)
	assert.Equal(t, WindowWeek{ID: "feeding", Kind: "feeding", Title: "Feeding season", Phase: WindowOpen, Year: 2026, Opens: opens, OpensBy: "happened", ClosesBy: "expected"}, got[0])
	assert.Equal(t, WindowWeek{ID: "sod", Kind: "sodding", Title: "Sodding", Phase: WindowUnknown}, got[1])
	for i, w := range windowWeeks(c, nil) {
		assert.Equal(t, c.Windows[i].ID, w.ID)
		assert.Empty(t, w.Phase, "no weather")
	}
	assert.Nil(t, windowWeeks(nil, nil))
}
