package bulletin

import (
	"cmp"
	"math"
	"runtime"
	"slices"
	"sync"

	"golang.org/x/sync/errgroup"

	"ligule/internal/advice"
	"ligule/internal/civil"
	"ligule/internal/law"
	"ligule/internal/message"
	"ligule/internal/pest"
	"ligule/internal/season"
	"ligule/internal/spray"
	"ligule/internal/turf"
	"ligule/internal/weather"
	"ligule/internal/workspace"
)

// scope is how much is told besides the answers.
type scope uint8

const (
	fared   scope = 1 << iota // how every rule fared
	working                   // every figure, and every rule in words
	ahead                     // what the law says, and what comes next
	theYear
)

// Build makes the issue of a week from a workspace without errors, as of the
// week's issue date: what was recorded or written later does not exist for it.
func Build(ws *workspace.Workspace, week civil.Week) *Region {
	return compared(ws, week, fared|working|ahead|theYear)
}

// Kept makes the issue as Build does for the archive, whose pages print neither
// the year nor the working.
func Kept(ws *workspace.Workspace, week civil.Week) *Region { return compared(ws, week, ahead) }

// compared makes an issue with what changed since the week before.
func compared(ws *workspace.Workspace, week civil.Week, told scope) *Region {
	is := build(ws, week, ws.Zones, told)
	before := build(ws, week.AddWeeks(-1), ws.Zones, 0)
	for i, z := range is.Zones {
		z.Changed = message.SayAll(changes(before.Zones[i], z))
	}
	is.Notices = LawNotices(ws, is.Date, is.Zones)
	if told&theYear != 0 {
		is.Jurisdictions = Jurisdictions(ws, is)
	}
	return is
}

// Bare makes the issue of some zones of the workspace as Build does, without
// what changed since the week before: the answers, and how every rule fared.
func Bare(ws *workspace.Workspace, week civil.Week, zones []*workspace.Zone) *Region {
	return build(ws, week, zones, fared)
}

// Worked is Bare with the working in words.
func Worked(ws *workspace.Workspace, week civil.Week, zones []*workspace.Zone) *Region {
	return build(ws, week, zones, fared|working)
}

// build makes the issue without what changed.
func build(ws *workspace.Workspace, week civil.Week, zones []*workspace.Zone, told scope) *Region {
	is := &Region{
		Week: week, Date: ws.Site.IssueDate(week), Days: message.Say(message.Just(message.Span(week.Monday(), week.Sunday()))),
		Zones: make([]*Zone, len(zones)), Topics: Topics(), Cautions: ws.Cautions,
	}
	var folder *workspace.WeekFolder
	for _, wf := range ws.Weeks {
		if wf.Week == week {
			folder = wf
			is.Note = note(wf.Note)
		}
	}
	m := newModels(ws, is.Date, zones)
	var g errgroup.Group
	g.SetLimit(runtime.GOMAXPROCS(0))
	for i, z := range zones {
		g.Go(func() error {
			is.Zones[i] = m.zone(ws, z, week, told)
			if folder != nil {
				is.Zones[i].Note = note(folder.Zones[z.ID])
			}
			return nil
		})
	}
	_ = g.Wait() // no zone can fail: what is missing is said in the zone
	slices.SortStableFunc(is.Zones, func(a, b *Zone) int { return cmp.Or(cmp.Compare(a.Name, b.Name), cmp.Compare(a.ID, b.ID)) })
	return is
}

// models holds each station with weather as of one issue; zones share stations.
type models struct {
	date civil.Date
	year map[string]*stationYear
}

// stationYear is the year at a station. What it works out it keeps, so that one
// zone at a time may ask.
type stationYear struct {
	sync.Mutex
	*season.Record
	felt    *weather.Felt
	pests   pest.Station
	lawns   map[string]*season.Lawn
	grasses map[grassPlace]*grassSeason
}

// grassPlace is what the year of a grass at a station hangs on.
type grassPlace struct{ climate, grass string }

func newStationYear(f *weather.Felt) *stationYear {
	return &stationYear{Record: season.NewRecord(f), felt: f, lawns: map[string]*season.Lawn{}, grasses: map[grassPlace]*grassSeason{}}
}

// lawn runs a grass once for all zones of the station.
func (y *stationYear) lawn(p *turf.Profile) *season.Lawn {
	if y.lawns[p.ID] == nil {
		y.lawns[p.ID] = y.Record.Lawn(p)
	}
	return y.lawns[p.ID]
}

// grass makes the year of a grass once for all zones of the station and the
// climate.
func (y *stationYear) grass(climate string, p *turf.Profile, windows []season.Reading) *grassSeason {
	at := grassPlace{climate, p.ID}
	if y.grasses[at] == nil {
		y.grasses[at] = newGrassSeason(y.lawn(p), y.Issue(), windows)
	}
	return y.grasses[at]
}

// newModels reads the stations of the zones.
func newModels(ws *workspace.Workspace, date civil.Date, zones []*workspace.Zone) *models {
	m := &models{date: date, year: map[string]*stationYear{}}
	years := make([]*stationYear, len(ws.Stations))
	var g errgroup.Group
	g.SetLimit(runtime.GOMAXPROCS(0))
	for i, s := range ws.Stations {
		if s.Records == nil || !slices.ContainsFunc(zones, func(z *workspace.Zone) bool { return z.Station == s.ID }) {
			continue
		}
		g.Go(func() error {
			if v := weather.AsOf(s.Station, s.Records, s.Forecasts, date); !v.LastRecord.IsZero() {
				years[i] = newStationYear(v.Felt())
			}
			return nil
		})
	}
	_ = g.Wait() // nothing in it can fail
	for i, s := range ws.Stations {
		if years[i] != nil {
			m.year[s.ID] = years[i]
		}
	}
	return m
}

// zone makes one zone's part.
func (m *models) zone(ws *workspace.Workspace, z *workspace.Zone, week civil.Week, told scope) *Zone {
	out := &Zone{ID: z.ID, Name: z.Name, ClimateName: ws.ClimateName(z.Climate)}
	if st, ok := ws.Station(z.Station); ok {
		out.StationName = st.Name
	}
	w := m.week(ws, z, week)
	if w.year != nil {
		out.Weather = weekWeather(w.year.felt, m.date, week)
		out.Weather.Spray = sprayHours(w.hours, w.issued, out.Weather.Ahead, z.ElevationM)
		w.year.Lock()
		defer w.year.Unlock()
	}
	var windows [][]season.Reading
	for _, p := range z.Grasses {
		in := input(ws, z, p, week, w)
		in.Brief = told&working == 0
		r := advice.Read(in)
		g := NewGrass(ws, p, r, out.Weather != nil)
		if told&fared != 0 {
			g.Fare(ws, r)
		}
		if told&working != 0 {
			g.Work(ws, p, r)
		}
		g.Windows = windowWeeks(ws.Calendar(z.Climate, p.ID), r.Windows)
		out.Grasses, windows = append(out.Grasses, g), append(windows, r.Windows)
	}
	tellWatering(w.law, out.Grasses)
	out.First = first(out.Grasses)
	if told&ahead == 0 {
		out.Law = lawStates(ws, w.law)
		return out
	}
	out.Law = zoneLaw(ws, w.law)
	m.tell(ws, z, out, windows, w.year, told)
	return out
}

// tell tells what comes next in a zone, and its year where that is told; of a zone
// without weather only what calendars print of it, and the law.
func (m *models) tell(ws *workspace.Workspace, z *workspace.Zone, out *Zone, windows [][]season.Reading, year *stationYear, told scope) {
	seasons := make([]*grassSeason, len(z.Grasses))
	for i, p := range z.Grasses {
		switch {
		case year == nil:
			seasons[i] = printedSeason(ws.Calendar(z.Climate, p.ID))
		case told&theYear == 0:
			seasons[i] = weekSeason(windows[i])
		default:
			seasons[i] = year.grass(z.Climate, p, windows[i])
		}
	}
	t := teller{ws: ws, zone: out, date: m.date, closings: NewClosings(ws.Law, z.Places, out.Law, m.date)}
	if year != nil {
		t.station = newStationSeason(year.felt, year.Record, seasons)
	}
	out.Ahead = t.ahead(seasons)
	if told&theYear == 0 {
		return
	}
	out.Year = t.year(seasons)
	out.Closed, out.CalendarName = t.closings.Calendar(ws.Site.Demo), CalendarName(ws, z.Name)
	for i, g := range out.Grasses {
		g.Year = t.grass(seasons[i], z.Grasses[i])
	}
}

// forecastsUpTo returns the forecasts that were on file on a date.
func forecastsUpTo(all []weather.Forecast, date civil.Date) []weather.Forecast {
	n := 0
	for n < len(all) && all[n].Issued <= date {
		n++
	}
	return all[:n:n]
}

// zoneWeek is what the grasses of a zone share in a week.
type zoneWeek struct {
	year   *stationYear // nil without weather
	law    advice.ZoneLaw
	hours  []spray.Hour // of the hourly forecast on file, and when it was issued
	issued civil.Date
	alerts []weather.Alert
}

// week gathers what the grasses of a zone share.
func (m *models) week(ws *workspace.Workspace, z *workspace.Zone, week civil.Week) zoneWeek {
	w := zoneWeek{year: m.year[z.Station], alerts: ws.AlertsOf(z, m.date)}
	w.hours, w.issued = hoursAhead(ws, z, week)
	w.law = advice.AskLaw(ws.Law, ws.WaterLaw, z.Places, week, m.date, w.daily)
	return w
}

// input assembles what advice reads for one zone, grass and week.
func input(ws *workspace.Workspace, z *workspace.Zone, p *turf.Profile, week civil.Week, w zoneWeek) *advice.Input {
	date := ws.Site.IssueDate(week)
	in := &advice.Input{
		Week: week, IssueDate: date, ZoneName: z.Name, Climate: z.Climate, State: z.State, Grass: p,
		Rules: ws.Rules, Conflicts: ws.Conflicts, Catalogue: ws.Catalogue, Cautions: ws.Cautions, Bags: ws.Bags, Units: ws.Site.Units,
		Law:   w.law.ForGrass(p.ID),
		Pests: ws.Pests, Reports: ws.ReportsOf(z.ID, date), Treatments: ws.TreatmentsOf(z.ID, date),
		Alerts: w.alerts, Hours: w.hours,
	}
	if st, ok := ws.Station(z.Station); ok {
		in.Forecasts = forecastsUpTo(st.Forecasts, date)
	}
	if w.year != nil {
		in.Felt, in.Daily = w.year.felt, turf.Run(p, z.Soil, w.year.felt)
		in.Calendar = ws.Calendar(z.Climate, p.ID)
		in.Lawn, in.Station = w.year.lawn(p), &w.year.pests
	}
	return in
}

// daily returns what the law is asked with of a day: its forecast rain and the
// official alerts; nil where there is neither.
func (w zoneWeek) daily(d civil.Date) *law.Weather {
	out, alerts := w.rain(d), advice.AlertsOn(w.alerts, d)
	if out == nil && len(alerts) > 0 {
		out = &law.Weather{}
	}
	if out != nil {
		out.Alerts = alerts
	}
	return out
}

// rain returns the forecast rain of a day, where the forecasts on file cover it;
// there may be no weather at all.
func (w zoneWeek) rain(d civil.Date) *law.Weather {
	dayMM := math.NaN()
	if y := w.year; y != nil && y.felt.View.Basis(weather.RainMM, d) == weather.ForecastDay {
		dayMM = y.felt.View.Days.At(weather.RainMM, d)
	}
	var hoursMM []float64
	for _, h := range w.hours {
		if h.Date == d || h.Date == d+1 {
			hoursMM = append(hoursMM, h.RainMM)
		}
	}
	return advice.ForecastRain(dayMM, hoursMM)
}

// maxChanges keeps "what changed" to what a reader takes in at a glance.
const maxChanges = 4

// changes says what changed in a zone since the week before: the law first,
// then states, then answers.
func changes(before, now *Zone) []message.Message {
	var out []message.Message
	wasClosed, isClosed := len(before.Law.Closed) > 0, len(now.Law.Closed) > 0
	switch {
	case isClosed && !wasClosed:
		out = append(out, message.New("changed.law_closed"))
	case wasClosed && !isClosed:
		out = append(out, message.New("changed.law_opened"))
	}
	for i, g := range now.Grasses {
		was := before.Grasses[i]
		if was.Enough && g.Enough && was.State != g.State {
			out = append(out, message.New("changed.state").Name("grass", g.Name).Said("before", was.StateWord.Message).Said("now", g.StateWord.Message))
		}
	}
	for i, g := range now.Grasses {
		for _, a := range g.Answers {
			for _, b := range before.Grasses[i].Answers {
				if a.Topic == b.Topic && a.Verdict != b.Verdict {
					out = append(out, message.New("changed.verdict").Name("grass", g.Name).Word("topic", "topic."+a.Topic).
						Word("before", "verdict."+b.Verdict).Word("now", "verdict."+a.Verdict))
				}
			}
		}
	}
	return out[:min(len(out), maxChanges)]
}

// Weeks lists the weeks that a press of the week prints: those with a folder
// of notes up to it, and the week itself.
func Weeks(ws *workspace.Workspace, week civil.Week) []civil.Week {
	var out []civil.Week
	for _, wf := range ws.Weeks {
		if wf.Week.Before(week) {
			out = append(out, wf.Week)
		}
	}
	return append(out, week)
}
