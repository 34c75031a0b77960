package season

import (
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/turf"
	"ligule/internal/weather"
)

// demoStation is a station of the demonstration, with the weather of its file.
type demoStation struct {
	weather.Station
	records *weather.Series
}

func demoStations(t testing.TB) []demoStation {
	out := []demoStation{
		{Station: weather.Station{ID: "gannet-light", LatitudeDeg: 33.4, ElevationM: 4, Coastal: true}},
		{Station: weather.Station{ID: "ellerwade-lock", LatitudeDeg: 34.2, ElevationM: 12, Obs: []weather.ObsPeriod{{Time: weather.Morning}}}},
		{Station: weather.Station{ID: "sabrey-field", LatitudeDeg: 34.9, ElevationM: 125}},
		{Station: weather.Station{ID: "redfallow-farm", LatitudeDeg: 35.5, ElevationM: 210, Obs: []weather.ObsPeriod{{Time: weather.Morning}, {From: civil.MustDate(2021, 5, 1), Time: weather.Midnight}}}},
		{Station: weather.Station{ID: "larkenhold-mill", LatitudeDeg: 35.9, ElevationM: 360}},
		{Station: weather.Station{ID: "brackmoor-knob", LatitudeDeg: 36.3, ElevationM: 970}},
	}
	for i := range out {
		file := "../../data/weather/" + out[i].ID + "/daily.csv"
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		var list diag.List
		out[i].records = weather.ReadDaily(file, text, &list)
		require.NoError(t, list.Err())
	}
	return out
}

// pressing is what six zones of five grasses need for one issue: the window
// readings of a whole calendar each.
func pressing(t testing.TB) (grasses []*turf.Profile, calendars []*Calendar) {
	for _, c := range []struct{ climate, grass string }{
		{"coast", "zoysia"}, {"coast", "bermuda"}, {"coast", "centipede"}, {"coast", "st-augustine"}, {"piedmont", "tall-fescue"},
	} {
		grasses = append(grasses, grass(t, c.grass))
		calendars = append(calendars, demoCalendar(t, c.climate, c.grass))
	}
	return grasses, calendars
}

// BenchmarkIssue is all of an issue's seasons, after its weather: six zones,
// five grasses each, every window of their calendars.
func BenchmarkIssue(b *testing.B) {
	var felt []*weather.Felt
	for _, s := range demoStations(b) {
		felt = append(felt, weather.AsOf(s.Station, s.records, nil, s.records.End()+1).Felt())
	}
	grasses, calendars := pressing(b)
	b.ReportAllocs()
	for b.Loop() {
		for _, f := range felt {
			r := NewRecord(f)
			for i, p := range grasses {
				r.Lawn(p).Windows(calendars[i])
			}
		}
	}
}

// BenchmarkReplayYear is the seasons of 52 issues of six zones of five grasses,
// with the weather of each as of that week: a replay takes ten of these.
func BenchmarkReplayYear(b *testing.B) {
	stations := demoStations(b)
	grasses, calendars := pressing(b)
	b.ReportAllocs()
	for b.Loop() {
		for _, s := range stations {
			for week := range 52 {
				r := NewRecord(weather.AsOf(s.Station, s.records, nil, s.records.End().AddDays(-7*week)).Felt())
				for i, p := range grasses {
					r.Lawn(p).Windows(calendars[i])
				}
			}
		}
	}
}

// BenchmarkRecord is the ensemble of one station with 37 past years.
func BenchmarkRecord(b *testing.B) {
	f := norfolk.felt(b)
	b.ReportAllocs()
	for b.Loop() {
		NewRecord(f)
	}
}

// BenchmarkLawn takes one grass through it.
func BenchmarkLawn(b *testing.B) {
	r := NewRecord(norfolk.felt(b))
	p := grass(b, "zoysia")
	b.ReportAllocs()
	for b.Loop() {
		r.Lawn(p)
	}
}

// BenchmarkNormals is the normals of one quantity over 30 years, of every week.
func BenchmarkNormals(b *testing.B) {
	f := norfolk.felt(b)
	b.ReportAllocs()
	for b.Loop() {
		for d := civil.MustDate(2011, 1, 1); d.Year() == 2011; d += 7 {
			NormalOn(f.Start, f.TmeanC, 1981, 2010, d)
		}
	}
}
