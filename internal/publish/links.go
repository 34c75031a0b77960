package publish

import (
	"bytes"
	"net/url"
	"strings"
)

// Everywhere in templates and prose a link that starts with a slash starts at
// the site's root. What it becomes depends on where it is printed: on a page
// it becomes relative, so that the site works in any folder; in mail and feeds
// it becomes absolute; on the page for missing addresses, which is served
// under any of them, it gets the path of the base URL in front.

// linkAttrs are the ways in which templates and rendered prose write a link.
var linkAttrs = [...]string{` href="/`, ` src="/`}

// relink replaces the slash at the start of each link by prefix(rest), the
// rest being the link without that slash. Links of other hosts (//host) stay.
func relink(html []byte, prefix func(rest string) string) []byte {
	var out bytes.Buffer
	out.Grow(len(html) + len(html)/16)
	for {
		at, n := nextLink(html)
		if at < 0 {
			out.Write(html)
			return out.Bytes()
		}
		start := at + n - 1 // of the slash
		out.Write(html[:start])
		end := bytes.IndexByte(html[start:], '"')
		if end < 0 {
			end = len(html) - start
		}
		link := string(html[start : start+end])
		if strings.HasPrefix(link, "//") {
			out.WriteString(link)
		} else {
			out.WriteString(prefix(link[1:]))
			out.WriteString(link[1:])
		}
		html = html[start+end:]
	}
}

func nextLink(html []byte) (at, n int) {
	at = -1
	for _, attr := range linkAttrs {
		if i := bytes.Index(html, []byte(attr)); i >= 0 && (at < 0 || i < at) {
			at, n = i, len(attr)
		}
	}
	return at, n
}

// relative makes the links of the page at an address ("/zones/shore/")
// relative to it.
func relative(html []byte, address string) []byte {
	up := strings.Repeat("../", strings.Count(address, "/")-1)
	return relink(html, func(rest string) string {
		if up == "" && (rest == "" || strings.HasPrefix(rest, "#")) {
			return "./"
		}
		return up
	})
}

// absolute makes the links of a fragment absolute.
func absolute(html []byte, baseURL string) []byte {
	return relink(html, func(string) string { return baseURL + "/" })
}

// rooted puts the path of the base URL in front of every link.
func rooted(html []byte, baseURL string) []byte {
	base := "/"
	if u, err := url.Parse(baseURL); err == nil {
		base = strings.TrimSuffix(u.Path, "/") + "/"
	}
	return relink(html, func(string) string { return base })
}

// filePath is where the page of an address lies: "zones/shore/index.html" for
// "/zones/shore/", "404.html" for "/404.html".
func filePath(address string) string {
	path := strings.TrimPrefix(address, "/")
	if path == "" || strings.HasSuffix(path, "/") {
		return path + "index.html"
	}
	return path
}
