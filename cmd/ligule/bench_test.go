package main

import (
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"ligule/data"
	"ligule/internal/bulletin"
	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/workspace"
)

// One zone, grass and week, from weather that is loaded.
func BenchmarkReading(b *testing.B) {
	ws := loadWorkspace(b, root)
	z, ok := ws.Zone("redfallow-piedmont")
	require.True(b, ok)
	one := *z
	one.Grasses = z.Grasses[:1]
	b.ReportAllocs()
	for b.Loop() {
		bulletin.Bare(ws, civil.Week{Year: 2026, Num: 38}, []*workspace.Zone{&one})
	}
}

// A press of the demonstration into an empty folder, from the author's files
// to the last page.
func BenchmarkPress(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		dir := b.TempDir()
		code, _, stderr := ligule(b, root, "press", "--out", dir)
		require.Equal(b, exitOK, code, stderr)
	}
}

// The same when nothing has changed since.
func BenchmarkPressUnchanged(b *testing.B) {
	dir := b.TempDir()
	code, _, stderr := ligule(b, root, "press", "--out", dir)
	require.Equal(b, exitOK, code, stderr)
	b.ReportAllocs()
	for b.Loop() {
		code, _, stderr := ligule(b, root, "press", "--out", dir)
		require.Equal(b, exitOK, code, stderr)
	}
}

// Reading and checking the author's files.
func BenchmarkLoad(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		var list diag.List
		workspace.Load(os.DirFS(root), data.Phrases, &list)
		require.NoError(b, list.Err())
	}
}
