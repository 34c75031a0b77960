package diag

import (
	"strings"
	"testing"

	"github.com/BurntSushi/toml"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/quantity"
)

const sample = `name = "Gannet Shore"   # a zone
elevation = "12 in"
latitude = "33.3"
checked = "2026-01-02"
"quoted key" = 1

[[place]]
name = "the beach"
jurisdictions = ["state", 7]

[[place]]
nmae = "the shore"
inner = { depth = "3 furlongs", odd = 1 }
text = """
several
lines"""
after = nan

[[place.rule]]
id = "A b"
[[place.rule]]
id = "../up"
kind = "blu"
`

// Every kind of mistake in one file, each with the line it is on, also in the
// second of several tables of an array.
func TestMistakesHaveTheirLines(t *testing.T) {
	var list List
	root, ok := ReadTOML("data/zones/x.toml", []byte(sample), &list)
	require.True(t, ok)
	assert.Equal(t, "Gannet Shore", root.Text("name"))
	root.Quantity("elevation", quantity.Temperature)
	root.Number("latitude")
	root.Date("checked")
	root.Text("station")
	places := root.Tables("place")
	require.Len(t, places, 2)
	for _, p := range places {
		p.Text("name")
		p.Texts("jurisdictions", false)
		p.OptText("text")
		p.OptNumber("after")
		if in := p.Table("inner", false); in != nil {
			in.Quantity("depth", quantity.Depth)
			in.Close()
		}
		for _, r := range p.Tables("rule") {
			r.ID("id")
			r.OptOne("kind", "blue", "red")
			r.Close()
		}
		p.Close()
	}
	root.Close()
	want := []string{
		`data/zones/x.toml:1: station: missing; add station = "…"`,
		`data/zones/x.toml:2: elevation: "12 in" is a depth or height, but a temperature is wanted, in °C or °F`,
		`data/zones/x.toml:3: latitude: this is the text "33.3", not a number; write a plain number without quotes`,
		`data/zones/x.toml:4: checked: this is the text "2026-01-02", not a date; write a date as 2026-11-25, without quotes and time`,
		`data/zones/x.toml:5: quoted key: unknown key; use one of checked, elevation, latitude, name, place, station`,
		`data/zones/x.toml:9: place[0].jurisdictions[1]: this is the number 7, not text; write "…"`,
		`data/zones/x.toml:11: place[1].name: missing; add name = "…"`,
		`data/zones/x.toml:12: place[1].nmae: unknown key; did you mean "name"?`,
		`data/zones/x.toml:13: place[1].inner.depth: "3 furlongs": unknown unit "furlongs"; a depth or height is written in mm, in or cm`,
		`data/zones/x.toml:13: place[1].inner.odd: unknown key; use one of depth`,
		`data/zones/x.toml:17: place[1].after: NaN is not a usable number; write a plain number`,
		`data/zones/x.toml:20: place[1].rule[0].id: "A b" is not an id; an id is lower-case words joined by hyphens`,
		`data/zones/x.toml:22: place[1].rule[1].id: "../up" is not an id; an id is lower-case words joined by hyphens`,
		`data/zones/x.toml:23: place[1].rule[1].kind: unknown value "blu"; did you mean "blue"?`,
	}
	assert.Equal(t, strings.Join(want, "\n"), list.Error())
	assert.Equal(t, len(want), list.Errors())
	assert.Error(t, list.Err())
}

// A table that lies over another reads from it what it leaves out, and mistakes
// stand where the key does.
func TestTablesLieOverOthers(t *testing.T) {
	var list List
	read := func(file, text string) *Table {
		root, ok := ReadTOML(file, []byte(text), &list)
		require.True(t, ok, list.Error())
		return root
	}
	root := read("own.toml", "[heat]\nlimit = \"30 C\"\nsays = \"hot\"\nodd = 1\n")
	alike := read("alike.toml", `[heat]
limit = "30 C"
least = "9 furlongs"
on = { zoysia = "x", extra = 1 }
lists = [{ a = 1, b = 2 }]
unasked = 1
[cold]
limit = "1 C"
[spare]
`)
	heat := root.TableOver("heat", alike.Table("heat", false))
	assert.InDelta(t, 30, heat.Quantity("limit", quantity.Temperature), 1e-9)
	assert.Equal(t, "hot", heat.Text("says"))
	heat.OptQuantity("least", quantity.Temperature)
	on := heat.Table("on", true)
	on.Number("zoysia")
	assert.Equal(t, 1, heat.Tables("lists")[0].Int("a"))
	heat.Text("absent")
	heat.Close()
	assert.True(t, heat.Has("least") && !heat.Writes("least") && heat.Writes("says") && !heat.Has("missing"))
	assert.True(t, heat.Repeats("limit") && !heat.Repeats("says") && !heat.Repeats("least"))
	assert.Equal(t, []string{"says", "least"}, []string{heat.Written("least", "says"), heat.Written("least", "lists")})
	assert.False(t, heat.Alone().Has("least"))
	cold := root.TableOver("cold", alike.Table("cold", false))
	assert.InDelta(t, 1, cold.Quantity("limit", quantity.Temperature), 1e-9)
	assert.Nil(t, root.TableOver("none", nil))
	root.Close()
	alike.CloseTaken()
	assert.Equal(t, strings.Join([]string{
		`alike.toml:2: heat.limit: nothing takes it: all write their own; leave it out`,
		`alike.toml:3: heat.least: "9 furlongs": unknown unit "furlongs"; a temperature is written in °C or °F`,
		`alike.toml:4: heat.on.zoysia: this is the text "x", not a number; write a plain number without quotes`,
		`alike.toml:4: heat.on.extra: nothing takes it; leave it out`,
		`alike.toml:5: heat.lists[0].b: nothing takes it; did you mean "a"?`,
		`alike.toml:6: heat.unasked: nothing takes it; leave it out`,
		`alike.toml:9: spare: nothing takes it; leave it out`,
		`own.toml:1: none: missing; add none = [none]`,
		`own.toml:1: heat.absent: missing; add absent = "…"`,
		`own.toml:4: heat.odd: unknown key; did you mean "on"?`,
	}, "\n"), list.Error())
}

// Where keys are named, no other is taken.
func TestNamedKeysAreTaken(t *testing.T) {
	var list List
	root, _ := ReadTOML("own.toml", []byte(""), &list)
	alike, _ := ReadTOML("alike.toml", []byte("a = \"x\"\nb = \"y\"\n"), &list)
	root.Over(alike, "a")
	assert.Equal(t, []string{"x", ""}, []string{root.OptText("a"), root.OptText("b")})
	alike.CloseTaken()
	assert.Equal(t, "alike.toml:2: b: nothing takes it: all write their own; leave it out", list.Error())
}

func TestSyntaxErrorsHaveTheirLine(t *testing.T) {
	for text, line := range map[string]string{
		"a = 1\nb = \n":              "x.toml:2:",
		"a = 1\n\nc = \"open\n":      "x.toml:3:",
		"a = 1\na = 2\n":             "x.toml:2:",
		"d = 2026-02-30\n":           "x.toml:1:",
		"[[z]]\n[z]\n":               "x.toml:2:",
		"a = 1\n\n[t\nb = 2\n":       "x.toml:3:",
		"a = [1, 2\nb = 3\nc = \"\"": "x.toml:2:",
	} {
		var list List
		_, ok := ReadTOML("x.toml", []byte(text), &list)
		assert.False(t, ok, text)
		assert.Contains(t, list.Error(), line, text)
		assert.Contains(t, list.Error(), "not valid TOML", text)
	}
	var list List
	_, ok := ReadTOML("x.toml", []byte("a = \"\xff\""), &list)
	assert.False(t, ok)
	list = List{}
	_, ok = ReadTOMLAt("note.md", []byte("a = \n"), 4, &list)
	assert.False(t, ok)
	assert.Contains(t, list.Error(), "note.md:5:")
}

func TestDatesDoNotDependOnTheMachine(t *testing.T) {
	for _, zone := range []string{"UTC", "America/New_York", "Pacific/Auckland"} {
		t.Setenv("TZ", zone)
		var list List
		root, ok := ReadTOML("x.toml", []byte("d = 2026-03-01\ninstant = 2026-03-01T00:00:00Z"), &list)
		require.True(t, ok)
		assert.Equal(t, "2026-03-01", root.Date("d").String())
		root.Date("instant")
		assert.Equal(t, 1, list.Errors())
	}
}

func TestDidYouMean(t *testing.T) {
	known := []string{"elevation", "latitude", "name"}
	assert.Equal(t, `did you mean "name"?`, DidYouMean("naem", known))
	assert.Equal(t, `did you mean "elevation"?`, DidYouMean("elevaton", known))
	assert.Equal(t, "use one of elevation, latitude, name", DidYouMean("zzz", known))
	assert.Equal(t, "", DidYouMean("x", nil))
	assert.Equal(t, "", DidYouMean("x", []string{""}), "the id of something that could not be read")
	assert.Equal(t, "use one of elevation, latitude, name", DidYouMean("zzz", append([]string{""}, known...)))
}

// Reading any accepted text never panics, reports every key when nobody asked
// for any, and puts each report on a line of the file.
func FuzzReadTOML(f *testing.F) {
	f.Add(sample)
	f.Add("a.b.c = 1\n[a.d]\ne = [ {x = 1}, {y = [1, 2]} ]\n")
	f.Add("[[x]]\n[[x.y]]\n[x.y.z]\nk=1\n[[x]]\n")
	f.Fuzz(func(t *testing.T, text string) {
		var list List
		root, ok := ReadTOML("f.toml", []byte(text), &list)
		if !ok {
			if list.Errors() == 0 {
				t.Error("refused without a reason")
			}
			return
		}
		var m map[string]any
		if _, err := toml.Decode(text, &m); err != nil {
			t.Errorf("accepted what the decoder refuses: %v", err)
		}
		root.Close()
		if list.Errors() != len(m) {
			t.Errorf("%d keys, %d reports", len(m), list.Errors())
		}
		lines := strings.Count(text, "\n") + 1
		for _, p := range list.All() {
			if p.Line > lines {
				t.Errorf("line %d of %d", p.Line, lines)
			}
		}
	})
}
