package main

import (
	"encoding/csv"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"
)

// Two years of one zone of the demonstration, as the terminal shows them.
func TestReplayGolden(t *testing.T) {
	code, got, stderr := ligule(t, root, "replay", "--years", "2024-2025", "--zone", "brackmoor-plateau")
	require.Equal(t, exitOK, code, stderr)
	assert.NotContains(t, stderr, "\r", "progress is for terminals")
	file := filepath.Join("testdata", "replay.txt")
	if *update {
		require.NoError(t, os.WriteFile(file, []byte(got), 0o666))
	}
	want, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.Equal(t, string(want), got, "if the change is meant: go test ./cmd/ligule -run ReplayGolden -update, and read the difference")
	for _, line := range strings.Split(got, "\n") {
		assert.Equal(t, strings.TrimRight(line, " "), line, "no line ends in spaces")
	}
}

func TestReplayCalledWrongly(t *testing.T) {
	for _, c := range []struct {
		args []string
		says string
	}{
		{[]string{"--years", "lately"}, `"lately" is neither a year nor two`},
		{[]string{"--years", "2016-"}, "neither a year nor two"},
		{[]string{"--years", "16-25"}, "neither a year nor two"},
		{[]string{"--years", "2025-2024"}, "2025 comes after 2024"},
		{[]string{"--years", "1990-1999"}, "no weather of 1990 to 1999 is on file, only of 2015 to 2026"},
		{[]string{"--years", "2031"}, "no weather of 2031 is on file"},
		{[]string{"--zone", "ganet-shore"}, `did you mean "gannet-shore"`},
		{[]string{"gannet-shore"}, `unexpected argument "gannet-shore"`},
		{[]string{"--loud"}, "loud"},
	} {
		code, _, stderr := ligule(t, root, append([]string{"replay"}, c.args...)...)
		assert.Equal(t, exitUsage, code, "%v: %s", c.args, stderr)
		assert.Contains(t, stderr, c.says, "%v", c.args)
	}
	code, stdout, _ := ligule(t, root, "replay", "--help")
	assert.Equal(t, exitOK, code)
	assert.Contains(t, stdout, "each as of its own issue date")
}

// Without any record there is something for the author to mend.
func TestReplayWithoutARecord(t *testing.T) {
	dir := demonstration(t)
	require.NoError(t, os.RemoveAll(filepath.Join(dir, "data", "weather")))
	code, _, stderr := ligule(t, dir, "replay")
	assert.Equal(t, exitAuthor, code)
	assert.Contains(t, stderr, "no station has a whole year on record yet")
}

// Everything at once: a table in a file, a page by itself, and JSON.
func TestReplayWritesFiles(t *testing.T) {
	dir := t.TempDir()
	file, folder := filepath.Join(dir, "replay.csv"), filepath.Join(dir, "a", "page")
	args := []string{"replay", "--years", "2025", "--zone", "brackmoor-plateau", "--csv", file, "--page", folder}
	code, stdout, stderr := ligule(t, root, append(args, "--quiet")...)
	require.Equal(t, exitOK, code, stderr)
	assert.Empty(t, stdout)
	table, page := read(t, dir, "replay.csv"), read(t, dir, "a/page/index.html")
	lines, err := csv.NewReader(strings.NewReader(table)).ReadAll()
	require.NoError(t, err)
	assert.Greater(t, len(lines), 100)
	_, err = html.Parse(strings.NewReader(page))
	require.NoError(t, err)
	for _, words := range []string{"Brackmoor Plateau", "as of its own issue date", "the law", "Too few finds for a score", "Invented example", "fewer than ten years"} {
		assert.True(t, strings.Contains(page, words), words)
	}
	assert.NotContains(t, page, "ZgotmplZ")
	assert.NotContains(t, page, "<no value>")

	code, stdout, stderr = ligule(t, root, append(args, "--json")...)
	require.Equal(t, exitOK, code, stderr)
	var doc struct {
		Zones []struct {
			ID      string
			Grasses []struct {
				States []struct{ Week, State string }
			}
		}
	}
	require.NoError(t, json.Unmarshal([]byte(stdout), &doc))
	require.Len(t, doc.Zones, 1)
	require.Len(t, doc.Zones[0].Grasses, 2)
	assert.Len(t, doc.Zones[0].Grasses[0].States, 52)

	// Run again, the same bytes, and nothing left over.
	assert.Equal(t, table, read(t, dir, "replay.csv"))
	assert.Equal(t, page, read(t, dir, "a/page/index.html"))
	for _, d := range []string{dir, folder} {
		names, err := filepath.Glob(filepath.Join(d, "*.tmp"))
		require.NoError(t, err)
		assert.Empty(t, names)
	}

	code, _, stderr = ligule(t, root, "replay", "--years", "2025", "--zone", "brackmoor-plateau", "--quiet", "--csv", filepath.Join(dir, "nowhere", "x.csv"))
	assert.Equal(t, exitAuthor, code)
	assert.Contains(t, stderr, "x.csv")
}
