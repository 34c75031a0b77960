package publish

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/bulletin"
	"ligule/internal/message"
)

// What goes for one lawn stands under the answer for the zone, on pages, in letters
// and in feeds, with its conditions and the cautions; it is in no title, subject,
// preview or summary, and no first thing.
func TestLawnsStandUnderTheZonesAnswer(t *testing.T) {
	w := newWorld(t, nil)
	text := func(s string) *message.Said { return message.Say(message.Plain(s)) }
	for _, iss := range w.issues {
		for _, z := range iss.Zones {
			for _, g := range z.Grasses {
				for _, a := range g.Answers {
					if a.Topic != "disease" {
						continue
					}
					a.Cautions = iss.Cautions[:1]
					a.Lawns = []bulletin.Lawn{{Place: "the mill green", Where: text("At the mill green"), Word: text("Do it"),
						Draft: bulletin.Draft{Verdict: "do", Say: text("Treat these spots."), Conditions: []*message.Said{text("No more than 924 of them.")}}}}
				}
			}
		}
	}
	site := w.render(t)
	for _, path := range []string{"zones/gannet-shore/index.html", "zones/gannet-shore/zoysia/index.html"} {
		p := findPage(t, site, path)
		said := textOf(p.one(t, "#zoysia-disease"))
		zone, lawn := strings.Index(said, "Look where water stands."), strings.Index(said, "At the mill green: Do it. Treat these spots.")
		assert.True(t, zone >= 0 && zone < lawn, said)
		assert.Greater(t, strings.Index(said, "No more than 924 of them."), lawn)
		assert.Contains(t, said, w.issues[0].Cautions[0].Short)
		for _, head := range []string{"title", ".glance", `meta[name="description"]`} {
			for _, n := range p.all(head) {
				content, _ := attr(n, "content")
				assert.NotContains(t, textOf(n)+content, "mill green", "%s of %s", head, path)
			}
		}
	}
	letters := 0
	for _, file := range site.Files {
		path, body := file.Path, string(file.Body)
		switch {
		case strings.HasSuffix(path, "newsletter.txt") && strings.Contains(path, "gannet-shore"):
			letters++
			zone, lawn := strings.Index(body, "Look where water stands."), strings.Index(body, "At the mill green: Do it. Treat these spots.")
			assert.True(t, zone >= 0 && zone < lawn, path)
			assert.Contains(t, body, "    - No more than 924 of them.", path)
		case strings.HasSuffix(path, "gannet-shore/feed.xml"):
			letters++
			_, after, _ := strings.Cut(body, "Look where water stands.")
			assert.Contains(t, after, "At the mill green: Do it. Treat these spots.", path)
			for _, item := range strings.Split(body, "<item>")[1:] {
				summary, _, ok := strings.Cut(item, "<content:encoded>")
				require.True(t, ok)
				assert.NotContains(t, summary, "mill green", path)
			}
		}
	}
	assert.GreaterOrEqual(t, letters, 2)
}
