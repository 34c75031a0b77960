package message

import (
	"encoding/json"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"ligule/internal/civil"
	"ligule/internal/quantity"
)

// A message shares nothing with the one that it was made from.
func TestChainedMessagesDoNotShareSlots(t *testing.T) {
	base := New("a").Name("x", "1")
	first, second := base.Name("y", "2"), base.Name("y", "3")
	y := func(m Message) string {
		v, ok := m.Slot("y")
		require.True(t, ok)
		return v.Text
	}
	assert.Equal(t, "2", y(first))
	assert.Equal(t, "3", y(second))
	_, ok := base.Slot("y")
	assert.False(t, ok)
}

func TestMessagesThatSayNothing(t *testing.T) {
	assert.True(t, Message{}.IsZero())
	assert.False(t, New("a").IsZero())
	assert.False(t, Plain("").IsZero(), "a text may be empty")
	assert.Nil(t, Say(Message{}))
	assert.Empty(t, SayAll([]Message{{}, {}}))
	assert.Len(t, SayAll([]Message{{}, New("a")}), 1)
	var none *Said
	assert.Empty(t, none.String())
	assert.True(t, none.Equal(nil))
	assert.False(t, none.Equal(Say(New("a"))))
	assert.True(t, Say(New("a")).Equal(&Said{Message: New("a"), Words: "voiced or not"}))
}

func TestAloneIsForOneValue(t *testing.T) {
	_, ok := New("a").Name("value", "x").Alone()
	assert.False(t, ok)
	_, ok = Written("{value}").Name("value", "x").Alone()
	assert.False(t, ok)
	v, ok := Just(Count(3)).Alone()
	require.True(t, ok)
	assert.True(t, v.Equal(Count(3)))
}

// Equality looks at every field: what differs in one differs.
func TestEqualLooksAtEverything(t *testing.T) {
	day := civil.MustDate(2026, 11, 22)
	all := []Value{
		Text("a"), Text("b"), Text("a").Lowered(), Count(1), Count(2), Number(1, 1), Figure(1), Figure(math.NaN()), Figure(math.Inf(1)),
		Both(1, quantity.Depth, 1, 0), Both(1, quantity.Depth, 1, 1), Both(1, quantity.Temperature, 1, 0), One(1, quantity.Depth, 1, 0),
		Column(1, quantity.Depth, 1, 0), Unit(quantity.Depth), Rate(1), Share(1), Date(day), Date(day + 1), WeekDay(day), YearDay(day), DateAs(FullDate, day),
		DateAs(TableDate, day), DateAs(ShortDay, day), Span(day, day+1), Span(day, day+2), Days([]civil.Date{day}), Days([]civil.Date{day, day + 1}), Month(1), Initial(1), Weekday(1),
		Clock(60), Hours(1, 2), Hours(1, 3), List(And, Text("a")), List(Or, Text("a")), List(And, Text("b")), List(And), Of(New("a")), Of(New("b")), Of(New("a").Raised()),
		Of(New("a").Name("x", "1")), Of(New("a").Name("y", "1")), Of(Written("a")), Based(Text("a"), "b"), Based(Text("a"), "c"),
	}
	for i, a := range all {
		for j, b := range all {
			assert.Equal(t, i == j, a.Equal(b), "%d %+v, %d %+v", i, a, j, b)
			assert.Equal(t, i == j, Contains([]Message{Just(a)}, Just(b)))
		}
	}
}

// A value that is written and read again is the same, whatever it is.
func TestValuesSurviveBeingWritten(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := drawValue(t, 3)
		text, err := json.Marshal(Just(v))
		require.NoError(t, err)
		var got Message
		require.NoError(t, json.Unmarshal(text, &got))
		assert.True(t, Just(v).Equal(got), "%s", text)
		again, err := json.Marshal(got)
		require.NoError(t, err)
		assert.Equal(t, string(text), string(again))
	})
	var v Value
	assert.ErrorContains(t, json.Unmarshal([]byte(`{"kind":"number","not":"there"}`), &v), `"there"`)
	assert.Error(t, json.Unmarshal([]byte(`[]`), &v))
}

func drawValue(t *rapid.T, depth int) Value {
	number := rapid.OneOf(rapid.Float64Range(-1e6, 1e6), rapid.SampledFrom([]float64{0, math.NaN(), math.Inf(1), math.Inf(-1)})).Draw(t, "number")
	day := civil.MustDate(2026, 1, 1).AddDays(rapid.IntRange(0, 3000).Draw(t, "day"))
	dim := quantity.Dimension(rapid.IntRange(0, int(quantity.Number)).Draw(t, "dimension"))
	kinds := []func() Value{
		func() Value { return Text(rapid.StringN(0, 12, -1).Draw(t, "text")) },
		func() Value { return Number(number, rapid.IntRange(0, 3).Draw(t, "decimals")) },
		func() Value { return Both(number, dim, 1, 2) },
		func() Value { return Figure(number) },
		func() Value { return Date(day) },
		func() Value { return Span(day, day+6) },
		func() Value { return Days([]civil.Date{day, day + 1}) },
		func() Value { return Hours(7, 12).Lowered() },
	}
	if depth > 0 {
		kinds = append(kinds,
			func() Value { return List(Comma, drawValue(t, depth-1), drawValue(t, depth-1)) },
			func() Value { return Of(New("a.b").With("x", drawValue(t, depth-1)).Raised()) },
			func() Value { return Based(drawValue(t, depth-1), "basis.forecast") })
	}
	return rapid.SampledFrom(kinds).Draw(t, "kind")()
}

func TestSlotsOfTexts(t *testing.T) {
	for text, want := range map[string][]string{
		"":                  nil,
		"plain":             nil,
		"{a} and {b_c}":     {"a", "b_c"},
		"{a}{a}":            {"a"},
		"{{not}} a {slot}":  {"slot"},
		"{{{x}}}":           {"x"},
		"°F {value}, ± {x}": {"value", "x"},
	} {
		got, err := SlotsOf(text)
		require.NoError(t, err, text)
		assert.Equal(t, want, got, text)
	}
	for _, bad := range []string{"{", "}", "{a", "a}", "{}", "{a b}", "{{a}"} {
		_, err := SlotsOf(bad)
		assert.Error(t, err, bad)
	}
	assert.Equal(t, "{x} 1", Fill("{{x}} {x}", func(string) string { return "1" }))
}

func FuzzSlots(f *testing.F) {
	for _, s := range []string{"", "{a}", "{{", "}}", "{a b}", "x {y} {{z}}"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		slots, err := SlotsOf(text)
		if err != nil {
			return
		}
		asked := map[string]bool{}
		Fill(text, func(name string) string {
			asked[name] = true
			return ""
		})
		assert.Len(t, slots, len(asked), "what is listed is what is filled")
		for _, s := range slots {
			assert.True(t, asked[s])
		}
	})
}
