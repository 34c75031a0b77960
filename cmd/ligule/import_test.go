package main

import (
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// An import adds what is new, keeps what is on record, says what differs and
// what it dropped, and a second time does nothing.
func TestImport(t *testing.T) {
	dir := demonstration(t)
	const record = "data/weather/gannet-light/daily.csv"
	before := read(t, dir, record)
	last := strings.TrimSpace(before)[strings.LastIndexByte(strings.TrimSpace(before), '\n')+1:]
	file := filepath.Join(t.TempDir(), "mine.csv")
	day := strings.SplitN(last, ",", 2)[0]
	write(t, filepath.Dir(file), "mine.csv", "# units: us\ndate,high,low,rain\n"+
		day+",99,60,0\n"+ // on record already, and different
		"2026-12-01,61,43,T\n"+
		"2026-12-02,41,63,0.10\n"+ // the high is below the low
		"2026-12-03,58,40,0.25\n")

	code, stdout, stderr := ligule(t, dir, "import", file, "--station", "gannet-light", "--dry-run")
	require.Equal(t, exitOK, code, stderr)
	assert.Contains(t, stdout, "Nothing was written")
	assert.Equal(t, before, read(t, dir, record))

	code, stdout, stderr = ligule(t, dir, "import", file, "--station", "gannet-light")
	require.Equal(t, exitOK, code, stderr)
	assert.Contains(t, stdout, day+" tmax_c: on record", stdout)
	assert.Contains(t, stdout, ": kept")
	assert.Contains(t, stdout, "mine.csv:5: 2026-12-02")
	after := read(t, dir, record)
	assert.True(t, strings.HasPrefix(after, strings.TrimRight(before, "\n")), "nothing on record has changed")
	assert.True(t, strings.HasSuffix(after, "\n2026-12-01,16.11,6.11,0.0\n2026-12-02,,,2.54\n2026-12-03,14.44,4.44,6.35\n"))

	code, stdout, stderr = ligule(t, dir, "import", file, "--station", "gannet-light")
	require.Equal(t, exitOK, code, stderr)
	assert.Contains(t, stdout, "Nothing new")
	assert.Equal(t, after, read(t, dir, record))

	code, stdout, stderr = ligule(t, dir, "import", file, "--station", "gannet-light", "--overwrite")
	require.Equal(t, exitOK, code, stderr)
	assert.Contains(t, stdout, ": changed")
	assert.True(t, strings.Contains(read(t, dir, record), "\n"+day+",37.22,15.56,"))
}

// A file that cannot be understood changes nothing.
func TestImportRefuses(t *testing.T) {
	dir := demonstration(t)
	const record = "data/weather/gannet-light/daily.csv"
	before := read(t, dir, record)
	for name, text := range map[string]string{
		"empty.csv":   "",
		"prose.txt":   "It was warm on Tuesday.\n",
		"nounits.csv": "date,tmax,tmin,rain\n2026-12-01,61,43,0.1\n",
	} {
		file := filepath.Join(t.TempDir(), name)
		write(t, filepath.Dir(file), name, text)
		code, _, stderr := ligule(t, dir, "import", file, "--station", "gannet-light")
		assert.Equal(t, exitAuthor, code, name)
		assert.Contains(t, stderr, name)
		assert.Contains(t, stderr, "nothing was written")
		assert.Equal(t, before, read(t, dir, record))
	}
	// A record with mistakes is not touched either.
	write(t, dir, record, before+"2026-13-01,1,2,3\n")
	good := filepath.Join(t.TempDir(), "good.csv")
	write(t, filepath.Dir(good), "good.csv", "date,tmax_c,tmin_c,rain_mm\n2026-12-05,12.0,3.0,0.0\n")
	code, _, stderr := ligule(t, dir, "import", good, "--station", "gannet-light")
	assert.Equal(t, exitAuthor, code)
	assert.Contains(t, stderr, record+":")
	assert.Equal(t, before+"2026-13-01,1,2,3\n", read(t, dir, record))
}

// explain shows the working of one answer.
func TestExplain(t *testing.T) {
	dir := demonstration(t)
	code, stdout, stderr := ligule(t, dir, "explain", "gannet-shore", "zoysia", "feed", "--week", "2026-W29")
	require.Equal(t, exitOK, code, stderr)
	for _, want := range []string{"growth_index", "soil_temperature_4in", "FEED: Closed by local rule", "gate: law", "did not fire", "✗"} {
		assert.Contains(t, stdout, want)
	}
	assert.NotContains(t, stdout, "MOW:")
	code, stdout, _ = ligule(t, dir, "indicators")
	require.Equal(t, exitOK, code)
	assert.Contains(t, stdout, "days_between_mows")
	code, stdout, _ = ligule(t, dir, "indicators", "--json")
	require.Equal(t, exitOK, code)
	assert.Contains(t, stdout, `"name": "growth_index"`)
	code, stdout, stderr = ligule(t, dir, "check", "--today", "2026-11-29")
	require.Equal(t, exitOK, code, stderr)
	assert.Contains(t, stdout, "no mistakes")
	assert.Contains(t, stderr, "warning")
	code, stdout, _ = ligule(t, dir, "check", "--reviews", "--today", "2026-11-29")
	require.Equal(t, exitOK, code)
	assert.Contains(t, stdout, "Selvary County")
	assert.Regexp(t, `2026-10-0\d \(past\) +review +Ivelsay`, stdout)
}
