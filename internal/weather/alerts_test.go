package weather

import (
	"bytes"
	"fmt"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/civil"
	"ligule/internal/diag"
)

// told is an alert in one line.
func (a Alert) told() string {
	out := fmt.Sprintf("%s %s %s to %s", a.Areas[0], a.Event, a.From.Format("01-02 15:04"), a.Until.Format("01-02 15:04"))
	if a.Open {
		out += " or later"
	}
	if a.Ignored != "" {
		out = a.Areas[0] + " " + a.Event + ": " + a.Ignored
	}
	return out
}

func readAlerts(t testing.TB, text []byte, received time.Time) (out []string) {
	t.Helper()
	var list diag.List
	for _, a := range ReadAlerts("a.json", text, received, &list).Alerts {
		out = append(out, a.told())
	}
	require.Empty(t, list.All())
	return out
}

// Lists of api.weather.gov of 2019, 2025 and 2026 (testdata/SOURCES.md): each alert
// with the window of its event, in UTC.
func TestPublishedAlerts(t *testing.T) {
	for _, c := range []struct {
		file     string
		received time.Time
		want     []string
	}{
		{"alert_2019_old_id_single.json", time.Date(2019, 12, 20, 21, 40, 0, 0, time.UTC), []string{"ORZ001 Flood Watch 12-20 21:34 to 12-22 18:00"}},
		{"alerts_active_2025-12-15_cut.json", time.Date(2025, 12, 15, 21, 55, 0, 0, time.UTC), []string{
			"LMZ740 Small Craft Advisory 12-16 16:00 to 12-17 09:00",
			"FLZ021 Freeze Warning 12-16 00:00 to 12-16 14:00",
			"CAZ371 Air Quality Alert 12-15 19:35 to 12-16 19:45",
			"WAC045 Flood Warning 12-15 19:34 to 12-20 00:14",
			"ORZ101 Flood Watch 12-18 12:00 to 12-20 12:00", // its message expires two days before it begins
			"WAZ523 Flood Watch 12-15 18:31 to 12-17 00:15 or later",
			"ALZ065 Freeze Warning 12-16 06:00 to 12-16 14:00",
			"ALZ065 Freeze Watch: cancelled, replaced, run out or a test, by its VTEC", // upgraded to the warning above
			"HIZ001 Flood Watch 12-15 17:37 to 12-16 04:00",
			"FLZ168 Wind Advisory 12-15 17:29 to 12-16 00:00",
			"WAZ001 Special Weather Statement 12-15 17:28 to 12-16 11:00",
			"GAZ087 Cold Weather Advisory 12-16 01:00 to 12-16 14:00",
			"ASZ001 Hydrologic Outlook 12-15 12:48 to 12-16 01:00",
			"WAZ048 Winter Storm Watch 12-17 06:00 to 12-18 06:00",
			"MTZ001 Flash Flood Watch 12-15 03:22 to 12-17 21:00",
		}},
		{"alerts_active_2026-07-15_cut.json", time.Date(2026, 7, 15, 20, 30, 0, 0, time.UTC), []string{
			"COC015 Flash Flood Warning 07-15 20:00 to 07-15 21:15",
			"NVZ031 Special Weather Statement: its message had expired",
			"TXC239 Flood Advisory 07-15 19:59 to 07-15 21:15",
			"AZZ530 Extreme Heat Warning 07-15 19:58 to 07-17 03:00",
			"PAC079 Severe Thunderstorm Warning: its message had expired",
			"MTZ029 Flood Watch 07-15 19:50 to 07-16 09:00",
			"NJZ001 Air Quality Alert 07-15 19:45 to 07-17 04:00",
			"MNZ039 Heat Advisory 07-15 19:44 to 07-17 03:00",
			"NEZ434 Red Flag Warning 07-15 19:40 to 07-16 02:00",
		}},
	} {
		text, err := os.ReadFile("testdata/" + c.file)
		require.NoError(t, err)
		assert.Equal(t, c.want, readAlerts(t, text, c.received), c.file)
	}
}

// anAlert is a list of one alert, changed: "key: value" replaces a property, "key"
// takes it away.
func anAlert(changes ...string) []byte {
	all := []string{`"event": "Flood Watch"`, `"status": "Actual"`, `"messageType": "Alert"`, `"geocode": {"UGC": ["OSC017"]}`,
		`"effective": "2026-04-26T13:40:00-04:00"`, `"onset": "2026-04-26T20:00:00-04:00"`, `"expires": "2026-04-27T02:00:00-04:00"`, `"ends": "2026-04-28T06:00:00-04:00"`}
	for _, c := range changes {
		key, value, replaced := strings.Cut(c, ": ")
		for i := len(all) - 1; i >= 0; i-- {
			if strings.HasPrefix(all[i], `"`+key+`"`) {
				all = append(all[:i], all[i+1:]...)
			}
		}
		if replaced {
			all = append(all, `"`+key+`": `+value)
		}
	}
	return []byte(`{"type": "FeatureCollection", "features": [{"properties": {` + strings.Join(all, ", ") + `}}]}`)
}

var alertsIn = time.Date(2026, 4, 26, 15, 0, 0, 0, time.FixedZone("EDT", -4*3600))

func TestEdgesOfOneAlert(t *testing.T) {
	vtec := func(codes ...string) string { return `parameters: {"VTEC": ["` + strings.Join(codes, `", "`) + `"]}` }
	for _, c := range []struct {
		name    string
		changes []string
		want    string
	}{
		{"as it is", nil, "Flood Watch 04-26 20:00 to 04-28 06:00"},
		{"no onset", []string{"onset: null"}, "Flood Watch 04-26 13:40 to 04-28 06:00"},
		{"an onset that is no time", []string{"onset: \"soon\""}, "Flood Watch 04-26 13:40 to 04-28 06:00"},
		{"no end", []string{"ends"}, "Flood Watch 04-26 20:00 to 04-27 02:00"},
		{"no end but in the code", []string{"ends: null", vtec("/O.NEW.KOSS.FA.A.0003.260427T0000Z-260428T1000Z/")}, "Flood Watch 04-26 20:00 to 04-28 06:00"},
		{"until further notice", []string{"ends", vtec("/O.NEW.KOSS.FA.A.0003.260427T0000Z-000000T0000Z/")}, "Flood Watch 04-26 20:00 to 04-27 02:00 or later"},
		{"an end beside it", []string{vtec("/O.NEW.KOSS.FA.A.0003.260427T0000Z-000000T0000Z/")}, "Flood Watch 04-26 20:00 to 04-28 06:00"},
		{"reworded", []string{`event: "High Water Notice"`, vtec("/O.CON.KOSS.FL.W.0003.260427T0000Z-260428T1000Z/")}, "Flood Warning 04-26 20:00 to 04-28 06:00"},
		{"a code of another event", []string{`event: "Red Flag Warning"`, vtec("/O.CON.KOSS.FW.W.0003.260427T0000Z-260428T1000Z/")}, "Red Flag Warning 04-26 20:00 to 04-28 06:00"},
		{"a code that is none", []string{vtec("FA.A", "")}, "Flood Watch 04-26 20:00 to 04-28 06:00"},
		{"a code that is over beside one that is not", []string{vtec("/O.UPG.KOSS.FA.A.0003.260427T0000Z-260428T1000Z/", "/O.NEW.KOSS.FA.W.0003.260427T0000Z-260428T1000Z/")}, "Flood Warning 04-26 20:00 to 04-28 06:00"},
		{"two that are on", []string{vtec("/O.NEW.KOSS.FA.A.0003.260427T0000Z-260428T1000Z/", "/O.NEW.KOSS.TR.A.0003.260427T0000Z-260428T1000Z/")},
			"Flood Watch 04-26 20:00 to 04-28 06:00; Tropical Storm Watch 04-26 20:00 to 04-28 06:00"},
		{"cancelled by its code", []string{vtec("/O.CAN.KOSS.FA.A.0003.260427T0000Z-260428T1000Z/")}, ": cancelled, replaced, run out or a test, by its VTEC"},
		{"run out by its code", []string{vtec("/O.EXP.KOSS.FA.A.0003.260427T0000Z-260428T1000Z/")}, ": cancelled, replaced, run out or a test, by its VTEC"},
		{"a test by its code", []string{vtec("/T.NEW.KOSS.FA.A.0003.260427T0000Z-260428T1000Z/")}, ": cancelled, replaced, run out or a test, by its VTEC"},
		{"an exercise", []string{`status: "Exercise"`}, ": its status is Exercise"},
		{"in lower case", []string{`status: "actual"`}, "Flood Watch 04-26 20:00 to 04-28 06:00"},
		{"a test message", []string{`event: "test message"`}, ": a test"},
		{"cancelled", []string{`messageType: "Cancel"`}, ": its message is of type Cancel"},
		{"an update", []string{`messageType: "Update"`}, "Flood Watch 04-26 20:00 to 04-28 06:00"},
		{"expires as it is received", []string{`expires: "2026-04-26T15:00:00-04:00"`}, ": its message had expired"},
		{"a second later", []string{`expires: "2026-04-26T15:00:01-04:00"`}, "Flood Watch 04-26 20:00 to 04-28 06:00"},
		{"ends as it is received", []string{`onset: null`, `ends: "2026-04-26T15:00:00-04:00"`}, ": it had ended"},
		{"ends a second later", []string{`onset: null`, `ends: "2026-04-26T15:00:01-04:00"`}, "Flood Watch 04-26 13:40 to 04-26 15:00"},
		{"expires before it begins, without an end", []string{"ends", `expires: "2026-04-26T16:00:00-04:00"`}, "Flood Watch 04-26 20:00 to 04-26 16:00"},
		{"of nowhere", []string{"geocode"}, ": it names no area"},
	} {
		var got []string
		var list diag.List
		for _, a := range ReadAlerts("a.json", anAlert(c.changes...), alertsIn, &list).Alerts {
			a.Areas = []string{""}
			text := a.told()
			if a.Ignored != "" {
				text = ": " + a.Ignored
			}
			got = append(got, strings.TrimSpace(text))
		}
		assert.Empty(t, list.All(), c.name)
		assert.Equal(t, c.want, strings.Join(got, "; "), c.name)
	}
}

// What cannot be read stops the work: left out, it would say that there is no alert.
func TestEdgesOfAlertsThatAreMistakes(t *testing.T) {
	areas := func(n int) string { return `geocode: {"UGC": [` + strings.Repeat(`"OSC001", `, n-1) + `"OSC017"]}` }
	many := func(n int) []byte {
		return []byte(`{"type": "FeatureCollection", "features": [` + strings.Repeat(`{"properties": {"event": "x", "status": "Test"}},`, n-1) + `{"properties": {"event": "x", "status": "Test"}}]}`)
	}
	padded := func(n int) []byte {
		text := anAlert()
		return append(text, bytes.Repeat([]byte(" "), n-len(text))...)
	}
	const again = "; fetch the list again, or remove the file"
	const missing = "; fetch the list again, or write into it what is missing"
	const fewer = "; ask the service for the alerts of your state alone"
	for _, c := range []struct {
		name string
		text []byte
		want string
	}{
		{"no alerts", []byte(`{"type": "FeatureCollection", "features": []}`), ""},
		{"one by itself", bytes.TrimSuffix(bytes.TrimPrefix(anAlert(), []byte(`{"type": "FeatureCollection", "features": [{`)), []byte(`]}`)), "a.json:1: not JSON: invalid character ':' after top-level value" + again},
		{"cut off", []byte("{\"type\":\n\"Feature"), "a.json:2: not JSON: unexpected end of JSON input" + again},
		{"nothing", nil, "a.json:1: not JSON: unexpected end of JSON input" + again},
		{"the service is out of order", []byte(`{"type": "https://api.weather.gov/problems/UnexpectedProblem", "title": "Unexpected Problem"}`),
			`a.json: not a list of alerts: "https://api.weather.gov/problems/UnexpectedProblem" "Unexpected Problem"` + again},
		{"no list in it", []byte(`{"type": "FeatureCollection", "title": "x", "features": null}`), `a.json: not a list of alerts: "FeatureCollection" "x"` + again},
		{"a list of something else", []byte(`{"type": "FeatureCollection", "features": {}}`), "a.json: not a list of alerts: features cannot be a JSON object" + again},
		{"an alert that is null", []byte(`{"type": "FeatureCollection", "features": [null]}`), "a.json: features[0]: an alert without an event" + missing},
		{"no event", anAlert("event"), "a.json: features[0]: an alert without an event" + missing},
		{"no status", anAlert("status: null"), "a.json: features[0]: an alert without a status" + missing},
		{"no begin", anAlert("onset", "effective"), "a.json: features[0]: neither onset nor effective tells when it begins" + missing},
		{"no end", anAlert("ends", "expires"), "a.json: features[0]: neither ends, VTEC nor expires tells when it ends" + missing},
		{"an end in no year", anAlert(`ends: "2200-01-01T00:00:00Z"`, "expires"), "a.json: features[0]: neither ends, VTEC nor expires tells when it ends" + missing},
		{"the last year", anAlert(`ends: "2199-12-31T00:00:00Z"`, "expires"), ""},
		{"a number for an event", anAlert("event: 7"), "a.json: features[0]: not an alert of the service: properties.event cannot be a JSON number" + missing},
		{"as many areas as may be", anAlert(areas(2000)), ""},
		{"one more", anAlert(areas(2001)), "a.json: features[0]: an alert of too many areas" + missing},
		{"as many alerts as may be", many(5000), ""},
		{"one alert more", many(5001), "a.json: more than 5000 alerts" + fewer},
		{"as large as may be", padded(16 << 20), ""},
		{"larger", padded(16<<20 + 1), "a.json: larger than 16 MB" + fewer},
	} {
		var list diag.List
		ReadAlerts("a.json", c.text, alertsIn, &list)
		assert.Equal(t, c.want, list.Error(), c.name)
	}
	var list diag.List
	one := `{"type": "Feature", "properties"` + strings.TrimSuffix(strings.SplitN(string(anAlert()), `"properties"`, 2)[1], `]}`)
	assert.Len(t, ReadAlerts("a.json", []byte(one), alertsIn, &list).Alerts, 1, "a single alert, as the service gives it")
	assert.Empty(t, list.All())
}

func TestEdgesOfWhenAlertsHold(t *testing.T) {
	clock := zoneOf(t, "America/New_York")
	at := func(text string) time.Time {
		x, err := time.ParseInLocation("2006-01-02 15:04", text, clock)
		require.NoError(t, err)
		return x
	}
	for _, c := range []struct {
		from, until string
		want        string // days of April 2026 on which it is in force
	}{
		{"2026-04-26 20:00", "2026-04-28 06:00", "[26 27 28]"},
		{"2026-04-26 23:59", "2026-04-28 00:01", "[26 27 28]"},
		{"2026-04-27 00:00", "2026-04-28 00:00", "[27]"},
		{"2026-04-27 10:00", "2026-04-27 11:00", "[27]"},
		{"2026-04-27 10:00", "2026-04-26 11:00", "[27]"}, // its message expires before it begins
	} {
		var on []int
		for d := 24; d <= 30; d++ {
			if (Alert{From: at(c.from), Until: at(c.until)}).On(civil.MustDate(2026, 4, d)) {
				on = append(on, d)
			}
		}
		assert.Equal(t, c.want, fmt.Sprint(on), c.from+" to "+c.until)
	}
	// On the day on which the clock is set forward, midnight is midnight.
	a := Alert{From: at("2026-03-08 03:00"), Until: at("2026-03-09 00:00")}
	assert.True(t, a.On(civil.MustDate(2026, 3, 8)))
	assert.False(t, a.On(civil.MustDate(2026, 3, 9)))
	day, minute := Alert{Until: at("2026-04-28 06:30")}.Ends()
	assert.Equal(t, []any{civil.MustDate(2026, 4, 28), 390}, []any{day, minute})
}

func TestEdgesOfTheNewestAlerts(t *testing.T) {
	clock := zoneOf(t, "America/New_York")
	var all []AlertList
	for _, name := range []string{"2026-04-20", "2026-04-24T2359", "2026-04-26", "2026-04-26T0600", "2026-04-28T0000"} {
		received, err := ParseReceived(name, clock)
		require.NoError(t, err)
		all = append(all, AlertList{Received: received})
	}
	for day, want := range map[int]string{19: "", 20: "20 00:00", 21: "20 00:00", 22: "", 24: "24 23:59", 25: "24 23:59", 26: "26 06:00", 27: "26 06:00", 28: "28 00:00", 29: "28 00:00", 30: ""} {
		got := ""
		if l := NewestAlerts(all, civil.MustDate(2026, 4, day)); l != nil {
			got = l.Received.Format("02 15:04")
		}
		assert.Equal(t, want, got, day)
	}
	for _, bad := range []string{"", "today", "2026-4-26", "2026-02-30", "2026-04-26T", "2026-04-26T6", "2026-04-26T2400", "2026-04-26T06:00", "0000-01-01"} {
		_, err := ParseReceived(bad, clock)
		assert.Error(t, err, bad)
	}
}

func TestEdgesOfAlertAreas(t *testing.T) {
	now := alertsIn
	alert := func(until time.Duration, areas ...string) Alert {
		return Alert{Event: fmt.Sprint(until), Areas: areas, From: now.Add(-time.Hour), Until: now.Add(until)}
	}
	l := &AlertList{Alerts: []Alert{
		alert(time.Second, "OSC017"), alert(0, "OSC017"), alert(2*time.Second, "OSZ045", "OSC017"), alert(3*time.Second, "099017"), alert(4*time.Second, "OSC018"), alert(5*time.Second, "199017"),
		{Event: "ignored", Areas: []string{"OSC017"}, From: now, Until: now.Add(time.Hour), Ignored: "a test"},
	}}
	for areas, want := range map[string]string{"OSC017": "2s 1s", "OSZ045": "2s", "099017": "5s 3s", "199017": "5s 3s", "OSC018 099017": "5s 4s 3s", "099018": "", "OSC019": "", "": ""} {
		var got []string
		for _, a := range l.Of(strings.Fields(areas), now) {
			got = append(got, a.Event)
		}
		assert.Equal(t, want, strings.Join(got, " "), areas)
	}
	for code, want := range map[string]bool{"NCC129": true, "NCZ106": true, "037129": true, "": false, "NCX129": false, "ncc129": false, "NCC12": false, "37129": false, "0371290": false, "NCC129 ": false} {
		assert.Equal(t, want, IsArea(code), code)
	}
}

func FuzzReadAlerts(f *testing.F) {
	for _, name := range []string{"alert_2019_old_id_single.json", "alerts_active_2026-07-15_cut.json"} {
		text, err := os.ReadFile("testdata/" + name)
		require.NoError(f, err)
		f.Add(text)
	}
	f.Add(anAlert())
	f.Add(anAlert("ends", `parameters: {"VTEC": ["/O.NEW.KOSS.FA.A.0003.260427T0000Z-000000T0000Z/"]}`))
	f.Add([]byte(`{"type": "Feature", "properties": {"event": "x", "status": "Actual", "onset": "1800-01-01T00:00:00+23:59", "ends": "2199-12-31T23:59:59-23:59", "geocode": {"SAME": ["1"]}}}`))
	f.Fuzz(func(t *testing.T, text []byte) {
		var list diag.List
		l := ReadAlerts("a.json", text, alertsIn, &list)
		for _, a := range l.Alerts {
			if a.Ignored == "" && (a.From.IsZero() || a.Until.IsZero() || a.Event == "" || len(a.Areas) == 0) {
				t.Errorf("an alert that counts and lacks something: %v", a)
			}
			a.On(civil.MustDate(2026, 4, 27))
			if a.Ignored == "" {
				a.Ends()
			}
		}
		l.Of([]string{"OSC017", "099017"}, alertsIn)
	})
}
