package law

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/data"
	"ligule/internal/diag"
	"ligule/internal/voice"
)

func TestVerdictWords(t *testing.T) {
	var got []string
	for v := Open; v <= Closed; v++ {
		text, err := v.MarshalText()
		require.NoError(t, err)
		got = append(got, string(text))
	}
	assert.Equal(t, []string{"open", "conditional", "not_cleared", "closed"}, got)
	assert.Equal(t, "invalid", Verdict(9).String())
	assert.Less(t, Conditional, NotCleared)
}

// conditionKinds lists every kind of condition.
func conditionKinds() []string {
	kinds := []string{"per_app_total_n", "per_app_soluble_n", "annual_n", "release_n", "min_slow", "max_slow", "per_app_p2o5", "annual_p2o5",
		"buffer", "rain", "alert", "ground", "phosphorus", "exception", "product", "on_hold", "advice:"}
	for _, d := range Duties() {
		kinds = append(kinds, "duty:"+d, "advice:"+d)
	}
	return kinds
}

// Every kind of condition can be put in words.
func TestEveryConditionHasItsPhrase(t *testing.T) {
	var list diag.List
	root, ok := diag.ReadTOML("data/phrases.toml", data.Phrases, &list)
	require.True(t, ok, list.Error())
	book := voice.ReadBook(root)
	for _, kind := range conditionKinds() {
		code := "condition." + strings.ReplaceAll(kind, ":", ".")
		if strings.HasSuffix(code, ".") {
			code += "plain"
		}
		assert.True(t, book.Has(code), code)
	}
}

func TestBookKnowsItsJurisdictions(t *testing.T) {
	b := inventedBook(t)
	assert.True(t, b.Known("om"), "by its record")
	assert.True(t, b.Known("selvary"), "by its line in the list")
	assert.False(t, b.Known("nowhere"))
	require.Len(t, b.Records("om"), 1)
	assert.Equal(t, "Lawn Nutrient Act", b.Records("om")[0].Title)
	assert.Empty(t, b.Records("selvary"))
	j, ok := b.Jurisdiction("hocklan")
	assert.True(t, ok)
	assert.Equal(t, NoneFound, j.Coverage)
	_, ok = b.Jurisdiction("om")
	assert.False(t, ok)
	_, ok = b.AskRecord("nowhere", Question{})
	assert.False(t, ok)
}

// A place without a chain, an unknown body, and a body listed twice.
func TestOwnDesignOddPlaces(t *testing.T) {
	b := inventedBook(t)
	q := weekly(Place{Name: "no chain"})
	assert.Equal(t, "not_cleared", b.Ask(q).Verdict.String())
	q.Place.Chain = []string{"om", "nowhere"}
	a := b.Ask(q)
	assert.Equal(t, "not_cleared", a.Verdict.String())
	assert.Equal(t, "no_record:nowhere", flags(a))
	q.Place.Chain = []string{"om", "hocklan", "om"}
	once := weekly(hocklan)
	assert.Equal(t, printed(b.Ask(once)), printed(b.Ask(q)))
	assert.Equal(t, conditionLines(b.Conditions(once)), conditionLines(b.Conditions(q)))
}
