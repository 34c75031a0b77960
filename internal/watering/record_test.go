package watering

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/diag"
	"ligule/internal/law"
)

func TestOwnDesignWateringStanding(t *testing.T) {
	r := recordOf(t, "wendrake-water")
	q := Question{Date: day("2026-07-15"), Minute: 6 * 60, House: "1427", AsOf: day("2026-03-16")}
	assert.Equal(t, Open, r.Ask(q).Verdict)
	q.AsOf = day("2027-01-08")
	assert.Equal(t, Open, r.Ask(q).Verdict)
	q.AsOf = day("2027-01-09")
	assert.Equal(t, Answer{Verdict: NotCleared, Why: "stale"}, r.Ask(q))
	q.House = "1420"
	assert.Equal(t, Closed, r.Ask(q).Verdict, "a stale law still closes")
	q.AsOf, q.House = day("2026-03-16"), "1427"

	before := q
	before.Date = day("2016-02-29")
	assert.True(t, r.Ask(before).Silent)
	changed := *r
	changed.Verification = "unverified"
	assert.Equal(t, "unverified", changed.Ask(q).Why)
	changed = *r
	changed.EffectiveTo = day("2026-07-14")
	assert.Equal(t, Answer{Verdict: NotCleared, Why: "expired"}, changed.Ask(q))
	changed = *r
	changed.Force = "voluntary"
	q.House = "1420"
	assert.Equal(t, AdvisedAgainst, changed.Ask(q).Verdict)
	changed = *r
	changed.NoNumber, q.House = "", ""
	assert.Equal(t, "no_number", changed.Ask(q).Why, "a law that does not say where a lot without a number belongs")
	changed = *r
	changed.NoNumber = "even"
	assert.Equal(t, Closed, changed.Ask(q).Verdict)
	changed = *r
	changed.SourceWater = []string{"public"}
	q.Source = "well"
	assert.True(t, changed.Ask(q).Silent)
}

func TestOwnDesignWateringTable(t *testing.T) {
	utility, drought := recordOf(t, "wendrake-water"), recordOf(t, "ivelsay-drought")
	rows, known := utility.Table(day("2026-07-15"))
	require.True(t, known)
	require.Len(t, rows, 1)
	assert.Equal(t, "summer-clock", rows[0].Part)
	assert.Equal(t, []Hours{{600, 960}}, rows[0].ClosedHours)
	assert.Equal(t, []string{"odd", "even", "nonresidential"}, []string{rows[0].Days[0].Group, rows[0].Days[1].Group, rows[0].Days[2].Group})
	assert.Equal(t, []time.Weekday{time.Wednesday, time.Saturday}, rows[0].Days[0].Days)

	rows, known = drought.Table(day("2026-06-17"))
	require.True(t, known)
	require.Len(t, rows, 3)
	assert.Equal(t, "voluntary", rows[0].Force)
	assert.Empty(t, rows[1].Days, "stage 3 replaces the days of stage 2")
	assert.NotEmpty(t, rows[1].ClosedHours)
	assert.Len(t, rows[2].Days, 5)
	rows, known = drought.Table(day("2026-04-29"))
	assert.True(t, known)
	assert.Empty(t, rows)
	_, known = drought.Table(day("2026-07-14"))
	assert.False(t, known)
}

// Reading never panics, and what is accepted can be asked anything.
func FuzzReadRecord(f *testing.F) {
	for _, name := range []string{"wendrake-water", "ivelsay-drought"} {
		f.Add(ossamere(f).Text(f, "ordinances/"+name+".toml"), "12B", 600)
	}
	f.Fuzz(func(t *testing.T, text, house string, minute int) {
		var list diag.List
		root, ok := diag.ReadTOML("f.toml", []byte(text), &list)
		if !ok {
			return
		}
		r := ReadRecord(root)
		lines := strings.Count(text, "\n") + 1
		for _, p := range list.All() {
			if p.Line < 0 || p.Line > lines || p.Line == 0 && p.Key == "" || p.What == "" {
				t.Errorf("no position: %v", p)
			}
		}
		for d := day("2026-07-01"); d < day("2026-07-08"); d++ {
			a := r.Ask(Question{Date: d, Minute: int(uint(minute) % 1440), House: house, Planted: day("2026-06-14"),
				WaterIn: &WaterIn{Date: d, DepthIn: 0.1}})
			if a.Why == "" || a.Verdict.String() == "invalid" {
				t.Errorf("no reason for %v", a)
			}
			r.Table(d)
		}
		if r.Jurisdiction == "" || len(r.ClosedHours) > 20 || len(r.Stages) > 4 || len(r.Schedules) > 4 {
			return
		}
		place := law.Place{Chain: []string{r.Jurisdiction}}
		w := NewBook([]*Record{r}, nil).Week(place, "public", day("2026-07-06"), day("2026-07-05"))
		for _, g := range w.Groups {
			if g.rank() < 0 && g.Group != "nonresidential" {
				t.Errorf("row %q has no rank", g.Group)
			}
		}
		Lint([]*Record{r}, nil, nil, day("2026-07-05"), &list)
	})
}

func TestVerdictWords(t *testing.T) {
	assert.Equal(t, "advised_against", AdvisedAgainst.String())
	assert.Equal(t, "invalid", Verdict(9).String())
}
