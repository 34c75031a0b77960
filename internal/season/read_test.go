package season

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/agromet"
	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/turf"
)

const oneWindow = `
[[window]]
id        = "feeding"
kind      = "feeding"
title     = "Feeding season"
uses      = ["nitrogen"]
opens     = { event = "green-up", offset = "3 weeks" }
closes    = { event = "first-frost", level = "28 °F", offset = "-6 weeks" }
printed   = { from = "04-20", to = "09-10", place = "a like climate", source = "some-calendar", standing = "verified" }
tolerance = "3 weeks"
source    = "own design"
standing  = "own design"
`

func TestOwnDesignReadCalendar(t *testing.T) {
	c, list := parseCalendar("coast", "zoysia", oneWindow)
	require.NoError(t, list.Err())
	require.Len(t, c.Windows, 1)
	w := c.Windows[0]
	assert.Equal(t, Edge{Event{Kind: GreenUp}, 21}, w.Opens)
	assert.Equal(t, FirstFrost, w.Closes.Event.Kind)
	assert.InDelta(t, -2.222, w.Closes.Event.LevelC, 0.001)
	assert.Equal(t, -42, w.Closes.OffsetDays)
	assert.Equal(t, civil.Window{From: civil.MonthDay{Month: 4, Day: 20}, To: civil.MonthDay{Month: 9, Day: 10}}, w.Printed.Window)
	assert.Equal(t, 21, w.ToleranceDays)
	assert.Len(t, c.Cites(), 2)
}

func TestOwnDesignReadEvents(t *testing.T) {
	for _, c := range []struct {
		text string
		want Event
	}{
		{`event = "last-frost"`, Event{Kind: LastFrost}},
		{`event = "soil-rising", level = "10 C", depth = "5 cm"`, Event{Kind: SoilRising, LevelC: 10}},
		{`event = "soil-falling", level = "50 °F", depth = "10 cm", from = "09-01"`, Event{Kind: SoilFalling, LevelC: 10, At10cm: true, From: civil.MonthDay{Month: 9, Day: 1}}},
		{`event = "growth-falling", level = 0.25`, Event{Kind: GrowthFalling, Level: 0.25}},
		{`event = "dormancy"`, Event{Kind: Dormancy}},
		{`event = "degree-days", base = "50 °F", total = "180 °F", from = "01-01", method = "average"`,
			Event{Kind: DegreeDays, TotalC: 100, From: civil.MonthDay{Month: 1, Day: 1}, Warmth: agromet.DegreeDays{Method: agromet.AverageMethod, BaseC: 10, UpperC: posInf}}},
		{`event = "degree-days", base = "10 C", upper = "30 C", total = "100 C", from = "03-01", method = "single sine"`,
			Event{Kind: DegreeDays, TotalC: 100, From: civil.MonthDay{Month: 3, Day: 1}, Warmth: agromet.DegreeDays{Method: agromet.SineMethod, BaseC: 10, UpperC: 30, Cutoff: agromet.HorizontalCutoff}}},
		{`event = "day-falling", hours = "12.5 h"`, Event{Kind: DayFalling, Hours: 12.5}},
		{`event = "date", on = "04-01"`, Event{Kind: OnDate, On: civil.MonthDay{Month: 4, Day: 1}}},
	} {
		t.Run(c.text, func(t *testing.T) {
			text := strings.Replace(oneWindow, `{ event = "green-up", offset = "3 weeks" }`, "{ "+c.text+" }", 1)
			got, list := parseCalendar("coast", "zoysia", text)
			require.NoError(t, list.Err())
			assert.Equal(t, c.want, got.Windows[0].Opens.Event)
		})
	}
}

// Every mistake is told, with its line, and all of them at once.
func TestOwnDesignCalendarMistakes(t *testing.T) {
	const text = `
[[window]]
id        = "feeding"
kind      = "feasting"
title     = ""
uses      = ["nitrogen", "nitrogen", "nitrogn"]
opens     = { event = "soil-rising", level = "55 °F" }
closes    = { event = "first-frost", level = "90 °F", offset = "3.5 days", depht = 1 }
tolerance = "3 weeks"
source    = "own design"
standing  = "verified"

[[window]]
id        = "feeding"
kind      = "feeding"
title     = "Again"
uses      = []
opens     = { event = "degree-days", base = "50 °F", total = "9 C", from = "13-01", method = "modified average" }
closes    = { event = "growth-falling", level = 25 }
printed   = { from = "04-20", to = "09-10", source = "some-calendar", standing = "verified" }
source    = "own design"
standing  = "own design"
`
	_, list := parseCalendar("coast", "Zoysia", text)
	var got []string
	for _, p := range list.All() {
		got = append(got, p.String())
	}
	all := strings.Join(got, "\n")
	for _, want := range []string{
		`"Zoysia" in the file's path is not an id`,
		`:4: window[0].kind: `, `:5: window[0].title: `,
		`:6: window[0].uses[1]: "nitrogen" stands there twice`, `:6: window[0].uses[2]: "nitrogn" is nothing that a window uses`,
		`window[0].opens.depth: missing`,
		`:8: window[0].closes.level: 32.22 °C is out of range`, `:8: window[0].closes.offset: 3.5 is not a whole number of days`, `:8: window[0].closes.depht: `,
		`:9: window[0].tolerance: there is no printed window`,
		`window[0].standing: "own design" cannot stand as verified`,
		`:14: window[1].id: the id "feeding" is already used`,
		`:18: window[1].opens.from: `, `window[1].opens.upper: missing`,
		`:19: window[1].closes.level: 25`,
		`window[1].printed.place: missing`, `window[1].tolerance: missing`,
	} {
		assert.Contains(t, all, want)
	}
	assert.GreaterOrEqual(t, list.Errors(), 17)
}

// The calendars of the demonstration: one for every grass that a zone of the
// climate keeps, and for no other.
func TestDemonstrationCalendars(t *testing.T) {
	kept := map[string]bool{}
	zones, err := filepath.Glob("../../data/zones/*.toml")
	require.NoError(t, err)
	require.NotEmpty(t, zones)
	for _, file := range zones {
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		var list diag.List
		table, ok := diag.ReadTOML(file, text, &list)
		require.True(t, ok)
		for _, g := range table.Texts("grasses", true) {
			kept[table.ID("climate")+"/"+g+".toml"] = true
		}
	}
	files, err := filepath.Glob(calendarFolder + "/*/*.toml")
	require.NoError(t, err)
	for _, file := range files {
		path, err := filepath.Rel(calendarFolder, file)
		require.NoError(t, err)
		assert.True(t, kept[filepath.ToSlash(path)], "%s: no zone keeps it", path)
		delete(kept, filepath.ToSlash(path))
		climate, grassID := filepath.Dir(path), strings.TrimSuffix(filepath.Base(path), ".toml")
		c := demoCalendar(t, climate, grassID)
		p := grass(t, grassID)
		var kinds []WindowKind
		for _, w := range c.Windows {
			kinds = append(kinds, w.Kind)
			if w.Kind == FeedingWindow {
				assert.Contains(t, w.Uses, "nitrogen", path)
				assert.NotNil(t, w.Printed, path)
			}
		}
		for _, k := range []WindowKind{DormancyWindow, GreenUpWindow, FeedingWindow, SlowdownWindow, SpringPreEmergent, DiseaseWindow, SoddingWindow, AerationWindow, DethatchingWindow} {
			assert.Contains(t, kinds, k, path)
		}
		assert.Equal(t, p.Kind == turf.WarmSeason, slices.Contains(kinds, AutumnPreEmergent), path)
	}
	assert.Empty(t, kept, "zones that keep a grass without a calendar")
}

func FuzzReadCalendar(f *testing.F) {
	files, err := filepath.Glob(calendarFolder + "/*/*.toml")
	require.NoError(f, err)
	for _, file := range files {
		text, err := os.ReadFile(file)
		require.NoError(f, err)
		f.Add(string(text))
	}
	f.Add(oneWindow)
	f.Add("[[window]]\nopens = 3\nprinted = { from = \"02-29\", to = \"02-29\" }\n")
	p := &turf.Profile{Kind: turf.WarmSeason, OptimumC: 31, SpreadC: 7, LightFullMol: 35, SoilDormantC: 10, SoilGreenUpC: 18}
	lawn := NewRecord(invented(civil.MustDate(2001, 1, 1), civil.MustDate(2012, 5, 1), 15, 12)).Lawn(p)
	f.Fuzz(func(t *testing.T, text string) {
		c, list := parseCalendar("coast", "a-grass", text)
		if list.Err() != nil {
			return
		}
		// What is accepted can be used. What an input made the lawn remember is
		// nothing to the next.
		r, l := *lawn.record, *lawn
		r.dating, l.dating = map[Event]map[int]Dating{}, map[Event]map[int]Dating{}
		r.station, l.record = &Lawn{record: &r}, &r
		for _, r := range l.Windows(c) {
			for _, e := range []End{r.Instance.Opens, r.Instance.Closes} {
				if (e.When.Outcome == Dated) == e.When.Date.IsZero() {
					t.Errorf("%s: %+v", r.Window.ID, e.When)
				}
			}
			if r.Phase == Open && !(r.Instance.Opens.When.Date <= lawn.record.issue) || r.Days < 0 {
				t.Errorf("%s: open %+v", r.Window.ID, r.Instance)
			}
		}
	})
}
