package main

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/civil"
	"ligule/internal/edition"
	"ligule/internal/publish"
	"ligule/internal/reference"
	"ligule/templates"
)

// A site that is printed from editions that were written down and read back is the
// same, byte for byte: nothing that a reader gets of a week goes around them, and
// the reference asks no law.
func TestASiteIsPrintedFromWhatWasWrittenDown(t *testing.T) {
	t.Parallel()
	ws := loadWorkspace(t, root)
	week := civil.Week{Year: 2026, Num: 18}
	pub := publication(ws, week)
	require.Greater(t, len(pub.Weeks), 1)
	once, err := publish.Render(pub, templates.FS)
	require.NoError(t, err)
	blind := *ws // no law can be asked of it
	blind.Law, blind.WaterLaw = nil, nil
	pub.Reference = reference.Of(&blind, ws.Site.IssueDate(week))
	edition.Voice(pub.Reference, pub.Voice)
	for i, e := range pub.Weeks {
		var b bytes.Buffer
		require.NoError(t, edition.Write(&b, e))
		pub.Weeks[i], err = edition.Read(&b)
		require.NoError(t, err)
	}
	again, err := publish.Render(pub, templates.FS)
	require.NoError(t, err)
	require.Greater(t, len(once.Files), 100)
	require.Len(t, again.Files, len(once.Files))
	for i, f := range once.Files {
		if !assert.True(t, f.Path == again.Files[i].Path && bytes.Equal(f.Body, again.Files[i].Body), f.Path) {
			break
		}
	}
}
