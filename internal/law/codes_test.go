package law

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
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

func TestFlagsAreListedOnceAndSorted(t *testing.T) {
	flags := Flags()
	assert.Len(t, flags, 14)
	assert.True(t, slices.IsSorted(flags))
	assert.Len(t, slices.Compact(slices.Clone(flags)), 14)
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
