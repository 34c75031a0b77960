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

// relink replaces the slash at the start of each link by prefix(rest), the
// rest being the link without that slash. Links of other hosts (//host) stay.
func relink(html []byte, prefix func(rest string) string) []byte {
	const mark = `="/`
	var out bytes.Buffer
	out.Grow(len(html) + len(html)/16)
	for {
		at := bytes.Index(html, []byte(mark))
		if at < 0 {
			out.Write(html)
			return out.Bytes()
		}
		start := at + len(mark) - 1 // of the slash
		out.Write(html[:start])
		length := bytes.IndexByte(html[start:], '"')
		if length < 0 {
			length = len(html) - start
		}
		link := string(html[start : start+length])
		if isLinkAttr(html[:at]) && !strings.HasPrefix(link, "//") {
			out.WriteString(prefix(link[1:]))
			out.WriteString(link[1:])
		} else {
			out.WriteString(link)
		}
		html = html[start+length:]
	}
}

// isLinkAttr reports whether what stands before a value names a link, as
// templates and rendered prose write it.
func isLinkAttr(before []byte) bool {
	return bytes.HasSuffix(before, []byte(" href")) || bytes.HasSuffix(before, []byte(" src"))
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
