package main

import (
	"encoding/csv"
	"encoding/json"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"
)

// Everything at once: a table in a file, a page by itself, and JSON.
func TestReplayWritesFiles(t *testing.T) {
	t.Parallel()
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
}
