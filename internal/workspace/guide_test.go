package workspace

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/civil"
	"ligule/internal/law"
	"ligule/internal/watering"
)

const ruleGuide = "content/standing/entering-a-local-rule.md"

// filesOfGuide joins the code blocks of the guide under the file that the
// first line of each names.
func filesOfGuide(t *testing.T) map[string]string {
	t.Helper()
	files := map[string]string{}
	parts := strings.Split(read(t, ruleGuide), "\n```")
	for i := 1; i < len(parts); i++ {
		block, isTOML := strings.CutPrefix(parts[i], "toml\n# data/")
		if !isTOML {
			continue
		}
		name, text, _ := strings.Cut(block, "\n")
		files["data/"+name] += text + "\n"
	}
	return files
}

// What the guide on entering a rule shows is read without a mistake, put into
// the demonstration, and gives the answers that the guide promises.
func TestGuideOnEnteringARule(t *testing.T) {
	files := filesOfGuide(t)
	require.Len(t, files, 4)
	for _, shared := range []string{"data/jurisdictions.toml", "data/zones/ellerwade-bottoms.toml"} {
		require.Contains(t, files, shared)
		files[shared] = read(t, shared) + "\n" + files[shared]
	}
	_, clean := lawWith(t, nil)
	ws, got := lawWith(t, files)
	assert.Equal(t, clean+"\n"+`data/ordinances/marrowby-lawns.toml:36: rules[0].when[0]: warning: the law was read, but its edge days are assumed; ask the office that enforces it, then write "agency"`,
		sortedLines(got, clean), "the guide's record is sound, and its assumed edges are pointed out")

	z, ok := ws.Zone("ellerwade-bottoms")
	require.True(t, ok)
	place := z.Places[len(z.Places)-1]
	require.Equal(t, "Marrowby", place.Name)
	promised := 0
	for _, line := range strings.Split(read(t, ruleGuide), "\n") {
		cells := strings.Split(line, " | ")
		if len(cells) != 3 {
			continue
		}
		monthDay := strings.TrimPrefix(cells[0], "| ")
		verdict, is := map[string]law.Verdict{"closed": law.Closed, "limits apply": law.Conditional}[cells[1]]
		if !is {
			continue
		}
		promised++
		date := dayOf2026(t, monthDay)
		a := ws.Law.Ask(law.Question{Place: place, Date: date, AsOf: civil.MustDate(2026, 4, 12), Product: law.Product{Unknown: true, Nutrients: []string{"N"}}})
		assert.Equal(t, verdict.String(), a.Verdict.String(), monthDay)
		edge := monthDay == "June 15" || monthDay == "September 15"
		assert.Equal(t, edge, len(a.Flags) == 1 && a.Flags[0] == law.EdgeAssumed, "%s: %v", monthDay, a.Flags)
		if monthDay == "November 16" {
			assert.Len(t, a.Closed(), 2, "both laws close")
		}
	}
	assert.Equal(t, 7, promised)

	monday := civil.MustDate(2026, 4, 13)
	week := ws.WaterLaw.Week(place, "public", monday, monday-1)
	require.Len(t, week.Groups, 2)
	assert.Equal(t, "odd", week.Groups[0].Group)
	assert.Equal(t, []watering.Hours{{From: 0, To: 600}, {From: 960, To: 1440}}, week.Groups[0].Days[2].At(watering.Open))
	assert.Equal(t, "exempt", week.WaterIn.State)
}

// sortedLines moves the lines that are not among others to the end.
func sortedLines(text, others string) string {
	var more []string
	for _, line := range strings.Split(text, "\n") {
		if !strings.Contains(others, line) {
			more = append(more, line)
		}
	}
	return strings.Join(append([]string{others}, more...), "\n")
}

func dayOf2026(t *testing.T, s string) civil.Date {
	t.Helper()
	for d := civil.MustDate(2026, 1, 1); d < civil.MustDate(2027, 1, 1); d++ {
		if d.Time().Format("January 2") == s {
			return d
		}
	}
	t.Fatalf("no day %q", s)
	return 0
}
