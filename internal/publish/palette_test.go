package publish

import (
	"io/fs"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// contrast is the contrast ratio of two colors written "#rrggbb": W3C, Web
// Content Accessibility Guidelines 2.2, definitions of relative luminance and
// contrast ratio.
func contrast(t testing.TB, a, b string) float64 {
	la, lb := luminance(t, a), luminance(t, b)
	return (math.Max(la, lb) + 0.05) / (math.Min(la, lb) + 0.05)
}

func luminance(t testing.TB, color string) float64 {
	t.Helper()
	require.Regexp(t, `^#[0-9a-fA-F]{6}$`, color)
	channel := func(i int) float64 {
		v, err := strconv.ParseUint(color[i:i+2], 16, 8)
		require.NoError(t, err)
		c := float64(v) / 255
		if c <= 0.04045 {
			return c / 12.92
		}
		return math.Pow((c+0.055)/1.055, 2.4)
	}
	return 0.2126*channel(1) + 0.7152*channel(3) + 0.0722*channel(5)
}

func TestPublishedContrastRatios(t *testing.T) {
	for _, c := range []struct {
		source    string
		a, b      string
		want, tol float64
	}{
		{"WCAG 2.2, contrast ratio: ranges from 1 to 21", "#000000", "#ffffff", 21, 0.0005},
		{"WCAG 2.2, contrast ratio: ranges from 1 to 21", "#777777", "#777777", 1, 0.0005},
		{"WCAG 2.2 Understanding, published as 3.6", "#FF3838", "#FFFFFF", 3.6, 0.05},
		{"WCAG 2.2 Understanding, published as 3.4", "#E3660E", "#FFFFFF", 3.4, 0.05},
		{"WCAG 2.2 Understanding, published as 2.7", "#9D9D9D", "#FFFFFF", 2.7, 0.05},
		{"WCAG 2.2 Understanding, published as 1.2", "#FFF000", "#FFFFFF", 1.2, 0.05},
		// Published as 5.6, which cuts 5.699 off rather than rounding it.
		{"WCAG 2.2 Understanding, published as 5.6", "#E5E5E5", "#6221EA", 5.6, 0.11},
	} {
		assert.InDelta(t, c.want, contrast(t, c.a, c.b), c.tol, "%s: %s on %s", c.source, c.a, c.b)
	}
}

var token = regexp.MustCompile(`--([a-z]+):\s*(#[0-9a-f]{6});`)

// palettes reads the tokens of the style sheet: by day and by night.
func palettes(t testing.TB) map[string]map[string]string {
	t.Helper()
	css, err := fs.ReadFile(files(), "site.css")
	require.NoError(t, err)
	day, night, ok := strings.Cut(string(css), "prefers-color-scheme: dark")
	require.True(t, ok)
	night, _, ok = strings.Cut(night, "* {")
	require.True(t, ok)
	out := map[string]map[string]string{}
	for name, text := range map[string]string{"day": day, "night": night} {
		out[name] = map[string]string{}
		for _, m := range token.FindAllStringSubmatch(text, -1) {
			out[name][m[1]] = m[2]
		}
	}
	require.Len(t, out["night"], len(out["day"]), "both palettes have the same tokens")
	return out
}

func TestPaletteHasContrast(t *testing.T) {
	// WCAG 2.2: 4.5 for text (1.4.3), 3 for marks and borders that carry
	// meaning (1.4.11); nothing is rounded up to a limit.
	const text, mark = 4.5, 3
	pairs := []struct {
		front, ground string
		least         float64
	}{
		{"paper", "do", text}, // buttons
		{"temp", "paper", mark}, {"wet", "paper", mark}, {"look", "paper", mark}, {"straw", "paper", mark},
		{"wait", "paper", mark}, {"closed", "paper", mark}, {"soft", "tint", mark},
	}
	for _, ground := range []string{"paper", "tint", "alarm"} {
		for _, front := range []string{"ink", "soft", "link", "wait", "closed"} {
			pairs = append(pairs, struct {
				front, ground string
				least         float64
			}{front, ground, text})
		}
	}
	for _, ground := range []string{"paper", "tint"} {
		for _, front := range []string{"do", "skip", "look"} {
			pairs = append(pairs, struct {
				front, ground string
				least         float64
			}{front, ground, text})
		}
	}
	for name, p := range palettes(t) {
		for _, pair := range pairs {
			ratio := contrast(t, p[pair.front], p[pair.ground])
			assert.GreaterOrEqual(t, ratio, pair.least, "by %s: %s (%s) on %s (%s)", name, pair.front, p[pair.front], pair.ground, p[pair.ground])
		}
	}
}

func TestStyleSheetAsksForNothing(t *testing.T) {
	css, err := fs.ReadFile(files(), "site.css")
	require.NoError(t, err)
	assert.LessOrEqual(t, len(css), 20_000, "bytes of the style sheet")
	for _, bad := range []string{"@import", "url(", "http", "@font-face", "animation", "transition"} {
		assert.NotContains(t, string(css), bad)
	}
	// Colors come from the tokens alone, so that the palette test sees all.
	_, rules, _ := strings.Cut(string(css), "* {")
	assert.NotRegexp(t, `#[0-9a-fA-F]{3,8}\b`, rules)
	assert.NotContains(t, rules, "rgb")
	used := regexp.MustCompile(`var\(--([a-z]+)\)`).FindAllStringSubmatch(rules, -1)
	require.NotEmpty(t, used)
	for _, u := range used {
		assert.Contains(t, palettes(t)["day"], u[1])
	}
	script, err := fs.ReadFile(files(), "copy.js")
	require.NoError(t, err)
	assert.LessOrEqual(t, len(script), 5_000, "bytes of the script")
	assert.NotRegexp(t, `fetch\(|XMLHttp|https?:|innerHTML\s*=|eval\(`, string(script))
}
