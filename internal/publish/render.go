package publish

import (
	"io/fs"

	"ligule/internal/advice"
	"ligule/internal/issue"
	"ligule/internal/workspace"
)

// Render prints the site of a workspace: issues sorted by week, of which the
// last is the pressed week and the earlier ones make the archive. The
// templates are those of this program with the author's own laid over them.
func Render(ws *workspace.Workspace, issues []*issue.Issue, templates fs.FS) (*Site, error) {
	return newSite(nil)
}

// Needs lists the phrases that the pages print.
func Needs() []advice.Need { return nil }
