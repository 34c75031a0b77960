package publish

import (
	"math"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"ligule/internal/bulletin"
	"ligule/internal/quantity"
	"ligule/internal/voice"
	"ligule/internal/workspace"
)

func TestSpanOfDays(t *testing.T) {
	for _, c := range []struct{ first, last, want string }{
		{"2026-11-23", "2026-11-29", "November 23 to 29, 2026"},
		{"2026-11-30", "2026-12-06", "November 30 to December 6, 2026"},
		{"2026-12-28", "2027-01-03", "December 28, 2026 to January 3, 2027"},
	} {
		assert.Equal(t, c.want, span(date(t, c.first), date(t, c.last)))
	}
}

func TestClip(t *testing.T) {
	for _, c := range []struct {
		text, want string
		n          int
	}{
		{"short", "short", 10},
		{"  two\n words ", "two words", 9},
		{"cut at a word's end, please", "cut at a word's end…", 24},
		{"unbreakablelongword", "unbreakab…", 10},
		{"Größe über alles", "Größe über…", 12},
	} {
		assert.Equal(t, c.want, clip(c.text, c.n))
	}
	rapid.Check(t, func(r *rapid.T) {
		n := rapid.IntRange(4, 60).Draw(r, "n")
		got := clip(rapid.StringN(0, 100, 400).Draw(r, "text"), n)
		assert.LessOrEqual(r, utf8.RuneCountInString(got), n)
	})
}

func TestUnitsAreWrittenForPeople(t *testing.T) {
	w := words{voice.Voice{Book: declared(t), Units: quantity.US}}
	assert.Equal(t, "1.0 lb per 1,000 sq ft (4.9 g/m²)", w.both(4.88243, quantity.NitrogenRate))
	assert.Equal(t, "57\u00a0°F (14\u00a0°C)", w.both(13.9, quantity.Temperature))
	assert.Equal(t, "0.74\u00a0in (19\u00a0mm)", w.bothPrec(18.8, quantity.Depth, 2, 0))
	assert.Empty(t, w.both(math.NaN(), quantity.Depth))
	assert.Empty(t, w.number(math.NaN(), quantity.Temperature, 0, 0))
	assert.Equal(t, "−4", w.number(-20, quantity.Temperature, 0, 0))
	w.Units = quantity.Metric
	assert.Equal(t, "−20", w.number(-20, quantity.Temperature, 0, 0))
	assert.Equal(t, "14\u00a0°C (57\u00a0°F)", w.both(13.9, quantity.Temperature))
}

func TestLinksAreFittedToTheirPlace(t *testing.T) {
	const html = `<a href="/zones/a/#x">a</a> <a class="c" href="/">home</a> <a href="#here">here</a> <img src="/p.png"> <a href="//host/x">no</a> <a href="https://host/x">yes</a> data-href="/x" text href="/`
	for address, want := range map[string]string{
		"/":         `<a href="zones/a/#x">a</a> <a class="c" href="./">home</a> <a href="#here">here</a> <img src="p.png"> <a href="//host/x">no</a> <a href="https://host/x">yes</a> data-href="/x" text href="./`,
		"/zones/b/": `<a href="../../zones/a/#x">a</a> <a class="c" href="../../">home</a> <a href="#here">here</a> <img src="../../p.png"> <a href="//host/x">no</a> <a href="https://host/x">yes</a> data-href="/x" text href="../../`,
	} {
		assert.Equal(t, want, string(relative([]byte(html), address)))
	}
	assert.Equal(t, `<a href="https://e.org/sub/zones/">x</a>`, string(absolute([]byte(`<a href="/zones/">x</a>`), "https://e.org/sub")))
	assert.Equal(t, `<a href="/sub/zones/">x</a>`, string(rooted([]byte(`<a href="/zones/">x</a>`), "https://e.org/sub")))
	assert.Equal(t, "zones/a/index.html", filePath("/zones/a/"))
	assert.Equal(t, "index.html", filePath("/"))
	assert.Equal(t, "feed.xml", filePath("/feed.xml"))
}

func TestWrapKeepsWordsAndWidth(t *testing.T) {
	assert.Equal(t, "- one", wrap("- ", " one "))
	long := strings.Repeat("x", 80)
	assert.Equal(t, "- a\n  "+long+"\n  b", wrap("- ", "a "+long+" b"))
	rapid.Check(t, func(r *rapid.T) {
		prefix := rapid.SampledFrom([]string{"", "- ", "    ! "}).Draw(r, "prefix")
		text := rapid.String().Draw(r, "text")
		got := wrap(prefix, text)
		assert.Equal(r, strings.Fields(text), strings.Fields(strings.TrimPrefix(got, prefix)))
		for _, line := range strings.Split(got, "\n") {
			if utf8.RuneCountInString(line) > workspace.TextWidth {
				assert.Len(r, strings.Fields(strings.TrimPrefix(line, prefix)), 1, "%q", line)
			}
		}
	})
}

func FuzzLetterText(f *testing.F) {
	f.Add("From here\n> quoted\n-- \n\n\n\nx  \n/guides/a/\n")
	f.Add("a °F “b” … " + strings.Repeat("word ", 40))
	f.Add("  - " + strings.Repeat("From ", 30))
	f.Fuzz(func(t *testing.T, text string) {
		if strings.ContainsAny(text, "\r\v\f\u0085\u2028\u2029") {
			return // no template or wrapped text holds them
		}
		got := letterText(text, "https://lawns.example.org")
		require.True(t, strings.HasSuffix(got, "\n"))
		for _, line := range strings.Split(strings.TrimSuffix(got, "\n"), "\n") {
			if utf8.RuneCountInString(line) > workspace.TextWidth+1 {
				assert.LessOrEqual(t, len(strings.Fields(line)), 1, "%q", line)
			}
			assert.Equal(t, strings.TrimRight(line, " \t"), line)
			assert.False(t, strings.HasPrefix(line, ">") || strings.HasPrefix(line, "From ") || line == "--", "%q", line)
		}
		assert.NotContains(t, got, "\n\n\n")
	})
}

func TestWeatherIsDrawnToOneScale(t *testing.T) {
	w := fixtureWeather(date(t, "2026-11-22"))
	got := newWeatherView(w)
	require.NotNil(t, got.Past[0].Bar)
	assert.Nil(t, got.Past[3].Bar)
	// The scale runs from one degree below the lowest to one above the highest.
	s := newScale(w.Past, w.Ahead)
	assert.InDelta(t, -5, s.low, 1e-9)
	assert.InDelta(t, 17, s.high, 1e-9)
	assert.InDelta(t, 30.9, s.rainMM, 1e-9)
	assert.Equal(t, "22.7", got.Freezing, "0 °C lies 5/22 across")
	assert.Equal(t, "45.5", got.Past[0].Bar.From, "5 °C lies 10/22 across")
	assert.Equal(t, "50.0", got.Past[0].Bar.Width, "11 of 22 degrees")
	assert.Equal(t, "100.0", got.Ahead[2].RainWidth, "the wettest day fills its cell")
	assert.Empty(t, got.Past[0].RainWidth, "a dry day has no bar")
	for _, d := range append(got.Past, got.Ahead...) {
		if b := d.Bar; b != nil {
			assert.Equal(t, 100, b.MailBefore+b.MailWidth+b.MailAfter)
			assert.Positive(t, min(b.MailBefore, b.MailWidth, b.MailAfter))
		}
	}
	assert.Nil(t, newWeatherView(nil))
}

// Whatever the temperatures, bars stay inside their pictures.
func TestBarsStayInside(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		var days []bulletin.Day
		num := func(low, high float64, name string) bulletin.Num {
			return bulletin.Num(rapid.Float64Range(low, high).Draw(r, name))
		}
		for range rapid.IntRange(1, 15).Draw(r, "days") {
			low := num(-40, 40, "low")
			days = append(days, bulletin.Day{TminC: low, TmaxC: low + num(0, 30, "range"), RainMM: num(0, 300, "rain")})
		}
		s := newScale(days)
		for _, d := range days {
			from, to := s.x(float64(d.TminC)), s.x(float64(d.TmaxC))
			assert.True(r, from >= 0 && to <= 100 && from <= to, "%v to %v", from, to)
			b := newDayView(d, s).Bar
			assert.Equal(r, 100, b.MailBefore+b.MailWidth+b.MailAfter)
			assert.Positive(r, min(b.MailBefore, b.MailWidth, b.MailAfter))
		}
	})
}
