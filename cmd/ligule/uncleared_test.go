package main

import (
	"os"
	"path"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// With every record of law past its review and nothing looked up, nothing that is
// printed says of any day or place that it is open to fertilizer, nor to do it:
// page, year, feed, letter and calendar, read back from the files.
func TestNothingUnclearedIsCalledOpen(t *testing.T) {
	t.Parallel()
	dir := demonstration(t)
	records, err := filepath.Glob(filepath.Join(dir, "data/ordinances/*.toml"))
	require.NoError(t, err)
	checked := regexp.MustCompile(`(?m)^(checked_on\s*=) .*$`)
	for _, file := range records {
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(file, checked.ReplaceAll(text, []byte("$1 2019-01-10")), 0o666))
	}
	bodies := strings.ReplaceAll(read(t, dir, "data/jurisdictions.toml"), `"none_found"`, `"not_checked"`)
	write(t, dir, "data/jurisdictions.toml", checked.ReplaceAllString(bodies, ""))
	code, _, stderr := ligule(t, dir, "press", "--week", "2026-W14")
	require.Equal(t, exitOK, code, stderr)
	open := regexp.MustCompile(`(?i)opens again|last open day|open elsewhere|open on the other days|no rule found|(Feed|Can I fertilize\?):? Do it`)
	looked := map[string]int{}
	for name, body := range tree(t, filepath.Join(dir, "public")) {
		if strings.HasPrefix(name, "guides/") || name == "about/index.html" {
			continue // the author's own words
		}
		looked[path.Ext(name)]++
		assert.Empty(t, open.FindAllString(wordsOf(name, body), -1), name)
	}
	assert.Greater(t, looked[".html"], 100)
	assert.Greater(t, looked[".xml"], 7)
	assert.Greater(t, looked[".ics"], 5)
	assert.Contains(t, wordsOf("x.html", read(t, dir, "public/zones/brackmoor-plateau/index.html")), "not cleared until then: ask before you apply")
	assert.Regexp(t, open, wordsOf("x.html", printed(t, "2026-W18")["zones/brackmoor-plateau/index.html"]), "what is cleared is called open")
}
