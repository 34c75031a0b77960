package publish

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The zone's page has the table under the week's weather, or says that nothing
// is graded.
func TestTheZonesPageHasTheHoursFitForSpraying(t *testing.T) {
	site := plain(t)
	for _, path := range []string{"zones/gannet-shore/index.html", "issues/2026-W47/gannet-shore/index.html"} {
		p := findPage(t, site, path)
		table := p.one(t, "section[aria-labelledby=weather] table.spray")
		rows := p.all(".spray tbody tr")
		require.Len(t, rows, 8, "the days of the daily forecast")
		assert.Contains(t, textOf(rows[0]), "spray good clock span clock am 7 clock pm 5")
		assert.Contains(t, textOf(rows[7]), "spray absent")
		assert.Contains(t, textOf(table), "10 mph (4.5 m/s) 4")
		assert.Contains(t, textOf(p.one(t, "section[aria-labelledby=weather]")), "spray label")
	}
	p := findPage(t, site, "zones/brackmoor/index.html")
	assert.Empty(t, p.all(".spray"))
	section := textOf(p.one(t, "section[aria-labelledby=weather]"))
	assert.Contains(t, section, "spray none on file")
	assert.NotContains(t, section, "spray label")
}
