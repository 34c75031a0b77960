package voice

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/data"
	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/message"
	"ligule/internal/quantity"
)

func book(t testing.TB, text string) *Book {
	t.Helper()
	var list diag.List
	root, ok := diag.ReadTOML("phrases.toml", []byte(text), &list)
	require.True(t, ok, list.Error())
	b := ReadBook(root)
	require.NoError(t, list.Err())
	return b
}

// english speaks the phrases that the program was made with.
func english(t testing.TB) Voice { return Voice{Book: book(t, string(data.Phrases))} }

// spaced writes a no-break space as a tilde and a word joiner as a bar.
func spaced(s string) string { return strings.NewReplacer("\u00a0", "~", "\u2060", "|").Replace(s) }

func TestValuesInWords(t *testing.T) {
	v := english(t)
	nov22 := civil.MustDate(2026, 11, 22) // a Sunday
	week := func(from, n int) []civil.Date {
		var out []civil.Date
		for i := range n {
			out = append(out, nov22.AddDays(from+i))
		}
		return out
	}
	for _, c := range []struct {
		value  message.Value
		us, si string // si "" where it is the same
	}{
		{message.Text("70 °F by lb/1000 ft2"), "70~°F by lb per 1,000 sq ft", ""},
		{message.Text("Ärger").Lowered(), "ärger", ""},
		{message.Count(1200), "1200", ""},
		{message.Number(0.456, 2), "0.46", ""},
		{message.Number(-0.001, 2), "0.00", ""},
		{message.Number(-3, 0), "−3", ""},
		{message.Number(math.NaN(), 2), "", ""},
		{message.Figure(0.75), "0.75", ""},
		{message.Figure(math.NaN()), "", ""},
		{message.Share(0.42), "42%", ""},
		{message.Share(math.NaN()), "", ""},
		{message.Both(10, quantity.Temperature, 0, 0), "50~°F (10~°C)", "10~°C (50~°F)"},
		{message.Both(25.4, quantity.Depth, 1, 0), "1.0~in (25~mm)", "25~mm (1.0~in)"},
		{message.Both(4.88, quantity.NitrogenRate, 1, 1), "1.0~lb per 1,000 sq ft (4.9~g/m²)", "4.9~g/m² (1.0~lb per 1,000 sq ft)"},
		{message.Both(5, quantity.GrowthRate, 1, 1), "1.4~in a week (5.0~mm a day)", "5.0~mm a day (1.4~in a week)"},
		{message.Both(22, quantity.Light, 0, 0), "22~mol/m² a day", ""},
		{message.Both(math.NaN(), quantity.Depth, 1, 0), "", ""},
		{message.Usual(10, quantity.Temperature), "50~°F (10~°C)", "10~°C (50~°F)"},
		{message.One(10, quantity.Temperature, 0, 1), "50~°F", "10.0~°C"},
		{message.Column(10, quantity.Temperature, 0, 1), "50", "10.0"},
		{message.Column(math.NaN(), quantity.Temperature, 0, 1), "", ""},
		{message.Unit(quantity.Temperature), "°F", "°C"},
		{message.Unit(quantity.NitrogenRate), "lb per 1,000 sq ft", "g/m²"},
		{message.Rate(0.75), "0.75~lb per 1,000 sq ft (3.7~g/m²)", ""},
		{message.DayCount(1), "1~day", ""},
		{message.DayCount(0), "0~days", ""},
		{message.DayCount(12), "12~days", ""},
		{message.One(1, quantity.Hours, 0, 0), "1~hour", ""},
		{message.One(1, quantity.Hours, 1, 1), "1.0~hours", ""},
		{message.Date(nov22), "November 22, 2026", ""},
		{message.Date(0), "", ""},
		{message.DateAs(message.FullDate, nov22), "Sunday, November 22, 2026", ""},
		{message.WeekDay(nov22), "Sunday, November 22", ""},
		{message.YearDay(nov22), "November 22", ""},
		{message.EveryYear(civil.MonthDay{Month: 2, Day: 29}), "February 29", ""},
		{message.DateAs(message.TableDate, nov22), "Nov 22, 2026", ""},
		{message.DateAs(message.ShortDay, nov22), "Sun 22", ""},
		{message.Span(nov22, nov22+6), "November 22 to 28, 2026", ""},
		{message.Span(nov22, nov22+9), "November 22 to December 1, 2026", ""},
		{message.Span(nov22, nov22+60), "November 22, 2026 to January 21, 2027", ""},
		{message.Days(nil), "", ""},
		{message.Days(week(0, 1)), "Sunday, November 22", ""},
		{message.Days(week(0, 2)), "Sunday, November 22 through Monday, November 23", ""},
		{message.Days(week(0, 6)), "Sunday, November 22 through Friday, November 27", ""},
		{message.Days(week(0, 7)), "all week", ""},
		{message.Days([]civil.Date{nov22, nov22 + 2}), "Sunday, November 22 and Tuesday, November 24", ""},
		{message.Month(1), "January", ""},
		{message.Initial(12), "D", ""},
		{message.Weekday(0), "Sunday", ""},
		{message.Clock(0), "midnight", ""},
		{message.Clock(24 * 60), "midnight", ""},
		{message.Clock(12 * 60), "noon", ""},
		{message.Clock(9 * 60), "9 am", ""},
		{message.Clock(16*60 + 5), "4:05 pm", ""},
		{message.Clock(30), "12:30 am", ""},
		{message.Hours(7, 10), "7–|10~am", ""},
		{message.Hours(10, 12), "10~am–|noon", ""},
		{message.Hours(11, 14), "11~am–|2~pm", ""},
		{message.Hours(12, 15), "noon–|3~pm", ""},
		{message.Hours(13, 17), "1–|5~pm", ""},
		{message.Hours(0, 2), "midnight–|2~am", ""},
		{message.Hours(22, 24), "10~pm–|midnight", ""},
		{message.Hours(0, 12), "midnight–|noon", ""},
		{message.Texts(message.And, "a"), "a", ""},
		{message.Texts(message.And, "a", "b", "c"), "a and b and c", ""},
		{message.Texts(message.Or, "a", "", "c"), "a or c", ""},
		{message.Texts(message.Comma, "a", "b"), "a, b", ""},
		{message.Texts(message.Semicolon, "a", "b"), "a; b", ""},
		{message.Texts(message.Sentences, "A.", "B."), "A. B.", ""},
		{message.Texts(message.Glued, "a", ", b"), "a, b", ""},
		{message.List(message.And), "", ""},
		{message.Word("verdict.do"), "Do it", ""},
		{message.Word("verdict.do").Lowered(), "do it", ""},
		{message.Words(message.Comma, "verdict", "do", "wait"), "Do it, Wait", ""},
		{message.Based(message.Both(10, quantity.Temperature, 0, 0), "basis.forecast"), "50~°F (10~°C; forecast)", "10~°C (50~°F; forecast)"},
		{message.Based(message.Text("dry"), "basis.estimated"), "dry (estimated)", ""},
		{message.Of(message.New("place.at").Name("place", "here").Said("says", message.New("law.next_opens").Date("date", nov22)).Raised()), "Here: opens again on November 22, 2026.", ""},
	} {
		assert.Equal(t, c.us, spaced(v.Value(c.value)), "%+v", c.value)
		want := c.si
		if want == "" {
			want = c.us
		}
		metric := v
		metric.Units = quantity.Metric
		assert.Equal(t, want, spaced(metric.Value(c.value)), "metric %+v", c.value)
	}
}

// What is missing must never pass unseen.
func TestWhatTheBookLacksStandsInGuillemets(t *testing.T) {
	v := Voice{Book: book(t, "language = \"en\"\n[a]\nb = \"one {x}\"\n")}
	assert.Equal(t, "«a.c»", v.Say(message.New("a.c")))
	assert.Equal(t, "one «x»", v.Say(message.New("a.b").Name("y", "1")))
	assert.Equal(t, "«list.and»", v.Value(message.Texts(message.And, "a", "b")))
	assert.Equal(t, "«date.date»", v.Value(message.Date(civil.MustDate(2026, 1, 1))))
}

// A text of the author's is filled, but what fills it is not.
func TestAuthorsTextsAreFilledOnce(t *testing.T) {
	v := english(t)
	m := message.Written("Look for {what}, not {{braces}}.").Name("what", "{x} and {{y}}")
	assert.Equal(t, "Look for {x} and {{y}}, not {braces}.", v.Say(m))
	assert.Equal(t, "{as it stands}", v.Say(message.Plain("{as it stands}")))
	assert.Empty(t, v.Say(message.Message{}))
}

// With less room the shorter text stands, where there is one.
func TestLengths(t *testing.T) {
	v := Voice{Book: book(t, `language = "en"
[a]
all = { text = "the full {x}", brief = "brief {x}", terse = "x" }
some = { text = "full", terse = "terse" }
one = "one"
`)}
	for _, c := range []struct {
		code               string
		full, brief, terse string
	}{{"a.all", "the full 1", "brief 1", "x"}, {"a.some", "full", "full", "terse"}, {"a.one", "one", "one", "one"}} {
		m := message.New(c.code).Count("x", 1)
		assert.Equal(t, c.full, v.Say(m))
		assert.Equal(t, c.brief, v.In(Brief).Say(m))
		assert.Equal(t, c.terse, v.In(Terse).Say(m))
	}
}

// A book without words says nothing: whatever is printed without one, nobody
// wrote.
func TestAnEmptyBookSaysNothing(t *testing.T) {
	var b strings.Builder
	b.WriteString("language = \"xx\"\n")
	real := book(t, string(data.Phrases))
	v := Voice{Book: &Book{Language: "xx", phrases: map[string]*phrase{}}}
	for _, id := range real.IDs() {
		v.Book.phrases[id] = &phrase{}
	}
	v.Book.units = v.Book.readUnits()
	day := civil.MustDate(2026, 11, 22)
	for _, x := range []message.Value{
		message.Word("verdict.do"), message.Date(day), message.WeekDay(day), message.YearDay(day), message.DateAs(message.FullDate, day), message.DateAs(message.ShortDay, day),
		message.DateAs(message.TableDate, day), message.Span(day, day+3), message.Days([]civil.Date{day}), message.Days([]civil.Date{day, day + 2}), message.Month(3), message.Initial(3), message.Weekday(3),
		message.Clock(0), message.Clock(720), message.Clock(9 * 60), message.Hours(7, 9), message.Texts(message.And, "a", "b"), message.Of(message.New("law.next_opens")),
	} {
		assert.Empty(t, v.Value(x), "%+v", x)
	}
	assert.Regexp(t, `^12\W*$`, v.Value(message.DayCount(12)))
}

func TestBooksAreHeldToWhatIsDeclared(t *testing.T) {
	declared := book(t, `language = "en"
[a]
also = ["y"]
b = "{x}"
c = { text = "{x}", also = ["z"] }
f = "there"
`)
	var list diag.List
	root, ok := diag.ReadTOML("p.toml", []byte("language = \"en\"\n[a]\nb = \"one {x}, {y} and {{y}}\"\nc = \"{z} {w}\"\nd = \"\"\ne = \"{ open\"\n[a.g]\ntext = \"x\"\nbreif = \"y\"\n"), &list)
	require.True(t, ok)
	ReadBook(root).Check("p.toml", declared, &list)
	got := list.Error()
	for _, want := range []string{
		`p.toml:4: a.c: there is no {w} here`,
		`p.toml:5: a.d: empty`,
		`p.toml:5: a.d: no such phrase is ever printed`,
		`p.toml:6: a.e: a { without its }`,
		`p.toml: a.f: missing; add the sentence, with the slots {y}`,
		`p.toml:9: a.g.breif: unknown key`,
	} {
		assert.Contains(t, got, want)
	}
	assert.NotContains(t, got, "a.b:", "slots of the table may be used")
	assert.Equal(t, []string{"x", "y"}, declared.SlotsOf("a.b"))
	assert.Equal(t, []string{"x", "y", "z"}, declared.SlotsOf("a.c"))
}

func FuzzReadBook(f *testing.F) {
	f.Add("language = \"en\"\n[a]\nb = \"{x}\"\n")
	f.Add("[a]\nalso = [\"x\"]\nb = { text = \"{x}\", brief = \"\" }\n")
	f.Add("also = 3\n[unit]\n\"in\" = \"inch\"\n")
	f.Fuzz(func(t *testing.T, text string) {
		var list diag.List
		root, ok := diag.ReadTOML("p.toml", []byte(text), &list)
		if !ok {
			return
		}
		b := ReadBook(root)
		v := Voice{Book: b}
		for _, id := range b.IDs() {
			if list.Err() == nil {
				v.Say(message.New(id))
			}
		}
	})
}

func BenchmarkSay(b *testing.B) {
	v := english(b)
	says := message.New("law.closed_season").With("days", message.Texts(message.And, "a", "b")).Name("law", "An Act").
		Name("rule", "sec. 3").Date("first", civil.MustDate(2026, 9, 1)).Date("last", civil.MustDate(2026, 9, 14)).Date("checked", civil.MustDate(2026, 3, 5))
	m := message.New("place.at").Name("place", "Thornelby").Said("says", says).Raised()
	b.ReportAllocs()
	for b.Loop() {
		v.Say(m)
	}
}
