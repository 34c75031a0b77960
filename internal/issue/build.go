package issue

import (
	"cmp"
	"fmt"
	"math"
	"runtime"
	"slices"
	"sync"

	"golang.org/x/sync/errgroup"

	"ligule/internal/advice"
	"ligule/internal/civil"
	"ligule/internal/law"
	"ligule/internal/pest"
	"ligule/internal/season"
	"ligule/internal/turf"
	"ligule/internal/weather"
	"ligule/internal/workspace"
)

// Build makes the issue of a week from a workspace without errors, as of the
// week's issue date: what was recorded or written later does not exist for it.
func Build(ws *workspace.Workspace, week civil.Week) *Issue {
	is := build(ws, week, ws.Zones, true)
	before := Bare(ws, week.AddWeeks(-1), ws.Zones)
	for i, z := range is.Zones {
		z.Changed = changes(ws.Phrases, before.Zones[i], z)
	}
	return is
}

// Bare makes the issue of some zones of the workspace as Build does, without
// what changed since the week before and without the year: the answers alone.
func Bare(ws *workspace.Workspace, week civil.Week, zones []*workspace.Zone) *Issue {
	return build(ws, week, zones, false)
}

// build makes the issue without what changed; with its year, or its answers
// alone.
func build(ws *workspace.Workspace, week civil.Week, zones []*workspace.Zone, year bool) *Issue {
	is := &Issue{Week: week, Date: ws.Site.IssueDate(week), Zones: make([]*Zone, len(zones))}
	var folder *workspace.WeekFolder
	for _, wf := range ws.Weeks {
		if wf.Week == week {
			folder = wf
			is.Note = wf.Note
		}
	}
	m := newModels(ws, is.Date, zones)
	var g errgroup.Group
	g.SetLimit(runtime.GOMAXPROCS(0))
	for i, z := range zones {
		g.Go(func() error {
			is.Zones[i] = m.zone(ws, z, week, year)
			if folder != nil {
				is.Zones[i].Note = folder.Zones[z.ID]
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
	lawns   map[string]*season.Lawn
	grasses map[grassPlace]*GrassYear
}

// grassPlace is what the year of a grass at a station hangs on.
type grassPlace struct{ climate, grass string }

func newStationYear(f *weather.Felt) *stationYear {
	return &stationYear{Record: season.NewRecord(f), lawns: map[string]*season.Lawn{}, grasses: map[grassPlace]*GrassYear{}}
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
func (y *stationYear) grass(climate string, p *turf.Profile, windows []season.Reading) *GrassYear {
	at := grassPlace{climate, p.ID}
	if y.grasses[at] == nil {
		y.grasses[at] = grassYear(y.lawn(p), y.Issue(), windows)
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
func (m *models) zone(ws *workspace.Workspace, z *workspace.Zone, week civil.Week, withYear bool) *Zone {
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
		out.Weather.Hours, out.Weather.HourlyIssued = hours, issued
	}
	asked := askLaw(ws, z, felt, week)
	year := m.year[z.Station]
	if year != nil {
		year.Lock()
		defer year.Unlock()
	}
	for _, p := range z.Grasses {
		g := &Grass{Profile: p, Reading: advice.Read(input(ws, z, p, week, zoneWeek{felt, year, asked, hours}))}
		if withYear && year != nil {
			g.Year = year.grass(z.Climate, p, g.Reading.Windows)
		}
		out.Grasses = append(out.Grasses, g)
	}
	if withYear && year != nil {
		out.Year = newYear(felt, year.Record, out.Grasses)
	}
	out.Law = zoneLaw(ws, asked)
	return out
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
	hours []pest.Hour
}

func input(ws *workspace.Workspace, z *workspace.Zone, p *turf.Profile, week civil.Week, w zoneWeek) *advice.Input {
	date := ws.Site.IssueDate(week)
	in := &advice.Input{
		Week: week, IssueDate: date, ZoneName: z.Name, Climate: z.Climate, Grass: p, Felt: w.felt,
		Rules: ws.Rules, Catalogue: ws.Catalogue, Phrases: ws.Phrases, Cautions: ws.Cautions, Bags: ws.Bags, Units: ws.Site.Units,
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
		in.Lawn = w.year.lawn(p)
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
		if felt == nil {
			return 0, false
		}
		return felt.View.Forecast(weather.RainMM, d)
	}
}

// zoneLaw words what the law says, for the page.
func zoneLaw(ws *workspace.Workspace, z advice.ZoneLaw) Law {
	const n = "N"
	l := Law{
		Varies: z.Varies(n), Closed: z.ClosureReasons(ws.Phrases, n), Unknown: z.UnclearReasons(ws.Phrases, n),
		NextChange: z.NextReasons(ws.Phrases, n), Flags: z.FlagReasons(ws.Phrases),
	}
	for _, p := range z.Places {
		place := PlaceLaw{Place: p.Place, Homeowner: p.Homeowner[n], ForHire: p.ForHire[n], Phosphorus: p.Homeowner["P"]}
		place.Home = placeReasons(ws.Phrases, z, p, n)
		place.Hire = placeReasons(ws.Phrases, z, forHire(ws.Law, z, p, n), n)
		place.Records = ws.Law.RecordsOf(p.Place, z.Monday, z.Monday.AddDays(6))
		place.Watering = p.Water
		l.Places = append(l.Places, place)
	}
	return l
}

// placeReasons words one place by itself.
func placeReasons(phrases *advice.Phrases, z advice.ZoneLaw, p advice.PlaceLaw, letter string) PlaceReasons {
	z.Places = []advice.PlaceLaw{p}
	return PlaceReasons{
		Closed: z.ClosureReasons(phrases, letter), Unknown: z.UnclearReasons(phrases, letter),
		Conditions: z.ConditionReasons(phrases, letter), Next: z.NextReasons(phrases, letter),
	}
}

// forHire is a place's law for one nutrient as somebody meets it who is paid
// to spread it, in the fields from which reasons are worded.
func forHire(b *law.Book, z advice.ZoneLaw, p advice.PlaceLaw, letter string) advice.PlaceLaw {
	q := law.Question{Place: p.Place, Actor: law.ForHire, AsOf: z.AsOf, Product: law.ProductOf(letter)}
	return advice.PlaceLaw{
		Place: p.Place, Homeowner: map[string]law.PlaceWeek{letter: p.ForHire[letter]},
		Conditions: map[string][]law.Condition{letter: b.WeekConditions(q, z.Monday)},
	}
}

// weekWeather lays out the days around an issue date.
func weekWeather(f *weather.Felt, date civil.Date, week civil.Week) *Weather {
	v := f.View
	w := &Weather{LastRecord: v.LastRecord, ForecastIssued: v.ForecastIssued}
	for d := date.AddDays(-weather.WindowDays); d < date; d++ {
		w.Past = append(w.Past, day(f, d))
	}
	if !v.ForecastIssued.IsZero() {
		for d := date; d <= week.Sunday() && f.Basis(d) != weather.Missing; d++ {
			w.Ahead = append(w.Ahead, day(f, d))
		}
	}
	last := date.AddDays(-1)
	w.PastSum = sums(f, w.Past)
	w.AheadSum = sums(f, w.Ahead)
	et := f.Total(f.ETMM, last, weather.WindowDays)
	w.RadiationRung, w.HumidityRung, w.WindRung = et.Radiation, et.Humidity, et.Wind
	w.ETBandPct, w.LightBandPct = et.ETBandPct(), et.LightBandPct()
	if i, ok := f.Index(last); ok {
		w.SoilMethod = f.Soil10By[i]
	}
	return w
}

func day(f *weather.Felt, d civil.Date) Day {
	out := Day{Date: d, TmaxC: math.NaN(), TminC: math.NaN(), RainMM: math.NaN(), Soil5C: math.NaN(), Soil10C: math.NaN(), DaylightH: math.NaN()}
	i, ok := f.Index(d)
	if !ok {
		return out
	}
	days := f.View.Days
	out.TmaxC, out.TminC, out.RainMM = days.At(weather.TmaxC, d), days.At(weather.TminC, d), days.At(weather.RainMM, d)
	out.Soil5C, out.Soil10C, out.DaylightH = f.Soil5C[i], f.Soil10C[i], f.DaylightH[i]
	out.TempBasis, out.RainBasis = f.Basis(d), f.View.Basis(weather.RainMM, d)
	return out
}

// sums adds up the days whose temperatures were observed, or forecast; days
// that were filled in do not count.
func sums(f *weather.Felt, days []Day) Sums {
	var s Sums
	var rainDays, soilDays int
	add := func(sum *float64, x float64) bool {
		if math.IsNaN(x) {
			return false
		}
		*sum += x
		return true
	}
	for _, d := range days {
		if d.RainBasis == weather.Observed || d.RainBasis == weather.ForecastDay {
			add(&s.RainMM, d.RainMM)
			rainDays++
		}
		if d.TempBasis != weather.Observed && d.TempBasis != weather.ForecastDay {
			continue
		}
		i, _ := f.Index(d.Date)
		s.Days++
		s.MeanC += f.TmeanC[i]
		s.ETMM += f.ETMM[i]
		s.LightMol += f.LightMol[i]
		s.DaylightH += d.DaylightH
		if add(&s.Soil5C, d.Soil5C) && add(&s.Soil10C, d.Soil10C) {
			soilDays++
		}
	}
	mean := func(x *float64, n int) {
		if n < weather.WindowValid {
			*x = math.NaN()
			return
		}
		*x /= float64(n)
	}
	for _, x := range []*float64{&s.MeanC, &s.LightMol, &s.DaylightH} {
		mean(x, s.Days)
	}
	mean(&s.Soil5C, soilDays)
	mean(&s.Soil10C, soilDays)
	if s.Days < weather.WindowValid {
		s.ETMM = math.NaN()
	}
	if rainDays < weather.WindowValid {
		s.RainMM = math.NaN()
	}
	return s
}

// maxChanges keeps "what changed" to what a reader takes in at a glance.
const maxChanges = 4

// changes words what changed in a zone since the week before: the law first,
// then states, then answers.
func changes(p *advice.Phrases, before, now *Zone) []advice.Reason {
	var out []advice.Reason
	wasClosed, isClosed := len(before.Law.Closed) > 0, len(now.Law.Closed) > 0
	switch {
	case isClosed && !wasClosed:
		out = append(out, p.Say("changed.law_closed"))
	case wasClosed && !isClosed:
		out = append(out, p.Say("changed.law_opened"))
	}
	for i, g := range now.Grasses {
		was, is := before.Grasses[i].Reading.Growth.RainFed, g.Reading.Growth.RainFed
		if was.Enough && is.Enough && was.State != is.State {
			out = append(out, p.Say("changed.state", "grass", g.Profile.Name, "before", state(p, was.State), "now", state(p, is.State)))
		}
	}
	for i, g := range now.Grasses {
		for _, a := range g.Reading.Answers {
			for _, b := range before.Grasses[i].Reading.Answers {
				if a.Topic == b.Topic && a.Verdict != b.Verdict {
					out = append(out, p.Say("changed.verdict", "grass", g.Profile.Name, "topic", p.Word("topic."+string(a.Topic)),
						"before", p.Word("verdict."+string(b.Verdict)), "now", p.Word("verdict."+string(a.Verdict))))
				}
			}
		}
	}
	return out[:min(len(out), maxChanges)]
}

func state(p *advice.Phrases, s turf.State) string {
	return p.Word(advice.StatePhrase(s))
}

// Needs lists the phrases that this package says.
func Needs() []advice.Need {
	needs := []advice.Need{
		{ID: "changed.law_closed"}, {ID: "changed.law_opened"},
		{ID: "changed.state", Slots: []string{"grass", "before", "now"}},
		{ID: "changed.verdict", Slots: []string{"grass", "topic", "before", "now"}},
	}
	for _, t := range advice.Topics() {
		needs = append(needs, advice.Need{ID: fmt.Sprintf("topic.%s", t)})
	}
	return needs
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
