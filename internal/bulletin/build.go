package bulletin

import (
	"cmp"
	"runtime"
	"slices"
	"sync"

	"golang.org/x/sync/errgroup"

	"ligule/internal/advice"
	"ligule/internal/civil"
	"ligule/internal/message"
	"ligule/internal/pest"
	"ligule/internal/season"
	"ligule/internal/spray"
	"ligule/internal/turf"
	"ligule/internal/weather"
	"ligule/internal/workspace"
)

// Build makes the issue of a week from a workspace without errors, as of the
// week's issue date: what was recorded or written later does not exist for it.
func Build(ws *workspace.Workspace, week civil.Week) *Region { return compared(ws, week, whole) }

// Kept makes the issue as Build does for the archive, whose pages print neither
// the year nor the working.
func Kept(ws *workspace.Workspace, week civil.Week) *Region { return compared(ws, week, page) }

// compared makes an issue with what changed since the week before.
func compared(ws *workspace.Workspace, week civil.Week, told scope) *Region {
	is := build(ws, week, ws.Zones, told)
	before := Bare(ws, week.AddWeeks(-1), ws.Zones)
	for i, z := range is.Zones {
		z.Changed = message.SayAll(changes(before.Zones[i], z))
	}
	is.Notices = LawNotices(ws, is.Date, is.Zones)
	return is
}

// Bare makes the issue of some zones of the workspace as Build does, without
// what changed since the week before: the answers alone.
func Bare(ws *workspace.Workspace, week civil.Week, zones []*workspace.Zone) *Region {
	return build(ws, week, zones, answers)
}

// scope is how much of an issue is told.
type scope uint8

const (
	answers scope = iota // the answers alone
	page                 // besides, what the law says and what comes next
	whole                // besides, the year and the working
)

// build makes the issue without what changed.
func build(ws *workspace.Workspace, week civil.Week, zones []*workspace.Zone, told scope) *Region {
	is := &Region{
		Week: week, Date: ws.Site.IssueDate(week), Days: message.Say(message.Just(message.Span(week.Monday(), week.Sunday()))),
		Zones: make([]*Zone, len(zones)), Cautions: cautions(ws),
	}
	for _, t := range advice.Topics() {
		is.Topics = append(is.Topics, Topic{string(t), say("topic." + string(t)), say("question." + string(t))})
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

// models holds the weather of each station as of one issue; zones share
// stations.
type models struct {
	date civil.Date
	felt map[string]*weather.Felt
	year map[string]*stationYear
}

// stationYear is the year at a station. What it works out it keeps, so that one
// zone at a time may ask.
type stationYear struct {
	sync.Mutex
	*season.Record
	pests   pest.Station
	lawns   map[string]*season.Lawn
	grasses map[grassPlace]*grassSeason
}

// grassPlace is what the year of a grass at a station hangs on.
type grassPlace struct{ climate, grass string }

func newStationYear(f *weather.Felt) *stationYear {
	return &stationYear{Record: season.NewRecord(f), lawns: map[string]*season.Lawn{}, grasses: map[grassPlace]*grassSeason{}}
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
	m := &models{date: date, felt: map[string]*weather.Felt{}, year: map[string]*stationYear{}}
	felt := make([]*weather.Felt, len(ws.Stations))
	years := make([]*stationYear, len(ws.Stations))
	var g errgroup.Group
	g.SetLimit(runtime.GOMAXPROCS(0))
	for i, s := range ws.Stations {
		if s.Records == nil || !slices.ContainsFunc(zones, func(z *workspace.Zone) bool { return z.Station == s.ID }) {
			continue
		}
		g.Go(func() error {
			if v := weather.AsOf(s.Station, s.Records, s.Forecasts, date); !v.LastRecord.IsZero() {
				felt[i] = v.Felt()
				years[i] = newStationYear(felt[i])
			}
			return nil
		})
	}
	_ = g.Wait() // nothing in it can fail
	for i, s := range ws.Stations {
		if felt[i] != nil {
			m.felt[s.ID], m.year[s.ID] = felt[i], years[i]
		}
	}
	return m
}

// zone makes one zone's part.
func (m *models) zone(ws *workspace.Workspace, z *workspace.Zone, week civil.Week, told scope) *Zone {
	out := &Zone{Zone: z, ClimateName: ws.ClimateName(z.Climate)}
	if st, ok := ws.Station(z.Station); ok {
		out.StationName = st.Name
	}
	felt := m.felt[z.Station]
	if felt != nil {
		out.Weather = weekWeather(felt, m.date, week)
	}
	hours, issued := hoursAhead(ws, z, week)
	if out.Weather != nil {
		out.Weather.Spray = sprayHours(hours, issued, out.Weather.Ahead, z.ElevationM)
	}
	asked := askLaw(ws, z, felt, week)
	year := m.year[z.Station]
	if year != nil {
		year.Lock()
		defer year.Unlock()
	}
	for _, p := range z.Grasses {
		in := input(ws, z, p, week, zoneWeek{felt, year, asked, hours})
		in.Brief = told < whole
		g := &Grass{Profile: p, Reading: advice.Read(in)}
		g.Sward = newSward(ws, p, g.Reading, out.Weather != nil)
		if told == whole {
			g.Sward.work(ws, p, g.Reading)
		}
		out.Grasses = append(out.Grasses, g)
	}
	tellWatering(asked, out.Grasses)
	out.First = first(out.Grasses)
	if told == answers {
		out.Law = lawStates(ws, asked)
		return out
	}
	out.Law = zoneLaw(ws, asked)
	m.tell(ws, out, year, told)
	return out
}

// tell tells what comes next in a zone, and its year where all is told; of a zone
// without weather only what calendars print of it, and the law.
func (m *models) tell(ws *workspace.Workspace, z *Zone, year *stationYear, told scope) {
	seasons := make([]*grassSeason, len(z.Grasses))
	for i, g := range z.Grasses {
		switch {
		case year == nil:
			seasons[i] = printedSeason(ws.Calendar(z.Zone.Climate, g.Profile.ID))
		case told < whole:
			seasons[i] = weekSeason(g.Reading.Windows)
		default:
			seasons[i] = year.grass(z.Zone.Climate, g.Profile, g.Reading.Windows)
		}
	}
	t := teller{ws: ws, zone: z, date: m.date, closings: NewClosings(ws.Law, z.Places, z.Law, m.date)}
	if year != nil {
		t.station = newStationSeason(m.felt[z.Station], year.Record, seasons)
	}
	z.Ahead = t.ahead()
	if told < whole {
		return
	}
	z.Year = t.year(seasons)
	z.Closed, z.CalendarName = t.closings.Calendar(ws.Site.Demo), CalendarName(ws, z.Name)
	for i, g := range z.Grasses {
		g.Year = t.grass(seasons[i], g.Profile)
	}
}

// Input assembles what advice reads for one zone, grass and week. felt is nil
// where the station has no record before the issue date.
func Input(ws *workspace.Workspace, z *workspace.Zone, p *turf.Profile, felt *weather.Felt, week civil.Week) *advice.Input {
	hours, _ := hoursAhead(ws, z, week)
	w := zoneWeek{felt: felt, law: askLaw(ws, z, felt, week), hours: hours}
	if felt != nil {
		w.year = newStationYear(felt)
	}
	return input(ws, z, p, week, w)
}

// forecastsUpTo returns the forecasts that were on file on a date.
func forecastsUpTo(all []weather.Forecast, date civil.Date) []weather.Forecast {
	n := 0
	for n < len(all) && all[n].Issued <= date {
		n++
	}
	return all[:n:n]
}

func askLaw(ws *workspace.Workspace, z *workspace.Zone, felt *weather.Felt, week civil.Week) advice.ZoneLaw {
	return advice.AskLaw(ws.Law, z.Places, week, ws.Site.IssueDate(week), rainOf(felt))
}

// zoneWeek is what the grasses of a zone share in a week.
type zoneWeek struct {
	felt  *weather.Felt // nil without weather, and so is the year
	year  *stationYear
	law   advice.ZoneLaw
	hours []spray.Hour
}

func input(ws *workspace.Workspace, z *workspace.Zone, p *turf.Profile, week civil.Week, w zoneWeek) *advice.Input {
	date := ws.Site.IssueDate(week)
	in := &advice.Input{
		Week: week, IssueDate: date, ZoneName: z.Name, Climate: z.Climate, Grass: p, Felt: w.felt,
		Rules: ws.Rules, Catalogue: ws.Catalogue, Cautions: ws.Cautions, Bags: ws.Bags, Units: ws.Site.Units,
		Law:   w.law.ForGrass(ws.Law, p.ID),
		Pests: ws.Pests, Reports: ws.ReportsOf(z.ID, date), Treatments: ws.TreatmentsOf(z.ID, date),
		Hours: w.hours,
	}
	if st, ok := ws.Station(z.Station); ok {
		in.Forecasts = forecastsUpTo(st.Forecasts, date)
	}
	if w.felt != nil {
		in.Daily = turf.Run(p, z.Soil, w.felt)
		in.Calendar = ws.Calendar(z.Climate, p.ID)
		in.Lawn, in.Station = w.year.lawn(p), &w.year.pests
	}
	return in
}

// Felt returns what a zone's grass felt as of a week, or nil.
func Felt(ws *workspace.Workspace, z *workspace.Zone, week civil.Week) *weather.Felt {
	st, ok := ws.Station(z.Station)
	if !ok || st.Records == nil {
		return nil
	}
	v := weather.AsOf(st.Station, st.Records, st.Forecasts, ws.Site.IssueDate(week))
	if v.LastRecord.IsZero() {
		return nil
	}
	return v.Felt()
}

// rainOf returns the forecast rain of a day, mm, where the forecast on file
// covers it.
func rainOf(felt *weather.Felt) func(civil.Date) (float64, bool) {
	return func(d civil.Date) (float64, bool) {
		if felt == nil || felt.View.Basis(weather.RainMM, d) != weather.ForecastDay {
			return 0, false
		}
		return felt.View.Days.At(weather.RainMM, d), true
	}
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
		was, is := before.Grasses[i].Reading.Growth.RainFed, g.Reading.Growth.RainFed
		if was.Enough && is.Enough && was.State != is.State {
			out = append(out, message.New("changed.state").Name("grass", g.Profile.Name).Word("before", advice.StatePhrase(was.State)).Word("now", advice.StatePhrase(is.State)))
		}
	}
	for i, g := range now.Grasses {
		for _, a := range g.Reading.Answers {
			for _, b := range before.Grasses[i].Reading.Answers {
				if a.Topic == b.Topic && a.Verdict != b.Verdict {
					out = append(out, message.New("changed.verdict").Name("grass", g.Profile.Name).Word("topic", "topic."+string(a.Topic)).
						Word("before", "verdict."+string(b.Verdict)).Word("now", "verdict."+string(a.Verdict)))
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
