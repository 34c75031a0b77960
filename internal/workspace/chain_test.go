package workspace

import (
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A chain of the demonstration that has lost a link is an error, whichever it is:
// the law of what is left out would never be asked.
func TestNoLinkMayBeMissing(t *testing.T) {
	names, err := filepath.Glob(filepath.Join(root, "data/zones/*.toml"))
	require.NoError(t, err)
	line := regexp.MustCompile(`jurisdictions = \[.*\]`)
	for _, link := range []int{0, 1} { // no chain has more than two above the last, which only the author knows
		files, places := map[string]string{}, 0
		for _, name := range names {
			file := "data/zones/" + filepath.Base(name)
			files[file] = line.ReplaceAllStringFunc(read(t, file), func(s string) string {
				chain := strings.Split(strings.TrimSuffix(strings.TrimPrefix(s, "jurisdictions = ["), "]"), ", ")
				require.LessOrEqual(t, len(chain), 3)
				if link == len(chain)-1 {
					return s
				}
				places++
				return "jurisdictions = [" + strings.Join(slices.Delete(chain, link, link+1), ", ") + "]"
			})
		}
		require.Greater(t, places, 3)
		_, found := lawWith(t, files)
		assert.Equal(t, places, strings.Count(found, "would never be asked"), found)
	}
}
