package pest

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/diag"
	"ligule/internal/quantity"
	"ligule/internal/turf"
)

const citedFile = `
[group]
effect = "good"
home = "yes"
days_from = "14 days"
days_to = "28 days"
most = 2
on = { zoysia = "85 °F", bermuda = "90 °F" }
source = "common practice"
standing = "memory"
  [[group.except]]
  of = ["effect", "on.zoysia"]
  source = "one-2001"
  standing = "verified"
  note = "Table 2"
  [[group.except]]
  of = ["most"]
  source = "own design"
  standing = "own design"

[heat]
limit = "30 C"
source = "two-2002"
standing = "verified"
`

// Each figure has its source with it: the table's own, or that of the exception
// that names it.
func TestFiguresHaveTheirSources(t *testing.T) {
	var list diag.List
	root, ok := diag.ReadTOML("x.toml", []byte(citedFile), &list)
	require.True(t, ok)
	file := File{Table: root}
	source := func(c turf.Cite) string { return c.Section + " " + c.Source + " " + string(c.Standing) }
	file.Figures("group", root.Table("group", true), func(f *Figures) {
		effect := Cite(f, "effect", f.Text("effect"))
		assert.Equal(t, "good", effect.Value)
		assert.Equal(t, "group.effect one-2001 verified", source(effect.Cite))
		assert.Equal(t, "Table 2", effect.Cite.Note)
		assert.Equal(t, "group common practice memory", source(Cite(f, "home", f.Text("home")).Cite), "the table's own")
		days := f.DayRange("days", 90)
		assert.Equal(t, DayRange{14, 28}, days.Value)
		assert.Equal(t, "group common practice memory", source(days.Cite))
		most := f.Whole("most", 5)
		assert.Equal(t, 2, most.Value)
		assert.Equal(t, "group.most own design own design", source(most.Cite))
		on := f.ByGrass("on", quantity.Temperature, 20, 45)
		assert.InDelta(t, 29.4444, on["zoysia"].Value, 1e-4)
		assert.Equal(t, quantity.Temperature, on["zoysia"].Of)
		assert.Equal(t, "group.on.zoysia one-2001 verified", source(on["zoysia"].Cite))
		assert.Equal(t, "group common practice memory", source(on["bermuda"].Cite))
		none := f.Temperature("absent")
		assert.False(t, none.Known())
		assert.Equal(t, "group common practice memory", source(none.Cite))
	})
	file.Figures("heat", root.Table("heat", true), func(f *Figures) {
		assert.Equal(t, "heat two-2002 verified", source(f.Need("limit", quantity.Temperature, 20, 45).Cite))
	})
	root.Close()
	require.NoError(t, list.Err())
	var all []string
	for _, c := range file.Cites {
		all = append(all, source(c))
	}
	assert.Equal(t, []string{
		"group common practice memory", "group.effect one-2001 verified", "group.on.zoysia one-2001 verified", "group.most own design own design", "heat two-2002 verified",
	}, all, "all of them, in the order of the file")
}

const citedDefault = `
[group]
effect = "fair"
home = "no"
days_from = "7 days"
days_to = "28 days"
most = 2
source = "common practice"
standing = "memory"
note = "Of all."
  [[group.except]]
  of = ["home", "most"]
  source = "label-1"
  standing = "verified"
  [[group.except]]
  of = ["effect"]
  source = "own design"
  standing = "own design"
`

// What a table takes has the default's sources, and what it writes its own, or the
// default's where it names none; they are listed after its own.
func TestFiguresHaveTheSourcesOfTheirDefaults(t *testing.T) {
	for _, c := range []struct {
		name, text                     string
		effect, home, most, days, cite string
		all                            []string
	}{
		{"nothing written", ``, "group.effect own design", "group.home label-1", "group.most label-1", "group common practice", "Of all.",
			[]string{"group common practice", "group.home label-1", "group.most label-1", "group.effect own design"}},
		{"a figure without a source", `effect = "good"`, "group common practice", "group.home label-1", "group.most label-1", "group common practice", "Of all.",
			[]string{"group common practice", "group.home label-1", "group.most label-1"}},
		{"a note", `note = "Of this."`, "group.effect own design", "group.home label-1", "group.most label-1", "group common practice", "Of this.",
			[]string{"group common practice", "group.home label-1", "group.most label-1", "group.effect own design"}},
		{"a source", `effect = "good"
source = "trial-2"
standing = "verified"`, "group trial-2", "group.home label-1", "group.most label-1", "group common practice", "",
			[]string{"group trial-2", "group common practice", "group.home label-1", "group.most label-1"}},
		{"an exception, for a figure of the same value too", `most = 2
except = [{ of = ["most"], source = "trial-2", standing = "verified" }]`, "group.effect own design", "group.home label-1", "group.most trial-2", "group common practice", "Of all.",
			[]string{"group common practice", "group.most trial-2", "group.home label-1", "group.effect own design"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			var list diag.List
			root, ok := diag.ReadTOML("x.toml", []byte(c.text), &list)
			require.True(t, ok)
			base, ok := diag.ReadTOML("defaults.toml", []byte(citedDefault), &list)
			require.True(t, ok)
			root.Over(base.Table("group", true))
			source := func(c turf.Cite) string { return c.Section + " " + c.Source }
			file := File{Table: root}
			file.Figures("group", root, func(f *Figures) {
				assert.Equal(t, c.effect, source(Cite(f, "effect", f.Text("effect")).Cite))
				assert.Equal(t, c.home, source(Cite(f, "home", f.Text("home")).Cite))
				assert.Equal(t, c.most, source(f.Whole("most", 5).Cite))
				assert.Equal(t, c.days, source(f.DayRange("days", 90).Cite))
				assert.Equal(t, c.cite, f.Cite.Note)
			})
			require.NoError(t, list.Err())
			var all []string
			for _, c := range file.Cites {
				all = append(all, source(c))
			}
			assert.Equal(t, c.all, all)
		})
	}
}

func TestExceptionsNameFiguresOnce(t *testing.T) {
	for of, want := range map[string]string{
		`["effekt"]`: `"effekt" is not a figure of group`, `["home", "home"]`: `"home" stands in two exceptions`,
		`["absent"]`: `"absent" is not a figure of group`, `["on.fescue"]`: `"on.fescue" is not a figure of group`,
	} {
		var list diag.List
		root, ok := diag.ReadTOML("x.toml", []byte(`home = "yes"
on = { zoysia = "85 °F" }
source = "common practice"
standing = "memory"
except = [{ of = `+of+`, source = "own design", standing = "own design" }]
`), &list)
		require.True(t, ok)
		file := File{Table: root}
		file.Figures("group", root, func(f *Figures) {
			f.CiteOf("effect")
			f.CiteOf("absent")
			Cite(f, "home", f.Text("home"))
			f.ByGrass("on", quantity.Temperature, 20, 45)
		})
		require.Error(t, list.Err(), of)
		assert.ErrorContains(t, list.Err(), want)
	}
}
