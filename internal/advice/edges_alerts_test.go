package advice

import (
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/civil"
	"ligule/internal/law"
	"ligule/internal/message"
	"ligule/internal/season"
	"ligule/internal/watering"
	"ligule/internal/weather"
)

// alert is an official alert; its ends are days after the issue date.
func alert(event string, from, until float64) weather.Alert {
	at := func(days float64) time.Time {
		return time.Date(2026, 7, 12, 0, 0, 0, 0, time.UTC).Add(time.Duration(days * 24 * float64(time.Hour)))
	}
	return weather.Alert{Event: event, Areas: []string{"OSC017"}, From: at(from), Until: at(until)}
}

// alerted puts alerts on file.
func alerted(all ...weather.Alert) func(*Input) { return func(in *Input) { in.Alerts = all } }

// A watch or a warning of flood, thunderstorm, tropical storm or hurricane that is in
// force between the issue date and the Sunday of the week holds as heavy rain does.
func TestEdgesOfAlertsThatHold(t *testing.T) {
	const holds = "wait storm gate.storm.alert_why"
	cases := []edge{
		{"on the issue date", alerted(alert("Flood Watch", 0, 0.5)), holds},
		{"until it begins", alerted(alert("Flood Watch", -1, 0)), "do"},
		{"on the last hour of Sunday", alerted(alert("Flood Watch", 7.99, 9)), holds},
		{"from the Monday after", alerted(alert("Flood Watch", 8, 9)), "do"},
		{"in lower case", alerted(alert("flood watch", 1, 2)), holds},
		{"a second one", alerted(alert("Heat Advisory", 1, 3), alert("Hurricane Watch", 2, 3)), holds},
		{"before heavy rain", both(rained(0, 60), alerted(alert("Flood Watch", 1, 2))), holds},
		{"in snow", both(weathered(func(past, _ *weather.Series) { past.Set(weather.SnowDepthMM, issue29.AddDays(-1), 9) }), alerted(alert("Flood Watch", 1, 2))), holds},
	}
	for _, storm := range []string{"Flood", "Flash Flood", "Severe Thunderstorm", "Tropical Storm", "Hurricane"} {
		for level, want := range map[string]string{"Watch": holds, "Warning": holds, "Advisory": "do"} {
			cases = append(cases, edge{storm + " " + level, alerted(alert(storm+" "+level, 1, 2)), want})
		}
	}
	for _, other := range []string{"Freeze Warning", "Coastal Flood Warning", "Heat Advisory"} {
		cases = append(cases, edge{other, alerted(alert(other, 1, 2)), "do"})
	}
	holdEdges(t, cases)
	held := map[string]bool{Nitrogen: true, Phosphorus: true, Fungicide: true, Herbicide: true, Insecticide: true}
	for _, use := range season.Uses() {
		want := "do"
		if held[use] {
			want = holds
		}
		assert.Equal(t, want, cameTo(t, lawnAt(t, alerted(alert("Flood Watch", 1, 2)), using(use))), use)
	}
}

// What a law closes by alerts is told for each alert with its days and its end.
func TestEdgesOfClosingsByAlert(t *testing.T) {
	b := lawBook(t, record("storms", "state", "2026-01-10", `
[[rules]]
id = "alert"
topic = "weather"
effect = "ban"
targets = ["N"]
binds = ["all"]
alerts = ["Flood Watch", "Hurricane Watch"]
alert_scope = "zone"
rain_in = 2.0
rain_hours = 24
rain_compare = ">="
rain_basis = "forecast"
ground = ["snow"]
as_written = "not in a storm"
citation = "1"
`))
	told := func(rainOn civil.Date, all ...weather.Alert) (out []string) {
		z := AskLaw(b, watering.NewBook(nil, nil), onePlace, week29, issue29, func(d civil.Date) *law.Weather {
			w := &law.Weather{Alerts: AlertsOn(all, d)}
			if inches := 2.0; d == rainOn {
				w.ForecastRainIn24h = &inches
			}
			if rainOn != 0 && d == rainOn+1 {
				w.Ground = []string{"snow"}
			}
			return w
		})
		for _, m := range z.Closures(z.Places[0].Homeowner["N"]) {
			slot := func(name string) message.Value { v, _ := m.Slot(name); return v }
			line := m.Code
			for _, d := range slot("days").Dates {
				line += fmt.Sprintf(" %d", int(d-issue29))
			}
			if m.Code == "law.closed_alert" {
				until := slot("until").Message
				at, _ := until.Slot("day")
				line += fmt.Sprintf(" %s %s %d", slot("alert").Text, until.Code, int(at.First-issue29))
				if clock, ok := until.Slot("time"); ok {
					line += fmt.Sprintf(" %v", clock.Number)
				}
			}
			out = append(out, line)
		}
		return out
	}
	open := alert("Flood Watch", 1, 2.5)
	open.Open = true
	openToMidnight := alert("Flood Watch", 1, 3)
	openToMidnight.Open = true
	for _, c := range []struct {
		name   string
		rainOn civil.Date
		all    []weather.Alert
		want   []string
	}{
		{"none", 0, nil, nil},
		{"until noon", 0, []weather.Alert{alert("Flood Watch", 1, 3.5)}, []string{"law.closed_alert 1 2 3 Flood Watch alert_until.at 3 720"}},
		{"until midnight", 0, []weather.Alert{alert("Flood Watch", 1, 3)}, []string{"law.closed_alert 1 2 Flood Watch alert_until.through 2"}},
		{"until further notice", 0, []weather.Alert{open}, []string{"law.closed_alert 1 2 Flood Watch alert_until.open 2 720"}},
		{"until further notice, its message through midnight", 0, []weather.Alert{openToMidnight}, []string{"law.closed_alert 1 2 Flood Watch alert_until.open 3 0"}},
		{"two of them", 0, []weather.Alert{alert("Hurricane Watch", 2, 4.5), alert("Flood Watch", 1, 3.5)},
			[]string{"law.closed_alert 1 Flood Watch alert_until.at 3 720", "law.closed_alert 2 3 4 Hurricane Watch alert_until.at 4 720"}},
		{"one twice", 0, []weather.Alert{alert("Flood Watch", 4, 5.5), alert("Flood Watch", 1, 1.5)},
			[]string{"law.closed_alert 1 Flood Watch alert_until.at 1 720", "law.closed_alert 4 5 Flood Watch alert_until.at 5 720"}},
		{"and rain, and then snow", issue29 + 3, []weather.Alert{alert("Flood Watch", 1, 2.5)}, []string{"law.closed_alert 1 2 Flood Watch alert_until.at 2 720", "law.closed_rain 3", "law.closed_rule 4"}},
		{"over before the week", 0, []weather.Alert{alert("Flood Watch", 0, 1)}, nil},
		{"of what it does not name", 0, []weather.Alert{alert("Flood Warning", 1, 3)}, nil},
	} {
		assert.Equal(t, c.want, told(c.rainOn, c.all...), c.name)
	}
	require.Empty(t, AlertsOn([]weather.Alert{alert("Flood Watch", 1, 2)}, issue29+2))
}
