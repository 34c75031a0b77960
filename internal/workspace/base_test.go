package workspace

import (
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/tools/txtar"

	"ligule/internal/civil"
	"ligule/internal/diag"
)

// baseFiles are those of the small workspace under testdata that tests lay other
// files over.
func baseFiles(t testing.TB) fstest.MapFS {
	t.Helper()
	base, err := txtar.ParseFile("testdata/base.txtar")
	require.NoError(t, err)
	files := fstest.MapFS{}
	for _, f := range base.Files {
		if f.Name != "demonstration" {
			files[f.Name] = &fstest.MapFile{Data: f.Data}
			continue
		}
		for _, pattern := range strings.Fields(string(f.Data)) {
			names, err := fs.Glob(os.DirFS(root), pattern)
			require.NoError(t, err)
			for _, name := range names {
				files[name] = &fstest.MapFile{Data: []byte(read(t, name))}
			}
		}
	}
	return files
}

// told loads a workspace and returns all that is wrong or stale as of April 12,
// 2026, a line each. Which phrases are printed is known to the packages that
// print; they are not asked here.
func told(files fs.FS) (*Workspace, string) {
	var list diag.List
	ws := Load(files, nil, &list)
	ws.LintLaw(civil.MustDate(2026, 4, 12), &list)
	var lines []string
	for _, p := range list.All() {
		if p.File != "data/phrases.toml" {
			lines = append(lines, p.String())
		}
	}
	return ws, strings.Join(lines, "\n")
}

func TestTheBaseHasNoMistake(t *testing.T) {
	ws, told := told(baseFiles(t))
	assert.Empty(t, told)
	assert.Len(t, ws.Zones, 1)
}

// Each archive is the base with some files changed, and everything that the author
// is then told, word for word.
func TestMistakes(t *testing.T) {
	names, err := filepath.Glob("testdata/mistakes/*.txtar")
	require.NoError(t, err)
	require.NotEmpty(t, names)
	for _, name := range names {
		t.Run(strings.TrimSuffix(filepath.Base(name), ".txtar"), func(t *testing.T) {
			t.Parallel()
			changes, err := txtar.ParseFile(name)
			require.NoError(t, err)
			files, want := baseFiles(t), ""
			for _, f := range changes.Files {
				if path.Dir(f.Name) == "." {
					require.Equal(t, "told", f.Name)
					want = string(f.Data)
					continue
				}
				files[f.Name] = &fstest.MapFile{Data: f.Data}
			}
			require.NotEmpty(t, want)
			_, got := told(files)
			assert.Equal(t, strings.TrimSpace(want), got)
		})
	}
}
