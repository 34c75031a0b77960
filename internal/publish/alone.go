package publish

import (
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"fmt"
	"html/template"
	"io/fs"

	"ligule/internal/workspace"
)

// Alone prints one page that needs no other file: style and icon are inside, the
// style let in by its hash under a policy as strict as that of the site, and
// links lead to the site at its base URL. It looks like the site and is no part of it: no
// search engine is to list it. template is the name of its file without .html,
// body what it gets.
func Alone(ws *workspace.Workspace, templates fs.FS, name string, body any) ([]byte, error) {
	e := &edition{viewer: viewer{words{ws.Voice()}, ws}}
	p, err := newPrinter(templates, e.words, e.siteView())
	if err != nil {
		return nil, err
	}
	style, err := fs.ReadFile(templates, "site.css")
	if err != nil {
		return nil, fmt.Errorf("publish: %w", err)
	}
	if bytes.Contains(bytes.ToLower(style), []byte("</style")) {
		return nil, fmt.Errorf("publish: site.css cannot hold %q", "</style")
	}
	// What a browser hashes are the lines as it reads them.
	style = bytes.ReplaceAll(style, []byte("\r\n"), []byte("\n"))
	sum := sha256.Sum256(style)
	icon, err := fs.ReadFile(templates, "favicon.svg")
	if err != nil {
		return nil, fmt.Errorf("publish: %w", err)
	}
	html, err := p.page(name, head{
		NoIndex: true, Style: template.CSS(style), StyleHash: "sha256-" + base64.StdEncoding.EncodeToString(sum[:]),
		Icon: template.URL("data:image/svg+xml;base64," + base64.StdEncoding.EncodeToString(icon)),
	}, body)
	if err != nil {
		return nil, err
	}
	return absolute(html, ws.Site.BaseURL), nil
}
