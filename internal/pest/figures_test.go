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
