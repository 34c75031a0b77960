package workspace

import (
	"cmp"
	"slices"
	"strings"

	"ligule/internal/diag"
	"ligule/internal/season"
)

// calendars reads data/calendar/<grass>.toml.
func (l *loader) calendars() {
	climates := make([]string, len(l.ws.Climates))
	for i, c := range l.ws.Climates {
		climates[i] = c.ID
	}
	for _, file := range l.files("data/calendar", ".toml") {
		t, ok := l.toml(file)
		if !ok {
			continue
		}
		grass := l.id(file)
		if known := l.grassIDs(); !slices.Contains(known, grass) {
			l.list.Errorf(diag.Pos{File: file}, or(diag.DidYouMean(grass, known), "write data/grasses/"+grass+".toml"), "there is no grass %q", grass)
		}
		for _, c := range season.ReadCalendars(grass, climates, t) {
			l.cites(c.Cites())
			l.ws.Calendars = append(l.ws.Calendars, c)
		}
	}
	slices.SortFunc(l.ws.Calendars, func(a, b *season.Calendar) int {
		return cmp.Or(strings.Compare(a.Climate, b.Climate), strings.Compare(a.Grass, b.Grass))
	})
}

// Calendar finds the calendar of a grass in a climate; nil where there is none.
func (ws *Workspace) Calendar(climate, grass string) *season.Calendar {
	i := slices.IndexFunc(ws.Calendars, func(c *season.Calendar) bool { return c.Climate == climate && c.Grass == grass })
	if i < 0 {
		return nil
	}
	return ws.Calendars[i]
}
