package main

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A local ban of pesticides, from its record to print: it closes the answer in part,
// strikes what it bars on the pages of pests, and is told at its place and no other.
func TestLocalBansOfPesticides(t *testing.T) {
	pages := printed(t, "2026-W48")
	for page, says := range map[string]string{
		"zones/gannet-shore/st-augustine/index.html": "No weed killer in Vellinport, all week, by local rule; elsewhere we have no such rule on record",
		"zones/gannet-shore/index.html":              "Weed killer: closed all week by the Lawn Care Rule (9-141). We read it on March 5, 2026.",
		"issues/2026-W48/gannet-shore/index.html":    "Insecticide (neonicotinoid): closed all week by the Lawn Care Rule (9-142).",
		"zones/gannet-shore/year/index.html":         "Closed by local rule, Vellinport: from September 1, 2026 on, with no end on record.",
		"pests/dollarweed/index.html":                "City of Vellinport bars on home lawns, by the Lawn Care Rule (9-141), read on March 5, 2026: weed killers.",
		"pests/white-grubs/index.html":               "City of Vellinport bars on home lawns, by the Lawn Care Rule (9-142), read on March 5, 2026: imidacloprid",
		"local-rules/vellinport/index.html":          "residents shall not treat lawns with weed killers",
	} {
		assert.Contains(t, pages[page], says, page)
	}
	assert.NotContains(t, pages["zones/ellerwade-bottoms/index.html"], "Lawn Care Rule")
	assert.NotContains(t, pages["pests/brown-patch/index.html"], "Lawn Care Rule")
}

// What a count of pests rests on, from the weather on file to print: the forecast
// where there is one for the week, else the estimates.
func TestBasesOfPests(t *testing.T) {
	t.Parallel()
	for week, basis := range map[string]string{"2026-W30": "estimated", "2026-W46": "forecast"} {
		code, stdout, stderr := ligule(t, root, "explain", "redfallow-piedmont", "tall-fescue", "--week", week)
		require.Equal(t, exitOK, code, stderr)
		assert.Regexp(t, `\n  diseases_to_watch +\d+ +`+basis+`\n`, stdout, week)
		assert.Regexp(t, `\n  weeds_to_watch +\d+ +`+basis+`\n`, stdout, week)
	}
}
