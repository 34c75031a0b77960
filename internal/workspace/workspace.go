// Package workspace knows where the author's files are. It loads all of them,
// checks each and every reference between them, and reports mistakes with
// file, line and key, all at once. It does not know HTML.
package workspace

import (
	"io/fs"
	"slices"
	"time"

	"ligule/internal/advice"
	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/law"
	"ligule/internal/pest"
	"ligule/internal/quantity"
	"ligule/internal/season"
	"ligule/internal/turf"
	"ligule/internal/voice"
	"ligule/internal/watering"
	"ligule/internal/weather"
)

// Workspace is everything that the author wrote, checked and cross-linked.
// Lists are sorted by id unless they say otherwise.
type Workspace struct {
	FS         fs.FS // the author's folder
	Site       Site
	Sources    []Source
	Climates   []Climate
	Stations   []Station
	Alerts     []weather.AlertList // official alerts, in the order in which they were received
	Zones      []*Zone
	Grasses    []*turf.Profile
	Calendars  []*season.Calendar // by climate, then grass
	Pests      *advice.Book
	Reports    []pest.Report    // scouting, oldest first
	Treatments []pest.Treatment // oldest first
	Catalogue  *advice.Catalogue
	Rules      []*advice.Rule
	Phrases    *voice.Book
	Cautions   []advice.Caution
	Conflicts  []*advice.Conflict // in the order in which they are settled
	Bags       []advice.Bag
	Law        *law.Book
	WaterLaw   *watering.Book
	Ordinances []*law.Record      // fertilizer laws
	Watering   []*watering.Record // watering laws
	Places     []law.Jurisdiction
	Standing   []*Page // guides and about
	Weeks      []*WeekFolder
}

// Site is data/advisory.toml.
type Site struct {
	Title         string
	Publisher     string
	About         string // one sentence
	BaseURL       string // https://…, without the last slash
	Language      string // en-US
	TimeZone      string // IANA name: the clock of feed timestamps and of hourly forecasts
	Units         quantity.System
	IssueWeekday  time.Weekday
	IssueTime     string // HH:MM in TimeZone
	FeedDomain    string
	FeedSince     civil.Date // when FeedDomain was first ours: the date in tag URIs
	Contact       string
	PostalAddress string
	Demo          bool   // everything is invented: every page says so
	State         string // code of the state whose rules on pesticides hold, "MD"; "" not told
}

// Voice says messages in the words of the workspace's phrase book.
func (ws *Workspace) Voice() voice.Voice { return voice.Voice{Book: ws.Phrases, Units: ws.Site.Units} }

// IssueDate returns the last issue weekday on or before the Monday of a week.
func (s Site) IssueDate(w civil.Week) civil.Date { return w.Monday().OnOrBefore(s.IssueWeekday) }

// IssuedAt returns when the issue of a date comes out, on a clock.
func (s Site) IssuedAt(d civil.Date, clock *time.Location) time.Time {
	at, _ := time.Parse("15:04", s.IssueTime) // checked where it is read
	y, m, day := d.YMD()
	return time.Date(y, time.Month(m), day, at.Hour(), at.Minute(), 0, 0, clock)
}

// AlertsOf returns the official alerts of a zone that an issue tells: of the newest
// list on file, those that are not over when the issue comes out.
func (ws *Workspace) AlertsOf(z *Zone, issue civil.Date) []weather.Alert {
	l := weather.NewestAlerts(ws.Alerts, issue)
	if l == nil {
		return nil
	}
	return l.Of(z.AlertAreas, ws.Site.IssuedAt(issue, l.Received.Location()))
}

// States are the codes of the states in which lawns of the zones lie, each once.
func (ws *Workspace) States() []string {
	var out []string
	for _, z := range ws.Zones {
		if z.State != "" && !slices.Contains(out, z.State) {
			out = append(out, z.State)
		}
	}
	return out
}

// Source is one entry of data/sources.toml.
type Source struct {
	ID, Authors, Title, Where, URL string
	Year                           string
	Note                           string // how far it was read
}

// Climate is one belt of data/climates.toml.
type Climate struct{ ID, Name, About string }

// Station is one station of data/stations.toml with its weather.
type Station struct {
	weather.Station
	Records   *weather.Series          // nil when there is no daily.csv
	Forecasts []weather.Forecast       // by issue date
	Hourly    []weather.HourlyForecast // by issue date
}

// Zone is one file of data/zones.
type Zone struct {
	ID, Name                              string
	Climate                               string
	Station                               string
	State                                 string // as of the site, where the zone names none
	LatitudeDeg, LongitudeDeg, ElevationM float64
	Soil                                  turf.Soil
	Grasses                               []*turf.Profile
	Places                                []law.Place
	AlertAreas                            []string   // codes under which official alerts speak of it
	at                                    []diag.Pos // of each place's jurisdictions
}

// Page is one Markdown file of content/: a standing article or an author's
// note.
type Page struct {
	ID      string // file name without .md; for notes the zone's id, or "note"
	File    string // path in the workspace
	Title   string
	Summary string // one sentence; standing articles only
	Kind    string // "guide" or "about"; standing articles only
	Spots   bool   // the table of spots stands below it; standing articles only
	HTML    string // rendered CommonMark, safe to print; headings start at h2
	Text    string // the same as plain text, wrapped at 72 columns, links alone on a line
}

// WeekFolder is one folder of content/issues.
type WeekFolder struct {
	Week  civil.Week
	Note  *Page            // nil when there is none
	Zones map[string]*Page // by zone id
}
