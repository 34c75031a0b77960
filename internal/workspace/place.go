package workspace

import (
	"cmp"
	"net/url"
	"slices"
	"strings"
	"time"

	"ligule/internal/diag"
	"ligule/internal/homeuse"
	"ligule/internal/law"
	"ligule/internal/quantity"
	"ligule/internal/turf"
	"ligule/internal/weather"
)

func (l *loader) site() {
	t, ok := l.toml("data/advisory.toml")
	if !ok {
		return
	}
	s := &l.ws.Site
	s.Title, s.Publisher, s.About = t.Text("title"), t.Text("publisher"), t.OptText("about")
	s.BaseURL = strings.TrimSuffix(t.Text("base_url"), "/")
	if u, err := url.Parse(s.BaseURL); s.BaseURL != "" && (err != nil || u.Scheme != "https" && u.Scheme != "http" || u.Host == "" || u.RawQuery != "" || u.Fragment != "") {
		t.Errorf("base_url", `write the address of the site, such as "https://lawns.example.org"`, "%q is not a web address", s.BaseURL)
	}
	s.Language = t.Text("language")
	s.TimeZone = t.Text("time_zone")
	if loc, err := law.TimeZone(s.TimeZone); err == nil {
		l.clock = loc
	} else if s.TimeZone != "" {
		t.Errorf("time_zone", `write a name such as "America/New_York"`, "there is no time zone %q", s.TimeZone)
	}
	s.Units, _ = quantity.ParseSystem(t.One("units", quantity.US.String(), quantity.Metric.String()))
	var days []string
	for d := time.Sunday; d <= time.Saturday; d++ {
		days = append(days, strings.ToLower(d.String()))
	}
	s.IssueWeekday = time.Weekday(max(0, slices.Index(days, t.One("issue_weekday", days...))))
	s.IssueTime = t.Text("issue_time")
	if _, err := time.Parse("15:04", s.IssueTime); err != nil && s.IssueTime != "" {
		t.Errorf("issue_time", `write it as "18:00"`, "%q is not a time of day", s.IssueTime)
	}
	s.FeedDomain = t.Text("feed_domain")
	if strings.ContainsAny(s.FeedDomain, "/: @") {
		t.Errorf("feed_domain", `write the bare name, such as "lawns.example.org"`, "%q is not a domain name", s.FeedDomain)
	}
	s.FeedSince = t.Date("feed_since")
	s.Contact = t.Text("contact")
	if s.Contact != "" && strings.Count(s.Contact, "@") != 1 {
		t.Errorf("contact", "write an email address", "%q is not an email address", s.Contact)
	}
	s.PostalAddress = t.OptText("postal_address")
	s.Demo = t.Bool("demo")
	s.State = stateOf(t)
	t.Close()
}

// stateOf reads the code of the state whose rules on pesticides hold; "" where it is
// not told.
func stateOf(t *diag.Table) string {
	state := t.OptText("state")
	if state != "" && !homeuse.IsState(state) {
		t.Errorf("state", `write two letters, as "MD", or leave it out`, "%q is no state", state)
	}
	return state
}

func (l *loader) sources() {
	t, ok := l.toml("data/sources.toml")
	if !ok {
		return
	}
	for _, st := range t.Tables("source") {
		s := Source{ID: st.ID("id"), Authors: st.OptText("authors"), Title: st.Text("title"), Where: st.OptText("where"), URL: st.OptText("url"), Note: st.OptText("note")}
		switch y, _ := st.Raw("year"); y := y.(type) {
		case nil:
		case int64:
			s.Year = time.Date(int(y), 1, 1, 0, 0, 0, 0, time.UTC).Format("2006")
		case string:
			s.Year = y
		default:
			st.Errorf("year", "write year = 1998", "not a year")
		}
		l.unique(st, "source", s.ID, l.ws.sourceIDs())
		if s.URL != "" && !strings.HasPrefix(s.URL, "https://") && !strings.HasPrefix(s.URL, "http://") {
			st.Errorf("url", "write a whole address that starts with https://", "%q is not a web address", s.URL)
		}
		st.Close()
		l.ws.Sources = append(l.ws.Sources, s)
	}
	t.Close()
	slices.SortStableFunc(l.ws.Sources, func(a, b Source) int { return strings.Compare(a.ID, b.ID) })
}

func (l *loader) climates() {
	t, ok := l.toml("data/climates.toml")
	if !ok {
		return
	}
	for _, ct := range t.Tables("climate") {
		c := Climate{ID: ct.ID("id"), Name: ct.Text("name"), About: ct.OptText("about")}
		l.unique(ct, "climate", c.ID, l.ws.climateIDs())
		ct.Close()
		l.ws.Climates = append(l.ws.Climates, c)
	}
	t.Close()
}

// coordinates reads latitude, longitude and elevation.
func coordinates(t *diag.Table) (lat, lon, elevationM float64) {
	lat, lon = t.Number("latitude"), t.Number("longitude")
	if lat < -66 || lat > 66 {
		t.Errorf("latitude", "write degrees, north positive", "%v is outside −66 to 66, where the daily sun equations hold", lat)
	}
	if lon < -180 || lon > 180 {
		t.Errorf("longitude", "write degrees, east positive", "%v is outside −180 to 180", lon)
	}
	elevationM = t.Quantity("elevation", quantity.Distance)
	if elevationM < -430 || elevationM > 5000 {
		t.Errorf("elevation", "", "%.0f m is not where people keep lawns", elevationM)
	}
	return lat, lon, elevationM
}

func (l *loader) stations() {
	t, ok := l.toml("data/stations.toml")
	if !ok {
		return
	}
	for _, st := range t.Tables("station") {
		s := Station{}
		s.ID, s.Name = st.ID("id"), st.Text("name")
		s.LatitudeDeg, s.LongitudeDeg, s.ElevationM = coordinates(st)
		s.Coastal, s.Arid = st.Bool("coastal"), st.Bool("arid")
		s.WindHeightM, _ = st.OptQuantity("wind_height", quantity.Distance)
		for _, ot := range st.Tables("obs_time") {
			p := weather.ObsPeriod{}
			p.From, _ = ot.OptDate("from")
			if at, err := weather.ParseObsTime(ot.One("at", weather.ObsTimes()...)); err == nil {
				p.Time = at
			}
			if n := len(s.Obs); n > 0 && p.From <= s.Obs[n-1].From {
				ot.Errorf("from", "list the periods by date, each later than the one before", "not later than the period before it")
			}
			ot.Close()
			s.Obs = append(s.Obs, p)
		}
		l.unique(st, "station", s.ID, l.ws.stationIDs())
		st.Close()
		if s.ID != "" {
			l.weather(&s)
		}
		l.ws.Stations = append(l.ws.Stations, s)
	}
	t.Close()
	slices.SortStableFunc(l.ws.Stations, func(a, b Station) int { return strings.Compare(a.ID, b.ID) })
}

// ReservedZone reports whether a word stands where a zone's id could, in an
// address or as a note's name, so that no zone can be called by it.
func ReservedZone(id string) bool { return id == "newsletter" || id == "note" || id == "region" }

func (l *loader) zones() {
	known := func(t *diag.Table, key, kind, id string, ids []string, where string) bool {
		return id != "" && l.refer(t.Pos(key), kind, id, ids, "add it to "+where)
	}
	for _, file := range l.files("data/zones", ".toml") {
		id := l.id(file)
		t, ok := l.toml(file)
		if !ok {
			continue
		}
		if ReservedZone(id) {
			l.list.Errorf(diag.Pos{File: file}, "name the zone's file otherwise", "%q has a meaning of its own in addresses and notes", id)
		}
		z := &Zone{ID: id, Name: t.Text("name"), Climate: t.ID("climate"), Station: t.ID("station"), State: cmp.Or(stateOf(t), l.ws.Site.State)}
		known(t, "climate", "climate", z.Climate, l.ws.climateIDs(), "data/climates.toml")
		known(t, "station", "station", z.Station, l.ws.stationIDs(), "data/stations.toml")
		z.LatitudeDeg, z.LongitudeDeg, z.ElevationM = coordinates(t)
		soil := t.One("soil", turf.SoilIDs()...)
		z.Soil, _ = turf.SoilByID(soil)
		names := t.Texts("grasses", true)
		for i, g := range names {
			if known(t, "grasses", "grass", g, l.ws.grassIDs(), "data/grasses") {
				p, _ := l.ws.Grass(g)
				z.Grasses = append(z.Grasses, p)
			}
			if slices.Contains(names[:i], g) {
				t.Errorf("grasses", "name each grass once", "%q is named twice", g)
			}
		}
		if len(names) == 0 && t.Has("grasses") {
			t.Errorf("grasses", "name at least one grass", "a zone without grass")
		}
		z.AlertAreas = t.Texts("alert_areas", false)
		for i, code := range z.AlertAreas {
			switch {
			case !weather.IsArea(code):
				t.Errorf(diag.Element("alert_areas", i), `write a UGC code such as "NCC129", or a SAME code such as "037129"`, "%q is not the code of an area", code)
			case slices.Contains(z.AlertAreas[:i], code):
				t.Errorf(diag.Element("alert_areas", i), "name each area once", "%q is named twice", code)
			}
		}
		for _, pt := range t.Tables("place") {
			p := law.Place{Name: pt.Text("name"), Chain: pt.Texts("jurisdictions", true)}
			if law.CheckChain(pt, "jurisdictions", p.Chain, l.ws.Places); len(p.Chain) == 0 && pt.Has("jurisdictions") {
				pt.Errorf("jurisdictions", "name the state and the county at least", "a place that lies nowhere")
			}
			z.at = append(z.at, pt.Pos("jurisdictions"))
			pt.Close()
			z.Places = append(z.Places, p)
		}
		t.Close()
		l.ws.Zones = append(l.ws.Zones, z)
	}
}
