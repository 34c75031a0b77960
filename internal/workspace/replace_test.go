package workspace

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestReplaceFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "daily.csv")
	put := func(text string) func(io.Writer) error {
		return func(w io.Writer) error { _, err := io.WriteString(w, text); return err }
	}
	require.NoError(t, ReplaceFile(path, put("one")))
	require.NoError(t, os.Chmod(path, 0o600))
	require.NoError(t, ReplaceFile(path, put("two")))
	info, err := os.Stat(path)
	require.NoError(t, err)
	assert.Equal(t, os.FileMode(0o600), info.Mode().Perm(), "permissions stay")

	broken := errors.New("disk full")
	err = ReplaceFile(path, func(w io.Writer) error { _, _ = io.WriteString(w, "thr"); return broken })
	require.ErrorIs(t, err, broken)
	assert.ErrorContains(t, err, path)
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, "two", string(text))
	files, err := os.ReadDir(filepath.Dir(path))
	require.NoError(t, err)
	assert.Len(t, files, 1, "no temporary file is left")

	assert.Error(t, ReplaceFile(filepath.Join(path, "no", "folder"), put("x")))
}
