package publish

import (
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/advice"
	"ligule/internal/bulletin"
)

func TestRenderIsDeterministic(t *testing.T) {
	first := plain(t)
	assert.Equal(t, first, newWorld(t, nil).render(t))
	before := runtime.GOMAXPROCS(1)
	defer runtime.GOMAXPROCS(before)
	assert.Equal(t, first, newWorld(t, nil).render(t), "on one processor")
}

func TestPagesOfAnIssueNeverChange(t *testing.T) {
	w := newWorld(t, nil)
	both := w.render(t)
	w.issues = w.issues[:1]
	early := w.render(t)
	kept := 0
	for _, f := range early.Files {
		if !isPermanent(f.Path) {
			continue
		}
		later, ok := both.Find(f.Path)
		require.True(t, ok, f.Path)
		assert.Equal(t, string(f.Body), string(later.Body), f.Path)
		kept++
	}
	assert.Equal(t, 12, kept)
}

func TestSiteHoldsEveryAddressOfTheDesign(t *testing.T) {
	site := plain(t)
	for _, path := range []string{
		"index.html", "zones/gannet-shore/index.html", "zones/gannet-shore/zoysia/index.html", "zones/gannet-shore/zoysia/working/index.html",
		"issues/index.html", "issues/2026-W48/index.html", "issues/2026-W48/gannet-shore/index.html",
		"issues/2026-W48/newsletter/index.html", "issues/2026-W48/newsletter/newsletter.txt",
		"issues/2026-W48/gannet-shore/newsletter/index.html", "issues/2026-W48/gannet-shore/newsletter/newsletter.txt",
		"local-rules/index.html", "local-rules/shore-county/index.html", "guides/index.html", "guides/reading-a-bag/index.html", "about/index.html",
		"methods/index.html", "methods/indicators/index.html", "methods/sources/index.html", "feed.xml", "zones/gannet-shore/feed.xml", "zones/gannet-shore/calendar.ics", "local-rules/feed.xml",
		"subscribe/index.html", "404.html", "sitemap.xml", "robots.txt", "favicon.svg", "site.css", "copy.js",
	} {
		f, ok := site.Find(path)
		assert.True(t, ok, path)
		assert.NotEmpty(t, f.Body, path)
	}
	var entries []string
	for _, f := range site.Files {
		if f.Entry {
			entries = append(entries, f.Path)
		}
		assert.NotRegexp(t, `/\.|^\.`, f.Path, "no file that hides")
	}
	assert.Equal(t, []string{"feed.xml", "index.html", "local-rules/feed.xml", "sitemap.xml", "zones/brackmoor/feed.xml", "zones/ellerwade/feed.xml", "zones/gannet-shore/calendar.ics", "zones/gannet-shore/feed.xml"}, entries)
}

// Everything that pages print is in the book, and nothing comes out in the
// guillemets of a missing phrase or slot.
func TestNoPhraseIsMissing(t *testing.T) {
	for _, f := range plain(t).Files {
		assert.NotContains(t, string(f.Body), "«", f.Path)
		assert.NotContains(t, string(f.Body), "<no value>", f.Path)
		assert.NotContains(t, string(f.Body), "%!", f.Path)
	}
}

func TestRenderRefusesWhatItCannotPrint(t *testing.T) {
	for name, spoil := range map[string]func(w *world){
		"there is no issue":   func(w *world) { w.issues = nil },
		"does not come after": func(w *world) { slices.Reverse(w.issues) },
		`be called "newsletter"`: func(w *world) {
			old := w.issues[0].Zones[0].ID
			zone, _ := w.ws.Zone(old)
			zone.ID = "newsletter"
			for _, is := range w.issues {
				for _, z := range is.Zones {
					if z.ID == old {
						z.ID = zone.ID
					}
				}
			}
		},
		"time zone":               func(w *world) { w.ws.Site.TimeZone = "Nowhere/Nothing" },
		`issue time "6 pm"`:       func(w *world) { w.ws.Site.IssueTime = "6 pm" },
		"two pages have the":      func(w *world) { w.ws.Standing[1].Kind, w.ws.Standing[1].ID = "guide", "reading-a-bag" },
		"cannot be the path of a": func(w *world) { w.ws.Standing[0].ID = "../../outside" },
	} {
		w := newWorld(t, nil)
		spoil(&w)
		_, err := Render(w.publication(), files())
		assert.ErrorContains(t, err, name)
	}
}

// laid is the program's templates with some files of an author's own.
type laid struct {
	over fstest.MapFS
}

func (l laid) Open(name string) (fs.File, error) {
	if _, ok := l.over[name]; ok {
		return l.over.Open(name)
	}
	return files().Open(name)
}

func TestAuthorsTemplatesReplaceFileByFile(t *testing.T) {
	w := newWorld(t, nil)
	own := laid{fstest.MapFS{
		"about.html":  {Data: []byte("never looked at")},
		"guides.html": {Data: []byte(`{{define "title"}}My guides{{end}}{{define "description"}}Mine{{end}}{{define "main"}}<h1>Mine</h1><a href="/issues/">Old</a>{{end}}`)},
	}}
	site, err := Render(w.publication(), own)
	require.NoError(t, err)
	p := findPage(t, site, "guides/index.html")
	assert.Equal(t, "Mine", textOf(p.one(t, "h1")))
	assert.Contains(t, string(p.body), `<a href="../issues/">Old</a>`)
	_, err = Render(w.publication(), laid{fstest.MapFS{"guides.html": {Data: []byte(`{{define "title"}}`)}}})
	assert.ErrorContains(t, err, "guides.html")
	_, err = Render(w.publication(), laid{fstest.MapFS{"guides.html": {Data: []byte(`{{define "title"}}x{{end}}{{define "description"}}x{{end}}{{define "main"}}{{.Body.Nothing}}{{end}}`)}}})
	assert.ErrorContains(t, err, "Nothing")
}

func TestIssueWithoutNoteForecastOrChange(t *testing.T) {
	w := newWorld(t, nil)
	for _, iss := range w.issues {
		iss.Note = nil
		for _, z := range iss.Zones {
			z.Note, z.Changed, z.First = nil, nil, ""
			if z.Weather != nil {
				z.Weather.Ahead, z.Weather.ForecastIssued = nil, 0
			}
			for i, p := range w.place(z.ID).Grasses {
				year := z.Grasses[i].Year
				z.Grasses[i] = newGrass(w.ws, p, &advice.Reading{}, false)
				z.Grasses[i].Year = year
			}
		}
	}
	site := w.render(t)
	p := findPage(t, site, "zones/gannet-shore/index.html")
	assert.Contains(t, textOf(p.one(t, ".dateline")), "no forecast on file")
	assert.Contains(t, textOf(p.one(t, "main")), "No forecast is on file for the days ahead.")
	assert.Empty(t, p.all(".note"))
	assert.Len(t, p.all(".withheld"), 1)
	assert.Len(t, p.all(".lawbox"), 1, "the law speaks without weather")
}

// Text is turned into HTML in two places only, and into an address of a scheme
// that the template package does not know in one.
func TestFewPlacesMakeHTML(t *testing.T) {
	var places []string
	names, err := filepath.Glob("*.go")
	require.NoError(t, err)
	for _, name := range names {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		text, err := os.ReadFile(name)
		require.NoError(t, err)
		for range regexp.MustCompile(`template\.(HTML|URL|JS|CSS|HTMLAttr|JSStr|Srcset)\(`).FindAllString(string(text), -1) {
			places = append(places, name)
		}
	}
	assert.Equal(t, []string{"alone.go", "alone.go", "calendar.go", "letter.go", "prose.go"}, places)
}

func BenchmarkRender(b *testing.B) {
	w := newWorld(b, nil)
	last := w.issues[1]
	var many []*bulletin.Region
	for i := range 20 {
		older := *last
		older.Week = last.Week.AddWeeks(i - 19)
		older.Date = w.ws.Site.IssueDate(older.Week)
		many = append(many, &older)
	}
	w.issues = many
	pub := w.publication()
	pages := 0
	b.ReportAllocs()
	for b.Loop() {
		site, err := Render(pub, files())
		if err != nil {
			b.Fatal(err)
		}
		pages = len(site.Files)
	}
	b.ReportMetric(float64(pages)*float64(b.N)/b.Elapsed().Seconds(), "files/s")
}
