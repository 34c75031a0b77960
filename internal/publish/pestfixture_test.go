package publish

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"ligule/internal/advice"
	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/disease"
	"ligule/internal/herbicide"
	"ligule/internal/homeuse"
	"ligule/internal/pest"
	"ligule/internal/stage"
	"ligule/internal/turf"
	"ligule/internal/workspace"
)

// The pests of these tests are invented. QUOTED stands for a text that an
// author types.
const (
	blightFile = `
name = QUOTED(Test blight)
also = [QUOTED(Sample blight)]
pathogen = QUOTED(Fictus exempli)
about = { say = QUOTED(A blight of examples.), source = "invented-2001", standing = "verified" }
worth = { say = QUOTED(Only where it spreads.), source = "own design", standing = "own design" }
water = { say = "Leave it dry.", source = "common practice", standing = "practice" }

[hosts]
st-augustine = 3
zoysia = 2
tall-fescue = 1
source = "common practice"
standing = "memory"
  [[hosts.except]]
  of = ["zoysia"]
  source = "invented-2001"
  standing = "verified"

[model]
name = "brown-patch"
risk_from = 2
risk_full = 8
soil_from = "16 C"
nights_from = "56 °F"
nights_full = "62 °F"
share_cooling = 0.5
allowance = 0.5
source = "invented-2001"
standing = "verified"
note = QUOTED(Fitted on examples.)

[[window]]
id = "spring-prevention"
title = QUOTED(Spring prevention)
soil = "rising"
opens = "55 °F"
lasts = "28 days"
after = "02-01"
say = QUOTED(Ahead of the season.)
source = "invented-2001"
standing = "verified"

[grading]
watch = 0.25
act = 0.50
leave_watch = 0.15
leave_act = 0.35
confirmed = 0.15
common_host = 0.10
dormant_stops = true
source = "own design"
standing = "own design"

[nitrogen]
effect = "feeds"
source = "invented-2001"
standing = "verified"

[placement]
target = "leaf"
carrier = "1 gal/1000 ft2"
carrier_to = "2 gal/1000 ft2"
dry_least = "6 hours"
dry_better = "24 hours"
source = "common practice"
standing = "practice"

[treatment]
trigger = "area"
from_area = "10 %"
young_from_area = "5 %"
while_growing = true
buffer = "3 ft"
interval = "21 days"
source = "own design"
standing = "own design"

[rotation]
most_in_a_row = 2
source = "own design"
standing = "own design"

[[group]]
code = "11"
ingredients = ["testostrobin"]
effect = "good"
days_from = "21 days"
days_to = "28 days"
source = "common practice"
standing = "memory"
  [[group.except]]
  of = ["effect"]
  source = "invented-2001"
  standing = "verified"

[[group]]
code = "3"
ingredients = ["exemplazole"]
effect = "fair"
resistant = true
days_from = "14 days"
days_to = "14 days"
source = "common practice"
standing = "memory"

[[injury]]
grasses = ["zoysia"]
codes = ["3"]
say = QUOTED(It darkens the grass.)
source = "common practice"
standing = "memory"

[[look_for]]
say = QUOTED(Tan spots with a dark edge.)
source = "common practice"
standing = "practice"

[[look_alike]]
say = "Drought."
source = "common practice"
standing = "practice"

[[culture]]
say = QUOTED(Water before dawn.)
source = "invented-2001"
standing = "verified"
`
	mildewFile = `
name = "Test mildew"
pathogen = "Fictus albus"
about = { say = "A white film.", source = "common practice", standing = "practice" }
worth = { say = "Never.", source = "own design", standing = "own design" }
water = { say = "None.", source = "common practice", standing = "practice" }
hosts = { zoysia = 1, source = "common practice", standing = "memory" }
model = { name = "none", source = "own design", standing = "own design" }
grading = { watch = 0.25, act = 0.5, leave_watch = 0.15, leave_act = 0.35, confirmed = 0.15, common_host = 0.1, source = "own design", standing = "own design" }
nitrogen = { effect = "neutral", source = "common practice", standing = "practice" }
placement = { target = "leaf", source = "common practice", standing = "practice" }
treatment = { trigger = "never", buffer = "3 ft", source = "own design", standing = "own design" }
rotation = { source = "own design", standing = "own design" }
look_for = [{ say = "A white film.", source = "common practice", standing = "practice" }]
culture = [{ say = "Let in light.", source = "common practice", standing = "practice" }]
`
	weedFile = `
name = QUOTED(Testgrass)
also = ["smooth testgrass"]
botanical = ["Digitaria ficta"]
kind = "grass"
summer = true
life_cycle = QUOTED(Sprouts in spring.)
confidence = "high"
about = QUOTED(It comes up in thin turf.)
look = QUOTED(Look along pavement.)
cultural = [QUOTED(Mow high.)]
worth = "Where it was bad."
caution = "It keeps seed down as well."
afterward = "Nothing shows."
overseeding = "Choose between the two."
hosts = { zoysia = 2, st-augustine = 3, source = "common practice", standing = "memory" }
text = [{ source = "invented-2001", standing = "verified", note = "Emergence." }]

[[model]]
start = "02-15"
method = "daily mean"
temperature = "soil"
base = "12 C"
region = { south = 30 }
valid_for = QUOTED(Examples)
source = "invented-2001"
standing = "verified"
  [[model.stage]]
  id = "early"
  title = "Too early"
  grade = "quiet"
  says = "Wait."
  [[model.stage]]
  id = "open"
  title = QUOTED(Time for it)
  grade = "act"
  says = QUOTED(Now it goes down.)
  while = true
    [[model.stage.when]]
    soil = { at_least = "50 °F", over = "5 days", for = "5 days" }
    source = "own design"
    standing = "own design"
    [[model.stage.when]]
    degree_days = "140 °C d"
    source = "invented-2001"
    standing = "verified"
  [[model.stage]]
  id = "late"
  title = "Late"
  grade = "watch"
  says = "It is late."
    [[model.stage.when]]
    from = "05-01"
    after = { stage = "open", by = "21 days" }
    source = "common practice"
    standing = "memory"
  [[model.shift]]
  by = "down"
  stages = ["open"]
  says = "A dry month."
  rain = { at_most = "25 mm", over = "30 days" }
  source = "own design"
  standing = "own design"

[watering_in]
water = "0.5 in"
within = "7 days"
second_from = "6 weeks"
second_to = "8 weeks"
says = "Water it in."
source = "invented-2001"
standing = "verified"

[[treat]]
use = "before emergence"
ingredients = ["testalin"]
stages = ["open"]
when = QUOTED(On old lawns.)
source = "common practice"
standing = "practice"
`
	grubFile = `
name = "Test grubs"
botanical = ["Popillia ficta"]
life_cycle = "A year."
confidence = "medium"
treat_by_history = true
about = "Grubs eat roots."
look = "Cut three sides."
cultural = ["Water a hurt lawn."]
worth = "Over the threshold."
blooms = "Mow blooms off first."
enemies = "Birds."
next_year = "Map it."
text = [{ source = "common practice", standing = "practice" }]
hosts = { zoysia = 2, tall-fescue = 3, source = "common practice", standing = "memory" }
threshold = [{ of = QUOTED(beetle grubs), low = "8 per ft2", high = "15 per ft2", source = "invented-2001", standing = "verified" }]
sampling = [{ method = "cut and peel", does = "Count them.", source = "invented-2001", standing = "verified" }]
treat = [
  { irac = "28", ingredients = ["exempliprole"], role = "preventive", stages = ["adults"], when = "Watered in.", source = "invented-2001", standing = "verified" },
  { irac = "none", ingredients = ["nematodes"], role = "biological", stages = ["adults"], when = "In the evening.", source = "common practice", standing = "memory" },
]

[[model]]
method = "average"
temperature = "air"
base = "50 °F"
generation = "700 °F d"
generation_from = "adults"
valid_for = "Examples"
source = "common practice"
standing = "memory"
  [[model.stage]]
  id = "none"
  title = "Not yet"
  grade = "quiet"
  says = "Not yet."
  [[model.stage]]
  id = "adults"
  title = "Beetles flying"
  grade = "watch"
  says = "Beetles are out."
    [[model.stage.when]]
    degree_days = "970 °F d"
    source = "invented-2001"
    standing = "verified"
`
	miteFile = `
name = "Test mite"
botanical = ["Acarus fictus"]
life_cycle = "Weeks."
confidence = "low"
page_only = true
about = "A mite."
look = "Look."
cultural = ["Mow high."]
worth = "Never."
blooms = "None."
enemies = "Many."
text = [{ source = "common practice", standing = "memory" }]
hosts = { zoysia = 1, source = "common practice", standing = "memory" }
sampling = [{ method = "shake", does = "Shake it.", source = "common practice", standing = "practice" }]
`
	herbicidesText = `
heat = { limit = "90 °F", on = { zoysia = "85 °F", st-augustine = "85 °F" }, source = "invented-2001", standing = "verified", except = [{ of = ["on.zoysia"], source = "own design", standing = "own design" }] }
judging = { cool = "50 °F", mild = "60 °F", days = [{ class = "amine", cold = "42 days", cool = "35 days", mild = "28 days" }], source = "common practice", standing = "practice" }

[[class]]
id = "amine"
uptake = [{ at = "0 C", factor = 0 }, { at = "20 C", factor = 1 }]
title = QUOTED(Broadleaf amine)
hrac = "4"
useful_from = "60 °F"
useful_to = "85 °F"
cold = "50 °F"
heat = "90 °F"
heat_on = { zoysia = "85 °F" }
rainfast = "24 hours"
symptoms_from = "2 days"
symptoms_to = "4 days"
says = QUOTED(The everyday mix.)
source = "common practice"
standing = "memory"
  [[class.except]]
  of = ["rainfast"]
  source = "invented-2001"
  standing = "verified"

[[ingredient]]
names = ["testalin"]
hrac = "0"
pre = true
controls = QUOTED(annual grasses)
seed_broadcast = "14 weeks"
seed_slit = "16 weeks"
source = "common practice"
standing = "memory"
tolerance = { zoysia = "safe", st-augustine = "caution" }
  [[ingredient.except]]
  of = ["tolerance.zoysia"]
  source = "invented-2001"
  standing = "verified"
  note = "Not injured in the trial."

[[ingredient]]
names = ["examplic acid"]
hrac = "4"
class = "amine"
post = true
controls = "broadleaf weeds"
source = "common practice"
standing = "memory"
tolerance = { zoysia = "dormant only" }
`

	ingredientsText = `
[[ingredient]]
name = "testostrobin"
kind = "fungicide"
group = "11"
home = "H"
checked = 2026
source = "invented-2001"
standing = "verified"

[[ingredient]]
name = "exemplazole"
kind = "fungicide"
group = "3"
home = "H"
checked = 2026
source = "invented-2001"
standing = "verified"

[[ingredient]]
name = "testalin"
kind = "herbicide"
group = "3"
home = "HL"
checked = 2026
says = QUOTED(granules only)
class = "seedstop"
source = "invented-2001"
standing = "verified"

[[ingredient]]
name = "examplic acid"
kind = "herbicide"
group = "4"
home = "H"
checked = 2026
source = "invented-2001"
standing = "verified"

[[ingredient]]
name = "exempliprole"
kind = "insecticide"
group = "28"
home = "H"
checked = 2026
source = "invented-2001"
standing = "verified"

[[ingredient]]
name = "nematodes"
kind = "insecticide"
group = "none"
home = "H"
checked = 2026
source = "invented-2001"
standing = "verified"
`
)

// quoted fills in what an author types.
func quoted(text string, name func(string) string) string {
	var b strings.Builder
	for {
		before, after, ok := strings.Cut(text, "QUOTED(")
		b.WriteString(before)
		if !ok {
			return b.String()
		}
		inside, rest, _ := strings.Cut(after, ")")
		typed, _ := json.Marshal(name(inside)) // a JSON string is a TOML string
		b.Write(typed)
		text = rest
	}
}

func pestTable(t testing.TB, text string, list *diag.List) *diag.Table {
	t.Helper()
	root, ok := diag.ReadTOML("data/pests/x.toml", []byte(text), list)
	require.True(t, ok, list.Error())
	return root
}

func pestBook(t testing.TB, name func(string) string) *advice.Book {
	t.Helper()
	var list diag.List
	read := func(text string) *diag.Table { return pestTable(t, quoted(text, name), &list) }
	b := &advice.Book{
		Diseases:   []*disease.Disease{disease.Read("test-blight", read(blightFile), nil), disease.Read("test-mildew", read(mildewFile), nil)},
		Weeds:      []*stage.Weed{stage.ReadWeed("testgrass", read(weedFile), nil)},
		Insects:    []*stage.Insect{stage.ReadInsect("test-grubs", read(grubFile), nil), stage.ReadInsect("test-mite", read(miteFile), nil)},
		Herbicides: herbicide.Read(read(herbicidesText)), Ingredients: homeuse.Read(read(ingredientsText)),
	}
	require.NoError(t, list.Err())
	return b
}

// realPests reads what the demonstration tells of pests.
func realPests(t testing.TB) *advice.Book {
	t.Helper()
	var list diag.List
	each := func(folder string, read func(id string, t *diag.Table)) {
		files, err := filepath.Glob("../../data/pests/" + folder + "/*.toml")
		require.NoError(t, err)
		require.NotEmpty(t, files)
		for _, file := range files {
			text, err := os.ReadFile(file)
			require.NoError(t, err)
			read(strings.TrimSuffix(filepath.Base(file), ".toml"), pestTable(t, string(text), &list))
		}
	}
	file := func(name string) *diag.Table {
		text, err := os.ReadFile("../../data/pests/" + name)
		require.NoError(t, err)
		return pestTable(t, string(text), &list)
	}
	b, defaults := &advice.Book{Herbicides: herbicide.Read(file("herbicides.toml")), Ingredients: homeuse.Read(file("ingredients.toml"))}, file("defaults.toml")
	each("diseases", func(id string, t *diag.Table) { b.Diseases = append(b.Diseases, disease.Read(id, t, defaults)) })
	each("weeds", func(id string, t *diag.Table) { b.Weeds = append(b.Weeds, stage.ReadWeed(id, t, defaults)) })
	each("insects", func(id string, t *diag.Table) { b.Insects = append(b.Insects, stage.ReadInsect(id, t, defaults)) })
	require.NoError(t, list.Err())
	return b
}

// fixturePests is a week with every grade and every way to say nothing.
func fixturePests(ws *workspace.Workspace, p *turf.Profile, issued civil.Date) []*advice.Pest {
	nan := math.NaN()
	blight, mildew, weed, grubs, mite := ws.Pests.Diseases[0], ws.Pests.Diseases[1], ws.Pests.Weeds[0], ws.Pests.Insects[0], ws.Pests.Insects[1]
	found := func(id string, host int) pest.Assessment {
		return pest.Assessment{ID: id, Host: host, Known: true, Score: nan, Observed: nan, Ahead: nan, Percentile: nan}
	}
	one := found("test-blight", pest.CommonHost)
	one.Grade, one.Score, one.Observed, one.Ahead, one.Percentile = pest.Watch, 0.412, 0.5, 0.28, 83
	one.HasForecast, one.HumidityEstimated, one.History = true, true, true
	one.Windows = []pest.WindowState{{ID: "spring-prevention", State: pest.WindowOpen, Since: issued.AddDays(-12)}}
	for i := range 14 {
		r := pest.DayRisk{Date: issued.AddDays(i - 7), Risk: float64(i) / 20, Forecast: i >= 7}
		if i == 2 {
			r.Risk = nan
		}
		one.Days = append(one.Days, r)
	}
	two := found("test-mildew", pest.MinorHost)
	two.Known, two.Invalid = false, pest.InvalidNoModel
	timing := &weed.Timings[0]
	three := found("testgrass", pest.MainHost)
	three.Grade = pest.Act
	walked := stage.Progress{
		Method: timing.Warmth.Method, SeasonStart: issued.AddDays(-280), Stage: timing.Stages[1], Index: 1, Since: issued.AddDays(-3), Known: true, DegreeDaysC: 42, Generations: nan,
		Next: 2, NextStage: timing.Stages[2], NextOn: issued.AddDays(4), Shifts: timing.Shifts,
	}
	four := found("test-grubs", pest.CommonHost)
	fly := &grubs.Timings[0]
	if p.ID == "zoysia" {
		four.Known, four.Lacks = false, []string{"degree-days"}
	}
	flown := stage.Progress{Method: fly.Warmth.Method, SeasonStart: issued.AddDays(-325), Stage: fly.Stages[0], Since: issued.AddDays(-325), Known: four.Known, DegreeDaysC: 120, Generations: nan}
	if !four.Known {
		flown.Lacks, flown.DegreeDaysC = four.Lacks, nan
	}
	five := found("test-mite", pest.MinorHost)
	five.Known, five.Invalid = false, pest.InvalidPageOnly
	all := []*advice.Pest{
		{Kind: advice.Disease, Disease: blight, Found: one, Lawns: []*advice.Pest{{Last: &pest.Report{Place: "the low corner", Date: issued.AddDays(-5)}, Found: pest.Assessment{ProtectedUntil: issued.AddDays(9)},
			Decision: &disease.Decision{Answer: disease.AnswerClosed, Reasons: []disease.Reason{disease.ReasonSlow}, Steps: []disease.Reason{disease.StepLetItGo}}}}},
		{Kind: advice.Disease, Disease: mildew, Found: two},
		{Kind: advice.Weed, Weed: weed, Found: three, Progress: walked},
		{Kind: advice.Insect, Insect: grubs, Found: four, Progress: flown},
		{Kind: advice.Insect, Insect: mite, Found: five, Progress: stage.Progress{Invalid: pest.InvalidPageOnly}},
	}
	if p.ID == "tall-fescue" {
		// Far north of where the weed's timing holds.
		all[2].Found = found("testgrass", pest.MainHost)
		all[2].Found.Known, all[2].Found.Invalid, all[2].Progress = false, pest.InvalidRegion, stage.Progress{Invalid: pest.InvalidRegion}
	}
	return all
}
