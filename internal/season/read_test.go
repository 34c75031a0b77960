package season

import (
	"cmp"
	"fmt"
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

const oneWindow = `climates = ["coast"]
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
	calendars, list := parseCalendars("zoysia", oneWindow)
	require.NoError(t, list.Err())
	require.Len(t, calendars, 1)
	c := calendars[0]
	assert.Equal(t, "coast", c.Climate)
	assert.Equal(t, "zoysia", c.Grass)
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
			got, list := parseCalendars("zoysia", text)
			require.NoError(t, list.Err())
			assert.Equal(t, c.want, got[0].Windows[0].Opens.Event)
		})
	}
}

// Every mistake is told, with its line, and all of them at once.
func TestOwnDesignCalendarMistakes(t *testing.T) {
	const text = `climates = ["coast"]
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
	_, list := parseCalendars("Zoysia", text)
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

// Two climates, each with something of its own, and a window of one only.
const twoClimates = `climates = ["coast", "piedmont"]

[[window]]
id        = "feeding"
title     = "Feeding season"
uses      = ["nitrogen"]
opens     = { event = "green-up", offset = "3 weeks" }
closes    = { event = "growth-falling", level = 0.5 }
tolerance = "3 weeks"
source    = "some-calendar"
standing  = "verified"
note      = "Three weeks after green-up."

  [[window.in]]
  climate = "piedmont"
  opens   = { event = "growth-rising", level = 0.5 }
  note    = "None in spring."
  printed = { from = "06-01", to = "08-31", place = "a hill", source = "some-calendar", standing = "verified" }

[[window]]
id        = "before-frost"
kind      = "winterizing"
title     = "Potassium"
uses      = ["potassium"]
opens     = { event = "first-frost", offset = "-6 weeks" }
closes    = { event = "first-frost", offset = "-4 weeks" }
printed   = { from = "09-15", to = "10-01", place = "a like climate", source = "some-calendar", standing = "verified" }
tolerance = "2 weeks"
source    = "own design"
standing  = "own design"

  [[window.in]]
  climate   = "coast"
  title     = "Potassium, late"
  uses      = ["potassium", "water"]
  closes    = { event = "first-frost", offset = "-3 weeks" }
  printed   = { from = "10-01", to = "10-20", place = "a shore", source = "other-calendar", standing = "memory" }
  tolerance = "4 weeks"
  source    = "other-calendar"
  standing  = "memory"

[[window]]
id       = "sodding"
title    = "Sod"
climates = ["piedmont"]
uses     = ["water"]
opens    = { event = "date", on = "04-01" }
closes   = { event = "date", on = "10-01" }
source   = "common practice"
standing = "practice"
`

// A climate has the windows as they stand there, but for what its own blocks say.
func TestOwnDesignCalendarByClimate(t *testing.T) {
	both, list := parseCalendars("zoysia", twoClimates)
	require.NoError(t, list.Err())
	require.Len(t, both, 2)
	coast, piedmont := both[0], both[1]
	assert.Equal(t, "coast zoysia piedmont zoysia", strings.Join([]string{coast.Climate, coast.Grass, piedmont.Climate, piedmont.Grass}, " "))
	require.Len(t, coast.Windows, 2, "no sod on the coast")
	require.Len(t, piedmont.Windows, 3)

	here, there := coast.Windows[0], piedmont.Windows[0]
	assert.Equal(t, FeedingWindow, here.Kind, "which its id says")
	assert.Equal(t, Edge{Event{Kind: GreenUp}, 21}, here.Opens)
	assert.Equal(t, Edge{Event: Event{Kind: GrowthRising, Level: 0.5}}, there.Opens)
	assert.Equal(t, here.Closes, there.Closes)
	assert.Equal(t, "Three weeks after green-up.", here.Cite.Note)
	assert.Equal(t, "None in spring.", there.Cite.Note)
	assert.Equal(t, "some-calendar", there.Cite.Source, "as in the window")
	assert.Nil(t, here.Printed)
	assert.Zero(t, here.ToleranceDays, "nothing is printed on the coast")
	assert.Equal(t, "a hill", there.Printed.Place)
	assert.Equal(t, 21, there.ToleranceDays)
	assert.Equal(t, diag.Pos{File: "data/calendar/zoysia.toml", Line: 3, Col: 3, Key: "window[0]"}, here.Pos)
	assert.Equal(t, diag.Pos{File: "data/calendar/zoysia.toml", Line: 14, Col: 12, Key: "window[0].in[0]"}, there.Pos)

	here, there = coast.Windows[1], piedmont.Windows[1]
	assert.Equal(t, WinterizingWindow, here.Kind)
	assert.Equal(t, []string{"Potassium, late", "Potassium"}, []string{here.Title, there.Title})
	assert.Equal(t, [][]Use{{Potassium, Water}, {Potassium}}, [][]Use{here.Uses, there.Uses})
	assert.Equal(t, []int{-21, -28}, []int{here.Closes.OffsetDays, there.Closes.OffsetDays})
	assert.Equal(t, []string{"a shore", "a like climate"}, []string{here.Printed.Place, there.Printed.Place})
	assert.Equal(t, []int{28, 14}, []int{here.ToleranceDays, there.ToleranceDays})
	assert.Equal(t, []string{"other-calendar", "memory"}, []string{here.Cite.Source, string(here.Cite.Standing)})
	assert.Equal(t, []string{"own design", "own design"}, []string{there.Cite.Source, string(there.Cite.Standing)})
	assert.Len(t, coast.Cites(), 3)
	assert.Len(t, piedmont.Cites(), 5)

	// A block that names a source cites anew: what the window notes of its own
	// source is nothing to it.
	cited, list := parseCalendars("zoysia", strings.Replace(twoClimates, `note    = "None in spring."`, "source = \"other-calendar\"\n  standing = \"memory\"", 1))
	require.NoError(t, list.Err())
	assert.Equal(t, "other-calendar", cited[1].Windows[0].Cite.Source)
	assert.Empty(t, cited[1].Windows[0].Cite.Note)
}

// Each mistake of the form is the only one told, and its neighbor is none.
func TestOwnDesignCalendarMistakesByClimate(t *testing.T) {
	const (
		climates = `climates = ["coast", "piedmont"]`
		only     = `climates = ["piedmont"]`
		hill     = `climate = "piedmont"`
		sprung   = `{ event = "growth-rising", level = 0.5 }`
		printed  = `printed = { from = "06-01", to = "08-31", place = "a hill", source = "some-calendar", standing = "verified" }`
		shore    = `{ from = "10-01", to = "10-20", place = "a shore", source = "other-calendar", standing = "memory" }`
		cited    = "source    = \"other-calendar\"\n  standing  = \"memory\""
		second   = "[[window]]\nid        = \"before-frost\""
		third    = "[[window]]\nid       = \"sodding\""
		practice = `standing = "practice"`
		same     = "it is the same in the window itself; leave it out"
		replaced = "every climate says otherwise; keep here what one of them says, and leave it out of its block"
		unasked  = "there is no printed window to compare with; leave it out, or add printed"
	)
	block := func(lines ...string) string { return "[[window.in]]\n" + strings.Join(lines, "\n") + "\n" }
	sodOnly := climates + "\n" + twoClimates[strings.Index(twoClimates, third):]
	for _, c := range []struct {
		old, wrong string
		told       string // after the file's name
		right      string // is fine in the place of old; "" where old shows that already
	}{
		{climates, `climates = ["coast", "piedmont", "piedmond"]`, `:1: climates[2]: there is no climate "piedmond"; did you mean "piedmont"?`, `climates = ["coast", "piedmont", "mountains"]`},
		{climates, `climates = ["coast", "piedmont", "coast"]`, `:1: climates[2]: "coast" stands there twice; leave it out once`, ""},
		{climates, "", `:1: climates: missing; add climates = ["…"]`, ""},
		{climates, "climates = []", `:1: climates: it names no climate; name at least one`, ""},
		{twoClimates, climates, `:1: window: the calendar has no window; add [[window]] with id, title, uses, opens and closes`, ""},
		{twoClimates, sodOnly, `:1: climates[0]: the calendar has no window in "coast"; leave it out, or give it a window`, strings.Replace(sodOnly, only+"\n", "", 1)},

		{only, `climates = ["mountains"]`, `:45: window[2].climates[0]: the grass has no calendar in "mountains"; use one of coast, piedmont`, `climates = ["coast"]`},
		{only, `climates = ["piedmont", "coast"]`, `:45: window[2].climates: a window is in every climate of its file anyway; leave it out`, ""},
		{only, `climates = ["coast", "mountains"]`, `:45: window[2].climates[1]: the grass has no calendar in "mountains"; use one of coast, piedmont`, ""},
		{only, `climates = ["piedmont", "piedmont"]`, `:45: window[2].climates[1]: "piedmont" stands there twice; leave it out once`, ""},
		{only, `climates = []`, `:45: window[2].climates: it names no climate; name at least one`, ""},

		{hill, `climate = "mountains"`, `:15: window[0].in[0].climate: there is no such window in "mountains"; use one of coast, piedmont`, `climate = "coast"`},
		{hill, `climate = "coats"`, `:15: window[0].in[0].climate: there is no such window in "coats"; did you mean "coast"?`, ""},
		{hill, "", `:14: window[0].in[0].climate: missing; add climate = "lower-case-words"`, ""},
		{second, block(hill, `title = "Again"`) + second, `:21: window[0].in[1].climate: "piedmont" has a block already; put both into one block`, block(`climate = "coast"`, `title = "Again"`) + second},
		{second, block(`climate = "coast"`) + second, `:20: window[0].in[1]: it differs in nothing and prints nothing; leave it out`, ""},
		{practice, practice + "\n" + block(`climate = "coast"`, `title = "Turf"`), `:52: window[2].in[0].climate: there is no such window in "coast"; use one of piedmont`, ""},
		{hill, hill + "\nkind = \"feeding\"", `:16: window[0].in[0].kind: unknown key; use one of climate, closes, note, opens, printed, source, standing, title, tolerance, uses`, ""},

		// A block says what the window itself says.
		{hill, hill + "\ntitle = \"Feeding season\"", `:16: window[0].in[0].title: ` + same, hill + "\ntitle = \"Feeding seasons\""},
		{hill, hill + "\nuses = [\"nitrogen\"]", `:16: window[0].in[0].uses: ` + same, hill + "\nuses = [\"nitrogen\", \"iron\"]"},
		{sprung, `{ event = "green-up", offset = "21 days" }`, `:16: window[0].in[0].opens: ` + same, `{ event = "green-up", offset = "22 days" }`},
		{hill, hill + "\ncloses = { event = \"growth-falling\", level = 0.50 }", `:16: window[0].in[0].closes: ` + same, hill + "\ncloses = { event = \"growth-falling\", level = 0.51 }"},
		{hill, hill + "\ntolerance = \"21 days\"", `:16: window[0].in[0].tolerance: ` + same, hill + "\ntolerance = \"22 days\""},
		{`"None in spring."`, `"Three weeks after green-up."`, `:17: window[0].in[0].note: ` + same, ""},
		{shore, `{ from = "09-15", to = "10-01", place = "a like climate", source = "some-calendar", standing = "verified" }`, `:37: window[1].in[0].printed: ` + same,
			`{ from = "09-15", to = "10-01", place = "a like climate", source = "some-calendar", standing = "memory" }`},
		{cited, "source = \"own design\"\nstanding = \"own design\"", `:39: window[1].in[0].source: ` + same, "source = \"own design\"\nstanding = \"own design\"\nnote = \"Late.\""},
		{cited, "source = \"other-calendar\"", `:32: window[1].in[0].standing: missing; add standing = "verified" or "memory" or "practice" or "own design"`, ""},
		{cited, "source = \"own design\"\nstanding = \"memory\"", `:40: window[1].in[0].standing: "own design" cannot stand as memory; write "own design"`, ""},
		{sprung, `{ event = "growth-falling", level = 0.5 }`, `:16: window[0].in[0].opens: it closes on the day it opens; let it close after it opens`, `{ event = "growth-falling", level = 0.6 }`},

		// A window says what is so in none of its climates.
		{second, block(`climate = "coast"`, `note = "Early."`) + second, `:12: window[0].note: ` + replaced, block(`climate = "coast"`, `title = "Early"`) + second},
		{third, block(hill, `printed = `+strings.Replace(shore, "shore", "hill", 1)) + third, `:27: window[1].printed: ` + replaced, block(hill, `note = "Early."`) + third},

		// Tolerance goes with print, in the window or in a block.
		{printed, "", `:9: window[0].tolerance: ` + unasked, ""},
		{printed, `tolerance = "4 weeks"` + "\n" + block(`climate = "coast"`, printed), `:18: window[0].in[0].tolerance: ` + unasked, block(`climate = "coast"`, printed)},
		{"tolerance = \"3 weeks\"\n", "", `:13: window[0].in[0].tolerance: missing; add tolerance = "1 days"`, ""},
		{"tolerance = \"2 weeks\"\n", "", `:20: window[1].tolerance: missing; add tolerance = "1 days"`, ""},
		{`"4 weeks"`, `"61 days"`, `:38: window[1].in[0].tolerance: 61 days is out of range; use 0 to 60 days`, `"60 days"`},

		// The kind, which the id may say, and what it uses.
		{`kind      = "winterizing"`, "", `:20: window[1].kind: missing; add kind = "` + strings.Join(WindowKinds(), `" or "`) + `"`, `kind = "aeration"`},
		{`title     = "Feeding season"`, "kind = \"aeration\"\ntitle = \"Feeding season\"", `:5: window[0].kind: the id is the name of another kind; leave it out, or give the window another id`, "kind = \"feeding\"\ntitle = \"Feeding season\""},
		{`uses      = ["nitrogen"]`, `uses = ["iron"]`, `:6: window[0].uses: the work of the kind "feeding" uses nitrogen; add "nitrogen"`, `uses = ["iron", "nitrogen"]`},
		{`uses      = ["potassium", "water"]`, `uses = ["water"]`, `:35: window[1].in[0].uses: the work of the kind "winterizing" uses potassium; add "potassium"`, ""},
	} {
		require.Contains(t, twoClimates, c.old)
		told := func(text string) (out []string) {
			_, list := parseCalendars("zoysia", strings.Replace(twoClimates, c.old, text, 1))
			for _, p := range list.All() {
				out = append(out, strings.TrimPrefix(p.String(), "data/calendar/zoysia.toml"))
			}
			return out
		}
		assert.Equal(t, []string{c.told}, told(c.wrong), "%s", c.wrong)
		assert.Empty(t, told(cmp.Or(c.right, c.old)), "%s", c.right)
	}
}

// A window names what its kind cannot be done without, and may use nothing where
// its kind does not.
func TestOwnDesignKindsUse(t *testing.T) {
	implied := map[WindowKind]string{
		FeedingWindow: "nitrogen", WinterizingWindow: "potassium", SpringPreEmergent: "herbicide", AutumnPreEmergent: "herbicide", PostEmergentWindow: "herbicide",
		DiseaseWindow: "fungicide", SeedingWindow: "seed", OverseedingWindow: "seed", SoddingWindow: "water", GrubPreventionWindow: "insecticide",
	}
	for _, kind := range WindowKinds() {
		text := strings.Replace(strings.Replace(oneWindow, `"feeding"`+"\nkind", `"a-window"`+"\nkind", 1), `kind      = "feeding"`, `kind = "`+kind+`"`, 1)
		uses := func(list string) error {
			_, mistakes := parseCalendars("zoysia", strings.Replace(text, `["nitrogen"]`, list, 1))
			return mistakes.Err()
		}
		use, needed := implied[WindowKind(kind)]
		if !needed {
			assert.NoError(t, uses("[]"), kind)
			continue
		}
		assert.NoError(t, uses(`["`+use+`"]`), kind)
		assert.ErrorContains(t, uses("[]"), `:6: window[0].uses: the work of the kind "`+kind+`" uses `+use+`; add "`+use+`"`)
	}
}

const calendarDefaults = `[window.feeding]
id        = "feeding"
title     = "Feeding season"
uses      = ["nitrogen"]
opens     = { event = "green-up", offset = "3 weeks" }
closes    = { event = "growth-falling", level = 0.5 }
tolerance = "3 weeks"
source    = "some-calendar"
standing  = "verified"
note      = "Three weeks after green-up."

[window.sod]
id        = "sodding"
title     = "Sod"
uses      = ["water"]
opens     = { event = "date", on = "04-01" }
closes    = { event = "date", on = "10-01" }
printed   = { from = "04-01", to = "09-30", place = "a hill", source = "some-calendar", standing = "verified" }
tolerance = "2 weeks"
source    = "own design"
standing  = "own design"
`

const overDefaults = `climates = ["coast", "piedmont"]

[[window]]
like = "feeding"

  [[window.in]]
  climate = "piedmont"
  printed = { from = "06-01", to = "08-31", place = "a hill", source = "some-calendar", standing = "verified" }

[[window]]
like = "sod"

[[window]]
like  = "sod"
id    = "plugs"
kind  = "sodding"
title = "Plugs"
`

// What a window leaves out is the default's, with the default's source; what it
// writes is its own. The default's tolerance is for where something is printed.
func TestOwnDesignCalendarTakesDefaults(t *testing.T) {
	both, all, list := parseCalendarsOver(calendarDefaults, "zoysia", overDefaults)
	all.CloseTaken()
	require.NoError(t, list.Err())
	coast, piedmont := both[0].Windows, both[1].Windows
	require.Len(t, coast, 3)
	here := coast[0]
	assert.Equal(t, []string{"feeding", "Feeding season", string(FeedingWindow)}, []string{here.ID, here.Title, string(here.Kind)})
	assert.Equal(t, Edge{Event{Kind: GreenUp}, 21}, here.Opens)
	assert.Equal(t, "Three weeks after green-up.", here.Cite.Note)
	assert.Equal(t, diag.Pos{File: "data/calendar/defaults.toml", Line: 8, Col: 1, Key: "window.feeding.source"}, here.Cite.Pos)
	assert.Equal(t, diag.Pos{File: "data/calendar/zoysia.toml", Line: 3, Col: 3, Key: "window[0]"}, here.Pos)
	assert.Nil(t, here.Printed)
	assert.Zero(t, here.ToleranceDays)
	assert.Equal(t, 21, piedmont[0].ToleranceDays)
	assert.Equal(t, []string{"sodding", "Sod", "a hill"}, []string{coast[1].ID, coast[1].Title, coast[1].Printed.Place})
	assert.Equal(t, []string{"plugs", "Plugs", "a hill"}, []string{coast[2].ID, coast[2].Title, coast[2].Printed.Place})

	// A window that names a source cites anew, and the default's note is not its own.
	cited, _, list := parseCalendarsOver(calendarDefaults, "zoysia", strings.Replace(overDefaults, `like = "feeding"`, `like = "feeding"
opens = { event = "green-up", offset = "4 weeks" }
source = "own design"
standing = "own design"`, 1))
	require.NoError(t, list.Err())
	here = cited[0].Windows[0]
	assert.Equal(t, []int{28, 0}, []int{here.Opens.OffsetDays, here.Closes.OffsetDays})
	assert.Equal(t, []string{"own design", ""}, []string{here.Cite.Source, here.Cite.Note})
}

// Each mistake is the only one told, in the file and the line where it stands.
func TestOwnDesignMistakesInCalendarDefaults(t *testing.T) {
	const (
		feeding = `like = "feeding"`
		sod     = `like = "sod"`
		closes  = `closes    = { event = "growth-falling", level = 0.5 }`
		anew    = "\nsource = \"own design\"\nstanding = \"own design\""
	)
	for _, c := range []struct {
		old, wrong string
		told       string // after the folder's name
		right      string // is fine in the place of old; "" where old shows that already
	}{
		// In the calendar.
		{sod, `like = "sood"`, `zoysia.toml:11: window[1].like: there is no default window "sood"; did you mean "sod"?`, ""},
		{sod, sod + "\nid = \"seeding\"\nkind = \"sodding\"", `zoysia.toml:13: window[1].kind: the id is the name of another kind; leave it out, or give the window another id`, sod + "\nid = \"turf\"\nkind = \"sodding\""},
		{sod, feeding, `zoysia.toml:10: window[1].id: the id "feeding" is already used in this file; give each window its own id`, feeding + "\nid = \"feeding-late\"\nkind = \"feeding\""},
		{feeding, feeding + "\nuses = [\"nitrogen\"]", `zoysia.toml:5: window[0].uses: "uses" repeats the default; leave it out`, feeding + "\nuses = [\"nitrogen\", \"iron\"]"},
		{feeding, feeding + "\nuses = [\"iron\"]", `zoysia.toml:5: window[0].uses: the work of the kind "feeding" uses nitrogen; add "nitrogen"`, ""},
		{feeding, feeding + "\nopens = { event = \"green-up\" }", `zoysia.toml:5: window[0].opens: "opens" was not read in the source of the default; add source and standing`, feeding + "\nopens = { event = \"green-up\" }" + anew},
		{feeding, feeding + "\ncloses = { event = \"slowdown\" }", `zoysia.toml:5: window[0].closes: "closes" was not read in the source of the default; add source and standing`, feeding + "\ncloses = { event = \"slowdown\" }" + anew},
		{feeding, feeding + "\nopens = { event = \"growth-falling\", level = 0.5 }" + anew, `zoysia.toml:5: window[0].opens: it closes on the day it opens; let it close after it opens`, ""},
		{feeding, feeding + "\nsource = \"some-calendar\"\nstanding = \"verified\"", `zoysia.toml:5: window[0].source: "source" repeats the default; leave it out` + "\n" + `zoysia.toml:6: window[0].standing: "standing" repeats the default; leave it out`, feeding + "\nsource = \"some-calendar\"\nstanding = \"memory\""},
		{feeding, feeding + "\nsource = \"other-calendar\"", `zoysia.toml:3: window[0].standing: missing; add standing = "verified" or "memory" or "practice" or "own design"`, ""},
		{feeding, feeding + "\nnote = \"Three weeks after green-up.\"", `zoysia.toml:5: window[0].note: "note" repeats the default; leave it out`, feeding + "\nnote = \"Three weeks after green-up.\"" + anew},
		{sod, sod + "\n[[window.in]]\nclimate = \"coast\"\nuses = [\"water\"]", `zoysia.toml:14: window[1].in[0].uses: it is the same in the window itself; leave it out`, ""},
		// In the defaults.
		{closes, "", `zoysia.toml:3: window[0].closes: missing; add closes = [window[0].closes]`, ""},
		{closes, `closes = { event = "growth-falling", level = 5 }`, `defaults.toml:6: window.feeding.closes.level: 5.00 is out of range; use 0.02 to 0.98 `, ""},
		{closes, closes + "\nclimate = \"coast\"", `defaults.toml:7: window.feeding.climate: nothing takes it; did you mean "climates"?`, ""},
		{"[window.sod]", "[window.sods]\n[window.sod]", `defaults.toml:12: window.sods: nothing takes it; did you mean "sod"?`, ""},
		{"[window.feeding]", "[windows]\n[window.feeding]", `defaults.toml:1: windows: nothing takes it; did you mean "window"?`, ""},
	} {
		told := func(text string) string {
			defaults, calendar := strings.Replace(calendarDefaults, c.old, text, 1), strings.Replace(overDefaults, c.old, text, 1)
			require.True(t, defaults != calendarDefaults || calendar != overDefaults || text == c.old, c.old)
			_, all, list := parseCalendarsOver(defaults, "zoysia", calendar)
			all.CloseTaken()
			var out []string
			for _, p := range list.All() {
				if !strings.Contains(p.What, "nothing takes it: all") {
					out = append(out, strings.TrimPrefix(p.String(), "data/calendar/"))
				}
			}
			return strings.Join(out, "\n")
		}
		assert.Equal(t, c.told, told(c.wrong), "%s", c.wrong)
		assert.Empty(t, told(cmp.Or(c.right, c.old)), "%s", c.right)
	}
}

// What two windows of the demonstration say alike stands among the defaults.
func TestDemonstrationCalendarsSayNothingTwice(t *testing.T) {
	said := map[string]string{}
	tell := func(name string, w *diag.Table) {
		var says []string
		for _, key := range w.Keys() {
			if key != "in" && key != "printed" && key != "tolerance" {
				value, _ := w.Raw(key)
				says = append(says, fmt.Sprint(key, value))
			}
		}
		slices.Sort(says)
		if len(says) == 1 && w.Has("like") {
			return
		}
		all := strings.Join(says, "\n")
		assert.Empty(t, said[all], "%s says the same", name)
		said[all] = name
	}
	var list diag.List
	read := func(name string) *diag.Table {
		root, ok := diag.ReadTOML(name, []byte(calendarText(t, name)), &list)
		require.True(t, ok)
		return root
	}
	defaults := read("defaults").Table("window", false)
	for _, key := range defaults.Keys() {
		tell("the default "+key, defaults.Table(key, true))
	}
	for _, g := range demoGrasses(t) {
		for i, w := range read(g).Tables("window") {
			tell(fmt.Sprintf("window %d of %s", i, g), w)
		}
	}
	require.NoError(t, list.Err())
	assert.Greater(t, len(said), 24)
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
			kept[table.ID("climate")+"/"+g] = true
		}
	}
	var calendars []*Calendar
	for _, g := range demoGrasses(t) {
		calendars = append(calendars, demoCalendars(t, g)...)
	}
	for _, c := range calendars {
		path := c.Climate + "/" + c.Grass
		assert.True(t, kept[path], "%s: no zone keeps it", path)
		delete(kept, path)
		p := grass(t, c.Grass)
		var kinds []WindowKind
		for _, w := range c.Windows {
			kinds = append(kinds, w.Kind)
			if w.Kind == FeedingWindow {
				assert.Contains(t, w.Uses, Nitrogen, path)
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
	for _, g := range demoGrasses(f) {
		f.Add(calendarText(f, g))
	}
	defaults := calendarText(f, "defaults")
	f.Add(oneWindow)
	f.Add(twoClimates)
	f.Add("[[window]]\nopens = 3\nprinted = { from = \"02-29\", to = \"02-29\" }\n")
	p := &turf.Profile{Kind: turf.WarmSeason, OptimumC: 31, SpreadC: 7, LightFullMol: 35, SoilDormantC: 10, SoilGreenUpC: 18}
	lawn := NewRecord(invented(civil.MustDate(2001, 1, 1), civil.MustDate(2012, 5, 1), 15, 12)).Lawn(p)
	f.Fuzz(func(t *testing.T, text string) {
		calendars, _, list := parseCalendarsOver(defaults, "a-grass", text)
		if list.Err() != nil {
			return
		}
		// What is accepted can be used. What an input made the lawn remember is
		// nothing to the next.
		r, l := *lawn.record, *lawn
		r.dating, l.dating = map[Event]map[int]Dating{}, map[Event]map[int]Dating{}
		r.station, l.record = &Lawn{record: &r}, &r
		for _, c := range calendars {
			for _, r := range l.Windows(c) {
				for _, e := range []End{r.Instance.Opens, r.Instance.Closes} {
					if (e.When.Outcome == Dated) == e.When.Date.IsZero() {
						t.Errorf("%s: %+v", r.Window.ID, e.When)
					}
				}
				if r.Phase == Open && !(r.Instance.Opens.When.Date <= lawn.record.issue) || r.Days < 0 {
					t.Errorf("%s: open %+v", r.Window.ID, r.Instance)
				}
				if r.Window.Printed == nil && r.Window.ToleranceDays != 0 || r.Window.ID == "" || r.Window.Kind == "" || r.Window.Cite.Source == "" {
					t.Errorf("%s: accepted %+v", c.Climate, r.Window)
				}
			}
		}
	})
}
