package law

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/diag"
)

func TestLintOfWateringLaws(t *testing.T) {
	text, err := os.ReadFile("testdata/inventedwater/ivelsay-drought.toml")
	require.NoError(t, err)
	good := strings.Replace(string(text), `citation =`, "source_url = \"https://law.example.invalid/ivelsay/drought\"\ncitation =", 1)
	lint := func(asOf string, texts ...string) string {
		var list diag.List
		var records []*WaterRecord
		for i, text := range texts {
			root, ok := diag.ReadTOML("w"+string(rune('0'+i))+".toml", []byte(text), &list)
			require.True(t, ok)
			records = append(records, ReadWaterRecord(root))
		}
		require.NoError(t, list.Err())
		LintWatering(records, inventedRecords(t), inventedList(), day(asOf), &list)
		return list.Error()
	}
	swap := func(pairs ...string) string {
		out := good
		for i := 0; i < len(pairs); i += 2 {
			require.Contains(t, out, pairs[i])
			out = strings.Replace(out, pairs[i], pairs[i+1], 1)
		}
		return out
	}
	const notRead = "w0.toml:12: checked_on: warning: stale since 2026-09-03: it closes but no longer clears; read the law again, then move checked_on"
	for _, c := range []struct{ name, asOf, text, want string }{
		{"nothing to say", "2026-03-16", good, ""},
		{"review due", "2026-08-03", good, "w0.toml:12: checked_on: warning: review due by 2026-09-02; read the law again, then move checked_on\nw0.toml:30: declared[1]: warning: stage 3 was assumed on until 2026-07-13: now unknown; find out, then add to or move assume_until"},
		{"stale", "2026-09-03", swap(`assume_until = 2026-07-13`, `to = 2026-07-13`), notRead},
		{"order to be read again", "2026-06-20", good, "w0.toml:30: declared[1]: warning: stage 3 is assumed on until 2026-07-13; find out, then add to or move assume_until"},
		{"unknown jurisdiction", "2026-03-16", swap(`"ivelsay"`, `"ivelsey"`), `w0.toml:5: jurisdiction: unknown jurisdiction "ivelsey"; did you mean "ivelsay"?`},
		{"read tomorrow", "2026-03-01", good, "w0.toml:12: checked_on: checked on 2026-03-02, after 2026-03-01; correct the date"},
		{"ends before it begins", "2026-03-16", swap(`effective_from = 2021-05-01`, "effective_from = 2021-05-01\neffective_to = 2021-04-30"), "w0.toml:11: effective_to: 2021-04-30 is before effective_from; put it on or after 2021-05-01"},
		{"ends soon", "2026-03-16", swap(`effective_from = 2021-05-01`, "effective_from = 2021-05-01\neffective_to = 2026-06-14"), "w0.toml:11: effective_to: warning: ends on 2026-06-14; check that the record is right around that date"},
		{"order before the law", "2026-03-16", swap(`from = 2026-05-04`, `from = 2021-04-30`), "w0.toml:29: declared[0]: the order begins on 2021-04-30, before the law takes effect; correct one of them"},
		{"two orders of a day", "2026-03-16", swap(`from = 2026-06-15`, `from = 2026-05-04`), "w0.toml:30: declared[1]: two orders begin on 2026-05-04; keep one"},
		{"numbers without days", "2026-03-16", swap(`, digit_8_9 = ["Fri"]`, ""), "w0.toml:25: stages[2]: warning: stage 3: number 8 has no days, so it is open on all; add the days of its group"},
		{"lots that are not placed", "2026-03-16", swap("no_number = \"digit:9\"\n", "", "letter_suffix = \"digit:9\"\n", ""), "w0.toml:1: warning: it does not say what a number such as 12B counts as: not cleared; add letter_suffix, such as \"ignore\", if the law says\nw0.toml:1: warning: it does not say when a lot without a number waters: not cleared; add no_number if the law says"},
		{"no address", "2026-03-16", string(text), "w0.toml:8: citation: warning: it does not say where the law can be read; add source_url"},
	} {
		t.Run(c.name, func(t *testing.T) { assert.Equal(t, c.want, lint(c.asOf, c.text)) })
	}
	assert.Equal(t, `w1.toml:3: id: the id "ivelsay-drought" is that of w0.toml already; give each record its own id`, lint("2026-03-16", good, good))
	assert.Contains(t, lint("2026-03-16", swap(`id = "ivelsay-drought"`, `id = "om-state"`)), `the id "om-state" is that of testdata/invented/om-state.toml already`)

	utility, err := os.ReadFile("testdata/inventedwater/wendrake-water.toml")
	require.NoError(t, err)
	year := strings.Replace(string(utility), `{ kind = "dst", active = true }`, `{ kind = "annual", from = "01-01", to = "12-31", bounds = "[]", bounds_basis = "text" }`, 1)
	assert.Contains(t, lint("2026-03-16", year), "it covers the whole year; leave when out for a rule that always holds")
}

func TestMistakesInGroupsOfAWateringLaw(t *testing.T) {
	text, err := os.ReadFile("testdata/inventedwater/ivelsay-drought.toml")
	require.NoError(t, err)
	var list diag.List
	root, ok := diag.ReadTOML("w.toml", []byte(strings.Replace(string(text), `digit_0_1 = ["Mon"]`, `odd = ["Mon"]`, 1)), &list)
	require.True(t, ok)
	ReadWaterRecord(root)
	assert.Equal(t, "w.toml:24: stages[2].days: a number is in two groups; list the days by odd and even, or by last digits", list.Error())
}
