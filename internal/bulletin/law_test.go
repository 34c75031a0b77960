package bulletin

import (
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/advice"
	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/law"
	"ligule/internal/message"
	"ligule/internal/workspace"
)

// straddling is a zone of two places under invented laws of the demonstration:
// one in a town whose September window ends within the week, one outside it.
func straddling(t *testing.T) (*workspace.Workspace, []law.Place) {
	t.Helper()
	var list diag.List
	read := func(name string) *diag.Table {
		text, err := os.ReadFile("../../data/ordinances/" + name + ".toml")
		require.NoError(t, err)
		root, ok := diag.ReadTOML(name, text, &list)
		require.True(t, ok)
		return root
	}
	ws := &workspace.Workspace{Phrases: phrases(t)}
	for _, name := range []string{"ossamere-lawn-nutrients", "thornelby-ponds"} {
		ws.Ordinances = append(ws.Ordinances, law.ReadRecord(read(name)))
	}
	town := law.ReadWaterRecord(read("vellinport-water"))
	town.Jurisdiction = "thornelby"
	require.NoError(t, list.Err())
	ws.Places = []law.Jurisdiction{
		{ID: "ossamere", Level: "state"},
		{ID: "corvane-county", Level: "county", Parent: "ossamere", Coverage: "none_found", CheckedOn: civil.MustDate(2026, 2, 11)},
		{ID: "thornelby", Level: "municipal", Parent: "corvane-county"},
	}
	ws.Law = law.NewBook(ws.Ordinances, ws.Places).WithWatering([]*law.WaterRecord{town})
	return ws, []law.Place{
		{Name: "Thornelby", Chain: []string{"ossamere", "corvane-county", "thornelby"}},
		{Name: "the rest", Chain: []string{"ossamere", "corvane-county"}},
	}
}

func ids(reasons []message.Message) []string {
	var out []string
	for _, r := range reasons {
		out = append(out, r.Code)
	}
	return out
}

// Each place of a straddling zone gets its own reasons, and who does it at home
// other ones than who is paid to.
func TestEachPlaceHasItsOwnReasons(t *testing.T) {
	ws, places := straddling(t)
	week := civil.Week{Year: 2026, Num: 38}
	l := zoneLaw(ws, advice.AskLaw(ws.Law, places, week, civil.MustDate(2026, 9, 13), func(civil.Date) (float64, bool) { return 0, false }))
	require.Len(t, l.Places, 2)
	assert.True(t, l.Varies)
	town, rest := l.Places[0], l.Places[1]

	assert.Equal(t, "closed_part", town.Homeowner.State)
	require.Len(t, town.Home.Closed, 1)
	assert.Equal(t, "Thornelby: closed Monday, September 14 by the Town Ponds Ordinance (sec. 3), which closes from September 1, 2026 through September 14, 2026. We read it on March 5, 2026.", ws.Voice().Say(town.Home.Closed[0]))
	assert.Equal(t, town.Home.Closed, town.Hire.Closed)
	assert.Equal(t, []string{"law.next_closes"}, ids(town.Home.Next))
	assert.Contains(t, ws.Voice().Say(town.Home.Next[0]), "November 16, 2026")
	assert.Contains(t, ws.Voice().Say(town.Hire.Next[0]), "December 2, 2026", "the state's winter begins later for hire")

	assert.Equal(t, "conditional", rest.Homeowner.State)
	assert.Empty(t, rest.Home.Closed)
	assert.Empty(t, rest.Home.Unknown)
	for _, p := range l.Places {
		assert.NotContains(t, ids(p.Home.Conditions), "condition.duty.certified_applicator", p.Place.Name)
		assert.Contains(t, ids(p.Hire.Conditions), "condition.duty.certified_applicator", p.Place.Name)
		assert.Contains(t, ids(p.Home.Conditions), "condition.buffer", p.Place.Name)
	}
	assert.Equal(t, "limited", town.Watering.State)
	assert.Equal(t, "no_record", rest.Watering.State)
	assert.Equal(t, week.Monday(), town.Watering.Monday)
}

// A record past its review leaves both uncleared, each told so.
func TestStaleLawIsClearToNobody(t *testing.T) {
	ws, places := straddling(t)
	l := zoneLaw(ws, advice.AskLaw(ws.Law, places, civil.Week{Year: 2027, Num: 20}, civil.MustDate(2027, 5, 16), func(civil.Date) (float64, bool) { return 0, false }))
	for _, p := range l.Places {
		assert.Equal(t, "not_cleared", p.Homeowner.State, p.Place.Name)
		assert.Contains(t, ids(p.Home.Unknown), "flag.stale", p.Place.Name)
		assert.Contains(t, ids(p.Hire.Unknown), "flag.stale", p.Place.Name)
	}
	assert.Equal(t, "not_cleared", l.Places[0].Watering.State)
}
