package main

import (
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// order is the one direction in which packages may import each other: only
// those before them.
var order = []string{"civil", "quantity", "message", "diag", "agromet", "weather", "turf", "pest", "pesttest", "homeuse", "spray", "disease", "herbicide",
	"stage", "season", "lawtest", "law", "watering", "advice", "voice", "workspace", "reference", "bulletin", "edition", "chart", "publish", "replay"}

// outside lists the packages that may touch files, and which of the standard
// library's doors to the world stay shut everywhere else.
var (
	touchFiles = []string{"workspace", "publish", "pesttest"}
	doors      = []string{"os", "os/exec", "net", "net/http", "log", "log/slog", "math/rand", "crypto/rand"}
)

// decides are the packages that decide; records those that only tell what was
// decided, and ask none of them. Package agromet decides nothing: it is
// arithmetic, and scores warnings for a replay.
var (
	decides = []string{"weather", "turf", "pest", "homeuse", "disease", "spray", "herbicide", "stage", "season", "watering", "law", "advice"}
	records = []string{"edition", "chart", "publish", "replay"}
)

// Every package imports only packages above it, and the core reads no file, no
// network and no clock. What is printed asks no book of law.
func TestImportsPointOneWay(t *testing.T) {
	asksLaw := regexp.MustCompile(`\bws\.(Law|WaterLaw)\b|\.(Law|WaterLaw)\.[A-Z]\w*\(|\b(law|watering)\.(New)?Book\b`)
	clock := regexp.MustCompile(`\btime\.(Now|Since|Until|Sleep|After|Tick|NewTimer|NewTicker)\b|\btime\.Local\b`)
	seen := map[string]bool{}
	require.NoError(t, filepath.WalkDir(filepath.Join(root, "internal"), func(p string, e fs.DirEntry, err error) error {
		require.NoError(t, err)
		if e.IsDir() || filepath.Ext(p) != ".go" || strings.HasSuffix(p, "_test.go") {
			return nil
		}
		pkg := filepath.Base(filepath.Dir(p))
		seen[pkg] = true
		at := slices.Index(order, pkg)
		require.GreaterOrEqual(t, at, 0, "package %s has no place in the order", pkg)
		src, err := os.ReadFile(p)
		require.NoError(t, err)
		assert.False(t, clock.Match(src), "%s looks at a clock", p)
		if pkg == "reference" || slices.Contains(records, pkg) {
			assert.Empty(t, string(asksLaw.Find(src)), "%s asks the book of law; what it closes is in the bulletin", p)
		}
		f, err := parser.ParseFile(token.NewFileSet(), p, src, parser.ImportsOnly)
		require.NoError(t, err)
		for _, spec := range f.Imports {
			path, err := strconv.Unquote(spec.Path.Value)
			require.NoError(t, err)
			if name, own := strings.CutPrefix(path, "ligule/internal/"); own {
				i := slices.Index(order, name)
				assert.True(t, i >= 0 && i < at, "%s imports %s, which does not stand above it", p, name)
				assert.False(t, slices.Contains(records, pkg) && slices.Contains(decides, name), "%s imports %s; what is told was decided before", p, name)
			}
			if path == "ligule/templates" {
				t.Errorf("%s imports the templates; they are handed in", p)
			}
			if slices.Contains(doors, path) && !slices.Contains(touchFiles, pkg) {
				t.Errorf("%s imports %s", p, path)
			}
			if strings.HasPrefix(path, "net/http") || path == "os/exec" {
				t.Errorf("%s imports %s", p, path)
			}
		}
		return nil
	}))
	assert.Greater(t, len(seen), 10)
	for _, p := range []string{"press.go", "explain.go", "replay.go"} {
		src, err := os.ReadFile(p)
		require.NoError(t, err)
		assert.Empty(t, string(asksLaw.Find(src)), "%s asks the book of law", p)
	}
}

// What is printed and what is tested must not say where it was made.
func TestTopLevelIsTheHouse(t *testing.T) {
	want := []string{"DEVELOPERS.md", "LICENSE", "README.md", "cmd", "content", "data", "go.mod", "go.sum", "internal", "public", "templates"}
	entries, err := os.ReadDir(root)
	require.NoError(t, err)
	var got []string
	for _, e := range entries {
		if !strings.HasPrefix(e.Name(), ".") {
			got = append(got, e.Name())
		}
	}
	assert.Equal(t, want, got)
}
