package bulletin

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/civil"
	"ligule/internal/law"
	"ligule/internal/message"
)

// What is cut from one long answer is what a question about the shorter stretch
// of days would have found.
func TestClosingsAreCutFromOneAnswer(t *testing.T) {
	ws, places := straddling(t)
	for day := civil.MustDate(2026, 1, 4); day < civil.MustDate(2027, 1, 1); day = day.AddDays(28) {
		c := NewClosings(ws.Law, places, Law{}, day)
		for i, place := range places {
			for _, n := range law.Nutrients() {
				for _, days := range []int{0, 27, 56, 364, 700} {
					from, to := day.AddDays(-days/3), day.AddDays(days)
					assert.Equal(t, ws.Law.ClosedSeasons(place, law.Homeowner, n, from, to, day), c.seasons(i, n, from, to), "%s %s %q %d", day, place.Name, n, days)
				}
			}
		}
	}
}

// The parts of a window that the law closes are said once for all places alike,
// each with its true days; phosphorus is closed save for exceptions.
func TestClosingsOfAWindow(t *testing.T) {
	ws, places := straddling(t)
	say := func(all []WindowLaw) (out []string) {
		for _, l := range all {
			out = append(out, ws.Voice().Say(l.Says.Message))
		}
		return out
	}
	c := NewClosings(ws.Law, places, Law{Places: make([]PlaceLaw, 2)}, civil.MustDate(2026, 8, 2))
	assert.Equal(t, []string{
		"Closed by local rule, Thornelby: September 1, 2026 through September 14, 2026.",
		"Closed by local rule, everywhere in this zone: November 16, 2026 through February 28, 2027.",
	}, say(c.window([]string{"nitrogen"}, civil.MustDate(2026, 8, 15), civil.MustDate(2026, 11, 20))))
	assert.Equal(t, []string{"We found no local rule that closes it."}, say(c.window([]string{"nitrogen"}, civil.MustDate(2026, 10, 1), civil.MustDate(2026, 10, 20))))
	assert.Contains(t, say(c.window([]string{"phosphorus"}, civil.MustDate(2026, 10, 1), civil.MustDate(2026, 10, 20)))[0], "with no end on record")
	assert.Empty(t, c.window([]string{"water", "seed"}, civil.MustDate(2026, 10, 1), civil.MustDate(2026, 10, 20)))

	unread := NewClosings(ws.Law, places, Law{}, civil.MustDate(2026, 8, 2))
	assert.Equal(t, []string{ws.Voice().Word("window_law.not_cleared")}, say(unread.window([]string{"iron"}, civil.MustDate(2026, 10, 1), civil.MustDate(2026, 10, 20))))
}

// Turns lie after the issue date, and lanes hold every place once.
func TestClosingsAhead(t *testing.T) {
	ws, places := straddling(t)
	c := NewClosings(ws.Law, places, Law{Places: make([]PlaceLaw, 2)}, civil.MustDate(2026, 9, 13))
	turns := c.turns(civil.MustDate(2026, 11, 30))
	require.Len(t, turns, 2)
	assert.Equal(t, civil.MustDate(2026, 9, 15), turns[0].date)
	assert.True(t, turns[0].says.Equal(message.New("ahead.law_opens").With("places", message.Texts(message.Comma, "Thornelby"))))
	assert.Equal(t, civil.MustDate(2026, 11, 16), turns[1].date)
	assert.True(t, turns[1].says.Equal(message.New("ahead.law_closes").With("places", message.Word("law.everywhere").Lowered())))

	lanes := c.lanes(civil.MustDate(2026, 6, 1), civil.MustDate(2027, 5, 31))
	require.Len(t, lanes, 2)
	assert.Len(t, lanes[0].Runs, 3, "both windows of the town, and the winter between them")
	require.Len(t, lanes[1].Runs, 1)
	assert.Equal(t, civil.MustDate(2026, 11, 16), lanes[1].Runs[0].First)
	assert.Equal(t, Shut, lanes[1].Runs[0].Kind)
	assert.Nil(t, lanes[1].Bare)
}
