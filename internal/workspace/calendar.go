package workspace

import (
	"cmp"
	"slices"
	"strings"

	"ligule/internal/diag"
	"ligule/internal/season"
)

const calendarDefaultsFile = "data/calendar/defaults.toml"

// calendars reads data/calendar/<grass>.toml. None needs defaults.
func (l *loader) calendars() {
	defaults, whole := l.optTOML(calendarDefaultsFile)
	for _, file := range l.files("data/calendar", ".toml") {
		if file == calendarDefaultsFile {
			continue
		}
		t, ok := l.toml(file)
		if !ok {
			whole = false
			continue
		}
		grass := l.id(file)
		l.refer(diag.Pos{File: file}, "grass", grass, l.ws.grassIDs(), "write data/grasses/"+grass+".toml")
		for _, c := range season.ReadCalendars(grass, l.ws.climateIDs(), t, defaults) {
			l.cites(c.Cites())
			l.ws.Calendars = append(l.ws.Calendars, c)
		}
	}
	if whole { // else what takes a default may be what could not be read
		defaults.CloseTaken()
	}
	slices.SortFunc(l.ws.Calendars, func(a, b *season.Calendar) int {
		return cmp.Or(strings.Compare(a.Climate, b.Climate), strings.Compare(a.Grass, b.Grass))
	})
}

// Calendar finds the calendar of a grass in a climate; nil where there is none.
func (ws *Workspace) Calendar(climate, grass string) *season.Calendar {
	c, _ := find(ws.Calendars, func(c *season.Calendar) bool { return c.Climate == climate && c.Grass == grass })
	return c
}
