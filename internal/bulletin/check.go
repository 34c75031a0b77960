package bulletin

import (
	"fmt"
	"runtime"
	"slices"
	"strings"

	"golang.org/x/sync/errgroup"

	"ligule/internal/advice"
	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/message"
	"ligule/internal/quantity"
	"ligule/internal/season"
	"ligule/internal/turf"
	"ligule/internal/weather"
	"ligule/internal/workspace"
)

// CheckCalendars warns of grasses that a zone keeps without a calendar, and of
// windows that usually open or close on other days than their handbook prints,
// by more than their tolerance, at stations of their climate: as of an issue
// date, by the years on file before it.
func CheckCalendars(ws *workspace.Workspace, date civil.Date, list *diag.List) {
	asked := make([][]*season.Calendar, len(ws.Stations)) // of each station
	for _, z := range ws.Zones {
		station := slices.IndexFunc(ws.Stations, func(s workspace.Station) bool { return s.ID == z.Station })
		for _, p := range z.Grasses {
			c := ws.Calendar(z.Climate, p.ID)
			if c == nil {
				remedy := "write data/calendar/" + p.ID + ".toml"
				if slices.ContainsFunc(ws.Calendars, func(c *season.Calendar) bool { return c.Grass == p.ID }) {
					remedy = fmt.Sprintf("add %q to the climates of data/calendar/%s.toml", z.Climate, p.ID)
				}
				list.Warnf(diag.Pos{File: "data/zones/" + z.ID + ".toml", Key: "grasses"}, remedy,
					"there is no calendar of %s in the climate %q: its pages show no windows, and rules that ask for one stay silent", p.ID, z.Climate)
			} else if station >= 0 && !slices.Contains(asked[station], c) {
				asked[station] = append(asked[station], c)
			}
		}
	}
	drifts := make([][]drift, len(ws.Stations))
	var g errgroup.Group
	g.SetLimit(runtime.GOMAXPROCS(0))
	for i, s := range ws.Stations {
		if s.Records == nil || len(asked[i]) == 0 {
			continue
		}
		g.Go(func() error {
			if v := weather.AsOf(s.Station, s.Records, nil, date); !v.LastRecord.IsZero() {
				drifts[i] = driftsAt(ws, season.NewRecord(v.Felt()), asked[i], s.Name)
			}
			return nil
		})
	}
	_ = g.Wait() // nothing in it can fail
	var all []drift
	for _, d := range slices.Concat(drifts...) {
		alike := advice.Gather(&all, drift{calendar: d.calendar, window: d.window}, func(a, b drift) bool {
			return a.calendar == b.calendar && a.window.ID == b.window.ID
		})
		alike.usually = append(alike.usually, d.usually...)
	}
	for _, d := range all {
		list.Warnf(d.window.Pos, "see whether the printed place is like these, and else mend what the window hangs on, or its tolerance",
			"%s drifts by more than %s from what %s prints: usually %s", d.window.ID, dayCount(d.window.ToleranceDays), d.window.Printed.Place, strings.Join(d.usually, "; "))
	}
}

// drift is a window that drifts from print, with when it usually is at stations.
type drift struct {
	calendar *season.Calendar
	window   season.Window
	usually  []string
}

func driftsAt(ws *workspace.Workspace, r *season.Record, calendars []*season.Calendar, station string) []drift {
	var out []drift
	for _, c := range calendars {
		i := slices.IndexFunc(ws.Grasses, func(p *turf.Profile) bool { return p.ID == c.Grass })
		if i < 0 {
			continue // the loader refuses such a calendar
		}
		lawn := r.Lawn(ws.Grasses[i])
		for _, w := range c.Windows {
			usual := lawn.Usual(w)
			opens, closes, known := usual.Drift()
			if !known {
				continue
			}
			var ends []string
			end := func(verb string, days int, usually season.End) {
				if tooFar(days, w.ToleranceDays) {
					ends = append(ends, fmt.Sprintf("%s %s (%s)", verb, ws.Voice().Date(message.YearDayKind, usually.When.Date), driftWords(days)))
				}
			}
			end("opens", opens, usual.Usual.Opens)
			end("closes", closes, usual.Usual.Closes)
			if len(ends) > 0 {
				out = append(out, drift{c, w, []string{strings.Join(ends, " and ") + " at " + station}})
			}
		}
	}
	return out
}

func tooFar(days, tolerance int) bool { return days > tolerance || -days > tolerance }

// driftWords says by how much something comes later than printed.
func driftWords(days int) string {
	if days < 0 {
		return dayCount(-days) + " early"
	}
	return dayCount(days) + " late"
}

func dayCount(n int) string { return quantity.One(float64(n), quantity.Time, quantity.US) }
