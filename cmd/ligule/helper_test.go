package main

import (
	"bytes"
	"compress/gzip"
	"flag"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/tools/txtar"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// root is the repository, which is also the demonstration workspace.
const root = "../.."

// ligule runs the program in a workspace and returns its exit code and what it
// printed.
func ligule(t testing.TB, dir string, args ...string) (code int, stdout, stderr string) {
	t.Helper()
	var out, errs bytes.Buffer
	w := world{stdout: &out, stderr: &errs, now: func() time.Time { return time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC) }}
	code = run(w, append(args, "--in", dir))
	return code, out.String(), errs.String()
}

// printed is a week of the demonstration as it is pressed, once for all tests.
func printed(t testing.TB, week string) map[string]string {
	t.Helper()
	printing.Lock()
	defer printing.Unlock()
	if printing.weeks[week] == nil {
		dir := t.TempDir()
		code, _, stderr := ligule(t, root, "press", "--week", week, "--out", dir)
		require.Equal(t, exitOK, code, stderr)
		printing.weeks[week] = tree(t, dir)
	}
	return printing.weeks[week]
}

var printing = struct {
	sync.Mutex
	weeks map[string]map[string]string
}{weeks: map[string]map[string]string{}}

// copyTree copies files and folders of the repository into a workspace.
func copyTree(t testing.TB, dir string, names ...string) {
	t.Helper()
	for _, name := range names {
		from := filepath.Join(root, name)
		require.NoError(t, filepath.WalkDir(from, func(p string, e fs.DirEntry, err error) error {
			require.NoError(t, err)
			rel, err := filepath.Rel(root, p)
			require.NoError(t, err)
			to := filepath.Join(dir, rel)
			if e.IsDir() {
				return os.MkdirAll(to, 0o777)
			}
			data, err := os.ReadFile(p)
			require.NoError(t, err)
			require.NoError(t, os.MkdirAll(filepath.Dir(to), 0o777))
			return os.WriteFile(to, data, 0o666)
		}))
	}
}

// base lays the small workspace that package workspace tests with into a folder,
// save for the files that are there already.
func base(dir string) error {
	archive, err := txtar.ParseFile(filepath.Join(root, "internal/workspace/testdata/base.txtar"))
	if err != nil {
		return err
	}
	put := func(name string, data []byte) error {
		file := filepath.Join(dir, filepath.FromSlash(name))
		if _, err := os.Stat(file); err == nil {
			return nil
		}
		if err := os.MkdirAll(filepath.Dir(file), 0o777); err != nil {
			return err
		}
		return os.WriteFile(file, data, 0o666)
	}
	demonstration := os.DirFS(root)
	for _, f := range archive.Files {
		if f.Name != "demonstration" {
			if err := put(f.Name, f.Data); err != nil {
				return err
			}
			continue
		}
		for _, pattern := range strings.Fields(string(f.Data)) {
			names, err := fs.Glob(demonstration, pattern)
			if err != nil {
				return err
			}
			for _, name := range names {
				data, err := fs.ReadFile(demonstration, name)
				if err != nil {
					return err
				}
				if err := put(name, data); err != nil {
					return err
				}
			}
		}
	}
	return nil
}

// demonstration returns a copy of the demonstration workspace.
func demonstration(t testing.TB) string {
	t.Helper()
	dir := t.TempDir()
	copyTree(t, dir, "data", "content")
	return dir
}

// unlogged is a copy of the demonstration in which nothing was scouted or treated.
func unlogged(t testing.TB) string {
	t.Helper()
	dir := demonstration(t)
	for _, log := range []string{"scouting", "treatments"} {
		require.NoError(t, os.RemoveAll(filepath.Join(dir, "data", log)))
	}
	return dir
}

func write(t testing.TB, dir, name, text string) {
	t.Helper()
	file := filepath.Join(dir, filepath.FromSlash(name))
	require.NoError(t, os.MkdirAll(filepath.Dir(file), 0o777))
	require.NoError(t, os.WriteFile(file, []byte(text), 0o666))
}

func read(t testing.TB, dir, name string) string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(dir, filepath.FromSlash(name)))
	require.NoError(t, err)
	return string(data)
}

// replace changes a text that must stand exactly once in a file.
func replace(t testing.TB, dir, name, old, new string) {
	t.Helper()
	text := read(t, dir, name)
	require.Equal(t, 1, strings.Count(text, old), "%q in %s", old, name)
	write(t, dir, name, strings.Replace(text, old, new, 1))
}

// gunzip unpacks a file of real weather into a workspace.
func gunzip(t testing.TB, from, to string) {
	t.Helper()
	f, err := os.Open(from)
	require.NoError(t, err)
	defer f.Close()
	z, err := gzip.NewReader(f)
	require.NoError(t, err)
	data, err := io.ReadAll(z)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(to, data, 0o666))
}

// tree reads every file of a folder.
func tree(t testing.TB, dir string) map[string]string {
	t.Helper()
	files := map[string]string{}
	require.NoError(t, filepath.WalkDir(dir, func(p string, e fs.DirEntry, err error) error {
		require.NoError(t, err)
		if !e.IsDir() {
			data, err := os.ReadFile(p)
			require.NoError(t, err)
			rel, err := filepath.Rel(dir, p)
			require.NoError(t, err)
			files[filepath.ToSlash(rel)] = string(data)
		}
		return nil
	}))
	return files
}

// sameTree compares two folders file by file, and names those that differ.
func sameTree(t testing.TB, want, got map[string]string) {
	t.Helper()
	require.NotEmpty(t, want)
	for name, text := range want {
		other, ok := got[name]
		assert.True(t, ok, "%s is missing", name)
		assert.True(t, !ok || other == text, "%s differs", name)
	}
	for name := range got {
		_, ok := want[name]
		assert.True(t, ok, "%s is new", name)
	}
}
