package reference

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/data"
	"ligule/internal/diag"
	"ligule/internal/voice"
	"ligule/internal/workspace"
)

// speak says things in the phrases that the program was made with.
func speak(t testing.TB) voice.Voice {
	t.Helper()
	var list diag.List
	root, ok := diag.ReadTOML("phrases.toml", data.Phrases, &list)
	require.True(t, ok, list.Error())
	return voice.Voice{Book: voice.ReadBook(root)}
}

func TestSourcesAreCitedShort(t *testing.T) {
	v := speak(t)
	for _, c := range []struct{ authors, year, want string }{
		{"Allen, R.G., Pereira, L.S., Raes, D., Smith, M.", "1998", "Allen and others 1998"},
		{"Gelernter, W., Stowell, L.", "2005", "Gelernter and Stowell 2005"},
		{"Woods, M.", "2014", "Woods 2014"},
		{"World Meteorological Organization", "2018", "World Meteorological Organization 2018"},
		{"University of Florida, IFAS Extension", "undated", "University of Florida, IFAS Extension"},
		{"Zalom, F.G. and others", "1983", "Zalom, F.G. and others 1983"},
	} {
		ws := &workspace.Workspace{Sources: []workspace.Source{{ID: "x", Authors: c.authors, Year: c.year}}}
		s := SourceOf(ws, "x", "verified")
		assert.Equal(t, c.want, v.Say(s.Label.Message))
		assert.Equal(t, "x", s.ID)
		assert.Equal(t, "verified", v.Say(s.Standing.Message))
	}
	practice := SourceOf(&workspace.Workspace{}, "common practice", "practice")
	assert.Equal(t, "common practice", v.Say(practice.Label.Message))
	assert.Nil(t, practice.Standing, "the label says it")
	known := SourceOf(&workspace.Workspace{}, "common practice", "memory")
	assert.Equal(t, "memory", v.Say(known.Standing.Message))
	ours := SourceOf(&workspace.Workspace{}, "own design", "own design")
	assert.Equal(t, "own design", v.Say(ours.Label.Message))
	assert.Nil(t, ours.Standing)
}
