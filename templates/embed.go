// Package templates holds the templates, the style sheet, the script and the
// icon of a site, as they come with the program. An author's own folder of
// templates overrides them file by file.
package templates

import "embed"

// FS holds all files of this folder but the Go code.
//
//go:embed *.html *.txt *.css *.js *.svg
var FS embed.FS
