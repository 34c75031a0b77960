package weather

import (
	"bytes"
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"time"

	"ligule/internal/civil"
	"ligule/internal/diag"
)

// Alert is an official alert of the weather service as it stood in a list.
type Alert struct {
	Event       string    // its official name, such as Flood Watch
	Areas       []string  // UGC codes (NCC129) and SAME codes (037129)
	From, Until time.Time // on the clock of the place; it is over at Until
	Open        bool      // holds until further notice: at Until only its message runs out
	Ignored     string    // why it counts for nothing; "" if it counts
}

// AlertList is a list of alerts as it was received.
type AlertList struct {
	Received time.Time // on the clock of the place
	Alerts   []Alert
}

// What a list may hold at most. All alerts of the United States at one time were
// 529 and fewer in the lists seen, in less than 10 MB.
const (
	maxAlertBytes = 16 << 20
	maxAlerts     = 5000
	maxAlertAreas = 2000
)

// ParseReceived reads when a list of alerts was received, as its file is named:
// 2026-04-26, which counts from the midnight that begins it, or 2026-04-26T0600.
func ParseReceived(name string, clock *time.Location) (time.Time, error) {
	day, hour, timed := strings.Cut(name, "T")
	d, err := civil.ParseDate(day)
	if err != nil || !timed {
		return midnight(d, clock), err
	}
	t, err := time.Parse("1504", hour)
	if err != nil {
		return t, fmt.Errorf("%q is not a time of day written as HHMM", hour)
	}
	y, m, dd := d.YMD()
	return time.Date(y, time.Month(m), dd, t.Hour(), t.Minute(), 0, 0, clock), nil
}

// ReadAlerts reads a list of alerts of the United States National Weather Service
// (GeoJSON, as api.weather.gov/alerts gives it, or a single alert of it), with
// every mistake recorded in the list under the name file. What the service adds,
// leaves out or gives as null is borne with as long as an alert can be named and
// placed in time; an alert that cannot is a mistake, since leaving it out would
// say that there is none. One that does not count is kept with the reason.
//
// An alert holds from its onset, else from when it takes effect, to its end, else
// to the end in its VTEC, else to when its message expires: a message may expire
// before the event begins. It is named by its VTEC where that is known, since the
// texts of events are reworded (NWS Instruction 10-1703).
func ReadAlerts(file string, text []byte, received time.Time, list *diag.List) AlertList {
	out := AlertList{Received: received}
	errorf := func(line int, remedy, what string, args ...any) {
		list.Errorf(diag.Pos{File: file, Line: line}, remedy, what, args...)
	}
	const again = "fetch the list again, or remove the file"
	if len(text) > maxAlertBytes {
		errorf(0, "ask the service for the alerts of your state alone", "larger than %d MB", maxAlertBytes>>20)
		return out
	}
	var doc struct {
		Type, Title string
		Features    []json.RawMessage
	}
	err := json.Unmarshal(text, &doc)
	var syntax *json.SyntaxError
	switch {
	case errors.As(err, &syntax):
		errorf(1+bytes.Count(text[:min(int(syntax.Offset), len(text))], []byte{'\n'}), again, "not JSON: %v", err)
		return out
	case err != nil:
		errorf(0, again, "not a list of alerts: %s", mistyped(err))
		return out
	case doc.Type == "Feature":
		doc.Features = []json.RawMessage{text}
	case doc.Type != "FeatureCollection" || doc.Features == nil:
		errorf(0, again, "not a list of alerts: %.80q %.80q", doc.Type, doc.Title)
		return out
	}
	if len(doc.Features) > maxAlerts {
		errorf(0, "ask the service for the alerts of your state alone", "more than %d alerts", maxAlerts)
		return out
	}
	for i, raw := range doc.Features {
		alerts, err := readAlert(raw, received)
		if err != nil {
			list.Errorf(diag.Pos{File: file, Key: diag.Element("features", i)}, "fetch the list again, or write into it what is missing", "%v", err)
		}
		out.Alerts = append(out.Alerts, alerts...)
	}
	return out
}

// alertProperties are what is read of an alert.
type alertProperties struct {
	Event, Status, MessageType      string
	Onset, Effective, Expires, Ends string
	Geocode                         struct{ UGC, SAME []string }
	Parameters                      struct{ VTEC []string }
}

// readAlert reads one alert: as many as it has events that are still on.
func readAlert(raw []byte, received time.Time) ([]Alert, error) {
	var f struct{ Properties alertProperties }
	if err := json.Unmarshal(raw, &f); err != nil {
		return nil, fmt.Errorf("not an alert of the service: %s", mistyped(err))
	}
	p := &f.Properties
	a := Alert{Event: strings.TrimSpace(p.Event), Areas: slices.Concat(p.Geocode.UGC, p.Geocode.SAME)}
	switch {
	case a.Event == "":
		return nil, errors.New("an alert without an event")
	case p.Status == "":
		return nil, errors.New("an alert without a status")
	case len(a.Areas) > maxAlertAreas:
		return nil, errors.New("an alert of too many areas")
	}
	coded := readVTEC(p.Parameters.VTEC)
	on := slices.DeleteFunc(slices.Clone(coded), func(v vtec) bool { return v.isOver() })
	read := func(texts ...string) (first time.Time) {
		for _, text := range texts {
			if t, err := time.Parse(time.RFC3339, text); err == nil && t.Year() >= firstYear && t.Year() <= lastYear {
				return t.In(received.Location())
			}
		}
		return first
	}
	a.From = read(p.Onset, p.Effective)
	expires, ends := read(p.Expires), read(p.Ends)
	switch {
	case !strings.EqualFold(p.Status, "Actual"):
		a.Ignored = "its status is " + p.Status
	case strings.EqualFold(a.Event, "Test Message"):
		a.Ignored = "a test"
	case slices.ContainsFunc([]string{"Cancel", "Ack", "Error"}, func(t string) bool { return strings.EqualFold(t, p.MessageType) }):
		a.Ignored = "its message is of type " + p.MessageType
	case len(coded) > 0 && len(on) == 0:
		a.Ignored = "cancelled, replaced, run out or a test, by its VTEC"
	case !expires.IsZero() && !expires.After(received):
		a.Ignored = "its message had expired"
	case len(a.Areas) == 0:
		a.Ignored = "it names no area"
	}
	if a.Ignored != "" {
		return []Alert{a}, nil
	}
	if a.From.IsZero() {
		return nil, errors.New("neither onset nor effective tells when it begins")
	}
	if len(on) == 0 {
		on = []vtec{{}}
	}
	var out []Alert
	for _, v := range on {
		b := a
		b.Event = cmp.Or(v.event, a.Event)
		b.Open = ends.IsZero() && v.open
		b.Until = ends
		for _, t := range []time.Time{v.end, expires} {
			if b.Until.IsZero() && !t.IsZero() {
				b.Until = t.In(received.Location())
			}
		}
		if b.Until.IsZero() {
			return nil, errors.New("neither ends, VTEC nor expires tells when it ends")
		}
		if b.over(received) {
			b.Ignored = "it had ended"
		}
		if !slices.ContainsFunc(out, func(o Alert) bool { return o.Event == b.Event && o.Until.Equal(b.Until) }) {
			out = append(out, b)
		}
	}
	return out, nil
}

// mistyped says what of a JSON document is of the wrong type.
func mistyped(err error) string {
	var wrong *json.UnmarshalTypeError
	if !errors.As(err, &wrong) || wrong.Field == "" {
		return err.Error()
	}
	return fmt.Sprintf("%s cannot be a JSON %s", strings.ToLower(wrong.Field), wrong.Value)
}

// vtec is what a Valid Time Event Code tells (NWS Instruction 10-1703).
type vtec struct {
	class, action string
	event         string    // its official name; "" for a phenomenon that is not known here
	end           time.Time // zero: until further notice
	open          bool
}

var vtecForm = regexp.MustCompile(`^/([OTEX])\.([A-Z]{3})\.[A-Z0-9]{4}\.([A-Z]{2})\.([A-Z])\.\d{4}\.(\d{6}T\d{4}Z)-(\d{6}T\d{4}Z)/$`)

// readVTEC reads the codes that have the form, and passes over others.
func readVTEC(codes []string) []vtec {
	var out []vtec
	for _, code := range codes {
		m := vtecForm.FindStringSubmatch(strings.TrimSpace(code))
		if m == nil {
			continue
		}
		v := vtec{class: m[1], action: m[2], open: m[6] == "000000T0000Z"}
		if phenomenon, level := phenomena[m[3]], significances[m[4]]; phenomenon != "" && level != "" {
			v.event = phenomenon + " " + level
		}
		if end, err := time.Parse("060102T1504Z", m[6]); err == nil {
			v.end = end
		}
		out = append(out, v)
	}
	return out
}

// isOver reports whether the code takes an event back, or only tries it.
func (v vtec) isOver() bool {
	return v.class == "T" || slices.Contains([]string{"UPG", "CAN", "EXP"}, v.action)
}

// phenomena are the events that laws on fertilizer name and that advice asks
// about, as the weather service calls them. TR, HU, SS and FR are from memory, the
// others were seen in lists of 2025 and 2026.
var phenomena = map[string]string{
	"FA": "Flood", "FL": "Flood", "FF": "Flash Flood", "SV": "Severe Thunderstorm", "TR": "Tropical Storm", "HU": "Hurricane",
	"SS": "Storm Surge", "FZ": "Freeze", "FR": "Frost", "XH": "Extreme Heat", "HT": "Heat",
}

var significances = map[string]string{"A": "Watch", "W": "Warning", "Y": "Advisory", "S": "Statement"}

// alertMaxAgeDays is how old a list may be on the issue date. What an older one
// said is not repeated: most alerts last hours.
const alertMaxAgeDays = 1

// NewestAlerts returns the newest list that was received by the end of an issue
// date and is not too old for it, or nil. The lists stand in the order in which
// they were received.
func NewestAlerts(all []AlertList, issue civil.Date) *AlertList {
	for i := len(all) - 1; i >= 0; i-- {
		if age := int(issue - dayOf(all[i].Received)); age >= 0 {
			if age > alertMaxAgeDays {
				break
			}
			return &all[i]
		}
	}
	return nil
}

// Of returns the alerts that count for a place with some area codes and are not
// over at a time, the one that ends last first.
func (l *AlertList) Of(areas []string, after time.Time) []Alert {
	out := slices.DeleteFunc(slices.Clone(l.Alerts), func(a Alert) bool {
		return a.Ignored != "" || a.over(after) || !slices.ContainsFunc(a.Areas, func(x string) bool {
			return slices.ContainsFunc(areas, func(y string) bool { return sameArea(x, y) })
		})
	})
	slices.SortStableFunc(out, func(a, b Alert) int { return b.Until.Compare(a.Until) })
	return out
}

// over reports whether an alert has ended by a time. One whose message runs out
// before the event begins has not.
func (a Alert) over(t time.Time) bool { return !a.Until.After(t) && a.From.Before(t) }

// On reports whether an alert is in force on any hour of a day.
func (a Alert) On(d civil.Date) bool {
	return a.From.Before(midnight(d+1, a.From.Location())) && !a.over(midnight(d, a.From.Location()))
}

// midnight is the instant at which a day begins on a clock.
func midnight(d civil.Date, clock *time.Location) time.Time {
	y, m, day := d.YMD()
	return time.Date(y, time.Month(m), day, 0, 0, 0, 0, clock)
}

func dayOf(t time.Time) civil.Date { return civil.MustDate(t.Year(), int(t.Month()), t.Day()) }

// Ends returns the day and the minute of it at which an alert is over.
func (a Alert) Ends() (civil.Date, int) { return dayOf(a.Until), a.Until.Hour()*60 + a.Until.Minute() }

var areaForm = regexp.MustCompile(`^([A-Z]{2}[CZ][0-9]{3}|[0-9]{6})$`)

// IsArea reports whether a word is the code of an area: two letters of a state, C
// for a county or Z for a forecast zone, and three digits (UGC), or a digit and
// the five of the county (SAME).
func IsArea(code string) bool { return areaForm.MatchString(code) }

// sameArea reports whether two codes are of one area. The first digit of a SAME
// code is a part of the county.
func sameArea(a, b string) bool {
	return a == b || len(a) == 6 && len(b) == 6 && isDigit(a[0]) && isDigit(b[0]) && a[1:] == b[1:]
}
