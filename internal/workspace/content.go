package workspace

import (
	"path"
	"slices"
	"strings"

	"ligule/internal/civil"
	"ligule/internal/diag"
)

// StandingKinds are the kinds of standing article: a guide stands under
// /guides/, "about" is the one page about the publication.
const (
	KindGuide = "guide"
	KindAbout = "about"
)

func (l *loader) standing() {
	for _, file := range l.files("content/standing", ".md") {
		p, meta := l.page(file)
		if p == nil {
			continue
		}
		p.ID = l.id(file)
		p.Kind = KindGuide
		if p.ID == KindAbout {
			p.Kind = KindAbout
		}
		if meta != nil {
			p.Title, p.Summary, p.Spots = meta.Text("title"), meta.Text("summary"), meta.Bool("spot_table")
			meta.Close()
		} else {
			l.list.Errorf(diag.Pos{File: file, Line: 1}, "begin the file with a code block marked toml that holds title = \"…\" and summary = \"…\"", "an article without metadata")
		}
		l.ws.Standing = append(l.ws.Standing, p)
	}
}

func (l *loader) weeks() {
	const folder = "content/issues"
	for _, e := range l.entries(folder) {
		name := path.Join(folder, e.Name())
		week, err := civil.ParseWeek(e.Name())
		switch {
		case err != nil:
			l.list.Errorf(diag.Pos{File: name}, "a folder here is named by its week, such as 2026-W48", "%v", err)
			continue
		case !e.IsDir():
			l.list.Errorf(diag.Pos{File: name}, "put the note into a folder of this name, as note.md", "a week is a folder")
			continue
		}
		wf := &WeekFolder{Week: week, Zones: map[string]*Page{}}
		l.week(name, wf)
		l.ws.Weeks = append(l.ws.Weeks, wf)
	}
	slices.SortFunc(l.ws.Weeks, func(a, b *WeekFolder) int { return strings.Compare(a.Week.String(), b.Week.String()) })
}

func (l *loader) week(folder string, wf *WeekFolder) {
	zones := l.ws.zoneIDs()
	for _, e := range l.entries(folder) {
		file := path.Join(folder, e.Name())
		id := strings.TrimSuffix(e.Name(), ".md")
		switch {
		case e.Name() == "exceptions.toml" || e.Name() == "correction.md":
			l.list.Errorf(diag.Pos{File: file}, "take it out of the folder for now", "not supported yet")
		case e.IsDir() || id == e.Name():
			l.list.Errorf(diag.Pos{File: file}, "a note is note.md for the region or ZONE.md for a zone", "not read")
		case id != "note" && !slices.Contains(zones, id):
			l.refer(diag.Pos{File: file}, "zone", id, append(zones, "note"), "name it note.md or by a zone")
		default:
			p, meta := l.page(file)
			if p == nil {
				continue
			}
			p.ID = id
			if meta != nil {
				p.Title = meta.OptText("title")
				meta.Close()
			}
			if id == "note" {
				wf.Note = p
			} else {
				wf.Zones[id] = p
			}
		}
	}
}

// page reads one Markdown file; nil if it cannot be read.
func (l *loader) page(file string) (*Page, *diag.Table) {
	text, ok := l.read(file)
	if !ok {
		return nil, nil
	}
	return renderPage(file, text, l.list)
}
