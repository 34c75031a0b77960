package pest

import (
	"math"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"ligule/internal/civil"
	"ligule/internal/diag"
)

func TestReadScouting(t *testing.T) {
	list := &diag.List{}
	got := ReadScouting("2026.csv", []byte(`date,zone,grass,place,finding,severity,area_pct,patches,diameter_ft,confirmed,margin_active,standing_water,mown_every_days,note
2026-09-20,gannet-shore,zoysia,"back, low corner",large-patch,,8,3,10,lab,yes,yes,12,"said ""orange edge"""
2026-09-27,gannet-shore,,,none,,,,,,,,,
2026-10-04,gannet-shore,,,unknown,trace,,,,no,no,no,,
`), list)
	require.NoError(t, list.Err())
	require.Len(t, got, 3)
	r := got[0]
	assert.Equal(t, "2026-09-20", r.Date.String())
	assert.Equal(t, []string{"gannet-shore", "zoysia", "back, low corner", "large-patch", "6-10", "lab", `said "orange edge"`}, []string{r.Zone, r.Grass, r.Place, r.Finding, r.Severity, r.Method, r.Note})
	assert.Equal(t, []any{8.0, 3, 12, true, true, true, 2}, []any{r.AreaPct, r.Patches, r.MownDays, r.Confirmed, r.MarginActive, r.StandingWater, r.Line})
	assert.InDelta(t, 3.048, r.DiameterM, 1e-9)
	assert.Equal(t, FoundNone, got[1].Finding)
	assert.True(t, math.IsNaN(got[1].AreaPct), "not told is not 0")
	assert.False(t, got[2].Confirmed)
}

func TestScoutingMistakes(t *testing.T) {
	const head = "date,zone,grass,finding,severity,area_pct,patches,diameter_ft,diameter_m,confirmed,margin_active,note\n"
	for _, c := range []struct{ text, want string }{
		{"", "2026.csv:1: the header cannot be read"},
		{"date,zone\n", `2026.csv:1: the column "finding" is missing`},
		{"date,zone,finding,find\n", `unknown column "find"`},
		{"date,zone,finding,zone\n", `column "zone" stands twice`},
		{head + "2026-09-20,z\n", "2026.csv:2: 2 cells where the header has 12; count the commas"},
		{head + "20 Sep,z,,none,,,,,,,,\n", "2026.csv:2: date: "},
		{head + "2025-09-20,z,,none,,,,,,,,\n", "2025-09-20 is not of 2026"},
		{head + "2026-09-20,z,,none,,,,,,,,\n2026-09-19,z,,none,,,,,,,,\n", "2026.csv:3: date: 2026-09-19 comes after 2026-09-20"},
		{head + "2026-09-20,,,none,,,,,,,,\n", "zone: empty"},
		{head + "2026-09-20,The Shore,,none,,,,,,,,\n", `zone: "The Shore" is not an id`},
		{head + "2026-09-20,z,,,,,,,,,,\n", "finding: empty"},
		{head + "2026-09-20,z,,rust,bad,,,,,,,\n", `severity: unknown value "bad"`},
		{head + "2026-09-20,z,,rust,trace,12,,,,,,\n", "severity: trace does not fit the area"},
		{head + "2026-09-20,z,,rust,,120,,,,,,\n", "area_pct: 120 is out of range"},
		{head + "2026-09-20,z,,rust,,much,,,,,,\n", `area_pct: "much" is not a number`},
		{head + "2026-09-20,z,,rust,,NaN,,,,,,\n", `area_pct: "NaN" is not a number`},
		{head + "2026-09-20,z,,rust,,0x1p3,,,,,,\n", `area_pct: "0x1p3" is not a number`},
		{head + "2026-09-20,z,,rust,,,2.5,,,,,\n", `patches: "2.5" is not whole`},
		{head + "2026-09-20,z,,rust,,,,3,1,,,\n", "diameter_ft: the diameter is given twice"},
		{head + "2026-09-20,z,,rust,,,,,,maybe,,\n", `confirmed: unknown value "maybe"`},
		{head + "2026-09-20,z,,rust,,,,,,,true,\n", `margin_active: unknown value "true"`},
		{head + "2026-09-20,z,,none,,5,,,,,,\n", "finding: nothing was found, and yet there is damage"},
		{head + "2026-09-20,z,,unknown,,,,,,lab,,\n", "what nobody could name cannot be confirmed"},
		{head + "2026-09-20,z,,rust,,,,,,,,\"two\nlines\"\n", "note: it holds a line break"},
		{head + "2026-09-20,z,,rust,,,,,,,,\"open\n", "2026.csv:2: the line cannot be read"},
		{"date,zone,finding\n\xff", "the file is not UTF-8 text"},
	} {
		list := &diag.List{}
		got := ReadScouting("2026.csv", []byte(c.text), list)
		assert.Contains(t, list.Error(), c.want, "%q", c.text)
		if strings.Count(c.text, "\n") == 2 {
			assert.Empty(t, got, "a line with a mistake is left out: %q", c.text)
		}
	}
	// All mistakes at once.
	list := &diag.List{}
	ReadScouting("x.csv", []byte(head+"2026-13-20,The Shore,,,bad,much,,,,,,\n2026-09-20,z,,Rust,,,,,,,,\n"), list)
	assert.Equal(t, 6, list.Errors(), "%v", list.Err())
}

func TestReadTreatments(t *testing.T) {
	list := &diag.List{}
	got := ReadTreatments("treatments.csv", []byte("\ufeffdate,zone,target,groups,place,area_ft2,interval_days\r\n2026-09-20,z,large-patch,11+3,back,100,28\r\n2026-10-20,z,large-patch,M5+33+M05,,,\r\n"), list)
	require.NoError(t, list.Err())
	require.Len(t, got, 2)
	assert.Equal(t, []string{"11", "3"}, got[0].Groups)
	assert.InDelta(t, 9.290304, got[0].AreaM2, 1e-9)
	assert.Equal(t, 28, got[0].IntervalDays)
	assert.Equal(t, []string{"M05", "P07"}, got[1].Groups)
	assert.True(t, math.IsNaN(got[1].AreaM2))
	for _, c := range []struct{ text, want string }{
		{"date,zone,target,groups\n2026-09-20,z,large-patch,\n", `groups: "" is not the code of a group`},
		{"date,zone,target,groups\n2026-09-20,z,large-patch,azoxystrobin\n", `groups: "azoxystrobin" is not the code of a group`},
		{"date,zone,target,groups,area_ft2,area_m2\n2026-09-20,z,large-patch,11,3,3\n", "area_ft2: the area is given twice"},
		{"date,zone,target,groups\n2026-09-20,z,,11\n", "target: empty"},
	} {
		list := &diag.List{}
		assert.Empty(t, ReadTreatments("treatments.csv", []byte(c.text), list))
		assert.Contains(t, list.Error(), c.want)
	}
}

func TestOwnDesignSeverity(t *testing.T) {
	for _, c := range []struct {
		pct  float64
		want string
	}{{0, "none"}, {0.5, "trace"}, {1, "1-5"}, {5, "1-5"}, {6, "6-10"}, {10, "6-10"}, {11, "11-25"}, {25, "11-25"}, {26, "26-50"}, {50, "26-50"}, {51, "over-50"}, {nan, ""}} {
		assert.Equal(t, c.want, SeverityOf(c.pct), "%v %%", c.pct)
	}
}

// What is written is read again, and shuffled lines are refused.
func TestScoutingRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var b strings.Builder
		b.WriteString("date,zone,finding,area_pct,note\n")
		n := rapid.IntRange(0, 8).Draw(t, "lines")
		day := civil.MustDate(2026, 1, 1)
		for range n {
			day = day.AddDays(rapid.IntRange(0, 30).Draw(t, "days"))
			note := strings.ReplaceAll(rapid.StringMatching(`[a-z ,"é]{0,12}`).Draw(t, "note"), `"`, `""`)
			b.WriteString(day.String() + ",z,rust," + plain(float64(rapid.IntRange(1, 100).Draw(t, "area"))) + `,"` + note + "\"\n")
		}
		list := &diag.List{}
		got := ReadScouting("2026.csv", []byte(b.String()), list)
		if day.Year() == 2026 && (list.Errors() > 0 || len(got) != n) {
			t.Fatalf("%d of %d lines: %v", len(got), n, list.Err())
		}
		for i := 1; i < len(got); i++ {
			if got[i].Date < got[i-1].Date {
				t.Fatal("out of order")
			}
		}
	})
}

// Any bytes are read without a panic; what is accepted is whole, and every line
// is either taken or reported.
func FuzzReadScouting(f *testing.F) {
	f.Add([]byte("date,zone,finding\n2026-09-20,z,none\n"))
	f.Add([]byte("date,zone,grass,place,finding,severity,area_pct\n2026-09-20,z,zoysia,\"a,\"\"b\",rust,1-5,3\n"))
	f.Add([]byte("date,zone,finding\n\"2026"))
	f.Fuzz(func(t *testing.T, text []byte) {
		list := &diag.List{}
		got := ReadScouting("2026.csv", text, list)
		for _, r := range got {
			if !diag.IsID(r.Zone) || !diag.IsID(r.Finding) || r.Date.Year() != 2026 || !utf8.ValidString(r.Note) || r.AreaPct < 0 || r.AreaPct > 100 {
				t.Errorf("accepted %+v", r)
			}
		}
		if !utf8.Valid(text) && list.Errors() == 0 {
			t.Error("not UTF-8, and no mistake")
		}
	})
}

func FuzzReadTreatments(f *testing.F) {
	f.Add([]byte("date,zone,target,groups\n2026-09-20,z,large-patch,11+3\n"))
	f.Add([]byte("date,zone,target,groups,area_m2\n2026-09-20,z,large-patch,M5,7\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		list := &diag.List{}
		for _, r := range ReadTreatments("log.csv", text, list) {
			if len(r.Groups) == 0 || r.AreaM2 < 0 || r.Date.IsZero() {
				t.Errorf("accepted %+v", r)
			}
			for _, g := range r.Groups {
				if again, ok := GroupCode(g); !ok || again != g {
					t.Errorf("%q is not its own code", g)
				}
			}
		}
	})
}

func FuzzGroupCode(f *testing.F) {
	for _, s := range []string{"11", "33", "M5", "M05", "NC", "4A", "K1"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		code, ok := GroupCode(s)
		if again, same := GroupCode(code); ok && (!same || again != code) {
			t.Errorf("%q gives %q, which gives %q", s, code, again)
		}
	})
}

func TestPublishedGroupCodes(t *testing.T) {
	for _, c := range []struct{ name, in, want string }{
		{"FRAC code list 2018: present code of phosphonates", "33", "P07"}, {"FRAC code list 2018: multi-site in two digits", "m5", "M05"},
		{"FRAC code list 2018: multi-site", "M03", "M03"}, {"FRAC code list 2018: biologicals", "BM2", "BM02"}, {"FRAC code list 2018: oils", "nc", "NC"},
		{"FRAC code list 2018: strobilurins", " 11 ", "11"}, {"IRAC mode of action classification: neonicotinoids", "4A", "4A"},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, ok := GroupCode(c.in)
			assert.True(t, ok)
			assert.Equal(t, c.want, got)
		})
	}
	for _, bad := range []string{"", "0", "011", "111", "M00", "azoxystrobin", "11-3", "4AA"} {
		_, ok := GroupCode(bad)
		assert.False(t, ok, bad)
	}
}

// What only the one who looked can know: when it was mown and seeded, whether it
// wilts; and for how long a lawn is young.
func TestWhatOnlyTheScoutKnows(t *testing.T) {
	head := "date,zone,finding,mown,seeded,wilting\n"
	var list diag.List
	got := ReadScouting("x.csv", []byte(head+"2026-07-06,a,none,2026-07-04,2026-04-01,no\n2026-07-07,a,none,,,\n2026-07-08,a,none,2026-07-08,,yes\n"), &list)
	require.NoError(t, list.Err())
	require.Len(t, got, 3)
	assert.Equal(t, []civil.Date{civil.MustDate(2026, 7, 4), 0, civil.MustDate(2026, 7, 8)}, []civil.Date{got[0].Mown, got[1].Mown, got[2].Mown})
	assert.Equal(t, []Told{No, NotTold, Yes}, []Told{got[0].Wilting, got[1].Wilting, got[2].Wilting})
	assert.Equal(t, Yes, got[0].Young(civil.MustDate(2027, 3, 31)))
	assert.Equal(t, No, got[0].Young(civil.MustDate(2027, 4, 1)))
	assert.Equal(t, NotTold, got[1].Young(civil.MustDate(2026, 7, 8)))
	seeded := func(years ...int) (out []Report) {
		for _, y := range years {
			r := Report{}
			if y > 0 {
				r.Seeded = civil.MustDate(y, 4, 1)
			}
			out = append(out, r)
		}
		return out
	}
	on := civil.MustDate(2026, 7, 8)
	assert.Equal(t, NotTold, Young(nil, on))
	assert.Equal(t, Yes, Young(seeded(2019, 2026, 0), on), "the last that tells")
	assert.Equal(t, No, Young(seeded(2026, 2019), on))
	for row, want := range map[string]string{
		"2026-07-06,a,none,2026-07-07,,":  "mown: 2026-07-07 comes after the look",
		"2026-07-06,a,none,,2026-07-07,":  "seeded: 2026-07-07 comes after the look",
		"2026-07-06,a,none,,,maybe":       `wilting: unknown value "maybe"`,
		"2026-07-06,a,none,yesterday,,no": "mown: ",
	} {
		var list diag.List
		assert.Empty(t, ReadScouting("x.csv", []byte(head+row+"\n"), &list), row)
		assert.ErrorContains(t, list.Err(), want)
	}
}
