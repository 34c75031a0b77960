package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/tools/txtar"
)

// Each archive is the small workspace with some files changed, and all that the
// author is told, word for word. Nothing is printed, and the last good site stays.
func TestMistakes(t *testing.T) {
	t.Parallel()
	names, err := filepath.Glob("testdata/mistakes/*.txtar")
	require.NoError(t, err)
	require.NotEmpty(t, names)
	for _, name := range names {
		t.Run(strings.TrimSuffix(filepath.Base(name), ".txtar"), func(t *testing.T) {
			t.Parallel()
			changes, err := txtar.ParseFile(name)
			require.NoError(t, err)
			dir := t.TempDir()
			last := len(changes.Files) - 1
			require.Equal(t, "told", changes.Files[last].Name)
			for _, f := range changes.Files[:last] {
				write(t, dir, f.Name, string(f.Data))
			}
			require.NoError(t, base(dir))
			write(t, dir, "public/index.html", "the last good site")
			code, stdout, stderr := ligule(t, dir, "press")
			assert.Equal(t, exitAuthor, code, stdout)
			if *update {
				changes.Files[last].Data = []byte(stderr)
				require.NoError(t, os.WriteFile(name, txtar.Format(changes), 0o666))
				return
			}
			assert.Equal(t, string(changes.Files[last].Data), stderr)
			assert.Contains(t, stderr, "to mend; nothing was printed")
			assert.Equal(t, map[string]string{"index.html": "the last good site"}, tree(t, dir+"/public"), "the last good site stays")
		})
	}
}
