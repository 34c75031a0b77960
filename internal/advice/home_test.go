package advice

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/disease"
	"ligule/internal/message"
	"ligule/internal/pest"
	"ligule/internal/spray"
	"ligule/internal/stage"
)

// ofInsect gives the grass an insect of the demonstration at a stage, and a rule to
// treat it.
func ofInsect(t testing.TB, id, at string) func(*Input) {
	return func(in *Input) {
		in.Pests = pests(t)
		i, ok := in.Pests.Insect(id)
		require.True(t, ok, id)
		p := &Pest{Kind: Insect, Insect: i, Found: pest.Assessment{Known: true}, Progress: stage.Progress{Known: true, Stage: stage.Stage{ID: at}}}
		r := proposal(Insect, Insecticide)
		r.Each = Insect
		in.found, in.Rules = []*Pest{p}, []*Rule{r}
	}
}

// namesIn are the texts that stand in messages, however deep.
func namesIn(all []message.Message) []string {
	var out []string
	var value func(message.Value)
	one := func(m message.Message) {
		for _, s := range m.Slots {
			value(s.Value)
		}
	}
	value = func(v message.Value) {
		if v.Kind == message.TextKind {
			out = append(out, v.Text)
		}
		if v.Message != nil {
			one(*v.Message)
		}
		for _, p := range v.Parts {
			value(p)
		}
	}
	for _, m := range all {
		one(m)
	}
	return out
}

// A bait wants a dry day: rain in 20 hours holds it, rain a day later does not
// (Texas two-step handout 2013).
func TestEdgesOfDryHoursOfInsecticides(t *testing.T) {
	hours := func(rainAfter int) func(*Input) {
		return func(in *Input) {
			for k := range 72 {
				h := spray.Hour{Date: issue29.AddDays(3 + k/24), Of: k % 24, TC: 20, RHPct: 60, WindMS: 2, GustMS: 2, CloudPct: 80, SinceSunriseH: float64(k%24) - 6, ToSunsetH: 18 - float64(k%24)}
				if k < 9 || k > 10 { // dark but from 9 to 11 of the first day
					h.ToSunsetH = -1
				}
				if k == 10+rainAfter {
					h.RainMM = 9
				}
				in.Hours = append(in.Hours, h)
			}
		}
	}
	const held = "wait spray gate.spray.none"
	holdEdges(t, []edge{
		{"fire ant bait, rain in 20 hours", both(ofInsect(t, "imported-fire-ants", "good"), hours(20)), held},
		{"rain in 24 hours", both(ofInsect(t, "imported-fire-ants", "good"), hours(24)), held},
		{"rain in 25 hours", both(ofInsect(t, "imported-fire-ants", "good"), hours(25)), "do"},
		{"what is watered in minds no rain that late", both(ofInsect(t, "white-grubs", "eggs"), hours(20)), "do"},
	})
}

// What helps without a product comes first; only what a home owner may use is
// named, with the cautions of its classes; the rest is a professional's.
func TestWhatIsOffered(t *testing.T) {
	in := lawnAt(t, ofInsect(t, "southern-chinch-bug", "scout"))
	a := answerOn(t, Read(in), Insect)
	require.Equal(t, Do, a.Verdict)
	chinch := in.found[0].Insect
	assert.True(t, a.Conditions[0].Equal(message.Plain(chinch.Cultural[0])))
	names := namesIn(a.Conditions)
	assert.Contains(t, names, "bifenthrin")
	for _, barred := range []string{"lambda-cyhalothrin", "acephate", "clothianidin"} {
		assert.NotContains(t, names, barred)
	}
	assert.Subset(t, a.Cautions, []string{"pyrethroid", "neonicotinoid"})
	assert.NotContains(t, a.Cautions, "organophosphate")
	assert.NotContains(t, a.Cautions, "diamide")
	codes := codesOf(a.Conditions)
	assert.Contains(t, codes, "home.more")
	assert.Contains(t, codes, "home.states")

	// In a state that leaves the class to licensed people, or to nobody.
	for _, state := range []string{"MD", "ME"} {
		a = answerOn(t, Read(lawnAt(t, ofInsect(t, "southern-chinch-bug", "scout"), func(in *Input) { in.State = state })), Insect)
		assert.NotContains(t, namesIn(a.Conditions), "imidacloprid", state)
		assert.NotContains(t, a.Cautions, "neonicotinoid", state)
		assert.NotContains(t, codesOf(a.Conditions), "home.states", state)
	}

	// Nothing for a home owner, but something for a professional.
	in = lawnAt(t, ofInsect(t, "mole-crickets", "large"))
	a = answerOn(t, Read(in), Insect)
	assert.Equal(t, Do, a.Verdict)
	assert.Contains(t, codesOf(a.Conditions), "home.only")
	assert.Empty(t, slices.DeleteFunc(codesOf(a.Conditions), func(c string) bool { return !strings.HasPrefix(c, "insect.group") }))
	// Nothing at all.
	a = answerOn(t, Read(lawnAt(t, ofInsect(t, "mole-crickets", "no such stage"))), Insect)
	assert.Equal(t, Skip, a.Verdict)
	assert.Equal(t, "treatment", a.Lead.Gate)

	// A living agent has no group.
	a = answerOn(t, Read(lawnAt(t, ofInsect(t, "white-grubs", "scout"))), Insect)
	assert.Contains(t, codesOf(a.Conditions), "insect.living")
}

// Of a fungicide group only those ingredients are named that home owners may use;
// a group without any is not named.
func TestWhichFungicidesAreOffered(t *testing.T) {
	in := lawnAt(t, ofDisease(disease.Decision{Answer: disease.AnswerOpen}, func(p *Pest) {
		p.Disease.Groups = []disease.FungicideGroup{
			{Code: "3", Ingredients: pest.Cited[[]string]{Value: []string{"propiconazole", "metconazole"}}},
			{Code: "7", Ingredients: pest.Cited[[]string]{Value: []string{"flutolanil", "boscalid"}}},
			{Code: "M05", Ingredients: pest.Cited[[]string]{Value: []string{"chlorothalonil"}}},
		}
	}), func(in *Input) { in.Pests = pests(t) })
	a := answerOn(t, Read(in), Disease)
	names := namesIn(a.Conditions)
	assert.Contains(t, names, "propiconazole")
	assert.NotContains(t, names, "metconazole")
	assert.NotContains(t, names, "flutolanil")
	assert.NotContains(t, names, "chlorothalonil")
	assert.NotContains(t, names, "7")
	assert.Contains(t, codesOf(a.Conditions), "home.more")
	assert.Contains(t, a.Cautions, "fungicide")
}

// A weed against which nothing is a home owner's is dealt with by hand.
func TestAWeedWithNothingToUse(t *testing.T) {
	in := lawnAt(t, func(in *Input) { in.Pests = pests(t) })
	at := func(id, stageID string) Value {
		w, ok := in.Pests.Weed(id)
		require.True(t, ok)
		return in.weedTreatment(&Pest{Kind: Weed, Weed: w, Progress: stage.Progress{Known: true, Stage: stage.Stage{ID: stageID}}})
	}
	assert.Equal(t, noTreatment, at("goosegrass", "young").Word)
	assert.Equal(t, beforeEmergence, at("goosegrass", "open").Word)
	assert.Equal(t, afterEmergence, at("crabgrass", "flush").Word)
}

// Herbicides: the first step first, and of the list only what may be named.
func TestWhichHerbicidesAreOffered(t *testing.T) {
	in := preventive(t, grassFile(t, "bermuda"), "crabgrass", pestRule(`pest = "crabgrass"`, "weed", Herbicide))
	a := answerOn(t, Read(in), Weed)
	w, _ := in.Pests.Weed("crabgrass")
	require.NotEmpty(t, a.Conditions)
	assert.True(t, a.Conditions[0].Equal(message.Plain(w.Cultural[0])))
	names := namesIn(a.Conditions)
	assert.Contains(t, names, "prodiamine")
	for _, barred := range []string{"oxadiazon", "bensulide", "indaziflam", "siduron", "oryzalin"} {
		assert.NotContains(t, names, barred)
	}
	assert.Contains(t, a.Cautions, "preemergent")
	assert.Contains(t, codesOf(a.Conditions), "home.more")
	assert.Contains(t, codesOf(a.Conditions), "home.old")
}
