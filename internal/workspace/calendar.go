package workspace

import (
	"errors"
	"io/fs"
	"path"
	"slices"
	"strings"

	"ligule/internal/diag"
	"ligule/internal/season"
)

// calendars reads data/calendar/<climate>/<grass>.toml.
func (l *loader) calendars() {
	const root = "data/calendar"
	entries, err := fs.ReadDir(l.ws.FS, root)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		l.list.Errorf(diag.Pos{File: root}, "", "cannot be read: %v", err)
	}
	var climates []string
	for _, c := range l.ws.Climates {
		climates = append(climates, c.ID)
	}
	for _, e := range entries {
		folder := path.Join(root, e.Name())
		switch {
		case strings.HasPrefix(e.Name(), "."):
			continue
		case !e.IsDir():
			l.list.Errorf(diag.Pos{File: folder}, "move it into the folder of its climate", "not read")
			continue
		case !slices.Contains(climates, e.Name()):
			l.list.Errorf(diag.Pos{File: folder}, or(diag.DidYouMean(e.Name(), climates), "add it to data/climates.toml"), "there is no climate %q", e.Name())
		}
		for _, file := range l.files(folder, ".toml") {
			t, ok := l.toml(file)
			if !ok {
				continue
			}
			grass := l.id(file)
			if known := l.grassIDs(); !slices.Contains(known, grass) {
				l.list.Errorf(diag.Pos{File: file}, or(diag.DidYouMean(grass, known), "write data/grasses/"+grass+".toml"), "there is no grass %q", grass)
			}
			c := season.ReadCalendar(e.Name(), grass, t)
			l.cites(c.Cites())
			l.ws.Calendars = append(l.ws.Calendars, c)
		}
	}
}

// Calendar finds the calendar of a grass in a climate; nil where there is none.
func (ws *Workspace) Calendar(climate, grass string) *season.Calendar {
	i := slices.IndexFunc(ws.Calendars, func(c *season.Calendar) bool { return c.Climate == climate && c.Grass == grass })
	if i < 0 {
		return nil
	}
	return ws.Calendars[i]
}
