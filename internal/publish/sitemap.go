package publish

import (
	"bytes"
	"encoding/xml"
	"fmt"

	"ligule/internal/civil"
)

// maxSitemap is how many addresses one sitemap may list (sitemaps.org).
const maxSitemap = 50_000

type sitemapDocument struct {
	XMLName xml.Name     `xml:"http://www.sitemaps.org/schemas/sitemap/0.9 urlset"`
	URLs    []sitemapURL `xml:"url"`
}

type sitemapURL struct {
	Loc     string `xml:"loc"`
	LastMod string `xml:"lastmod,omitempty"`
}

// listed is a page of the sitemap. Changed is zero for standing pages: when
// their content last changed is not known, and a press is no change.
type listed struct {
	address string
	changed civil.Date
}

func sitemap(baseURL string, pages []listed) ([]byte, error) {
	if len(pages) > maxSitemap {
		return nil, fmt.Errorf("publish: %d pages; a sitemap may list %d", len(pages), maxSitemap)
	}
	doc := sitemapDocument{}
	for _, p := range pages {
		doc.URLs = append(doc.URLs, sitemapURL{baseURL + p.address, p.changed.String()})
	}
	var b bytes.Buffer
	b.WriteString(xml.Header)
	e := xml.NewEncoder(&b)
	e.Indent("", "  ")
	if err := e.Encode(doc); err != nil {
		return nil, fmt.Errorf("publish: sitemap: %w", err)
	}
	b.WriteByte('\n')
	return b.Bytes(), nil
}
