package stage

import (
	"testing"

	"github.com/stretchr/testify/require"

	"ligule/internal/pest"
	"ligule/internal/pesttest"
	"ligule/internal/turf"
	"ligule/internal/weather"
)

// weeks are the grades of all issues of the years of f, a week apart, where it is no
// minor pest and nothing is on record of it: of what [Timing.progress] says.
func (a *Account) weeks(f *weather.Felt) []pest.WeekGrade {
	t := a.TimingAt(f.View.Station)
	if t == nil || !a.Weekly || !a.Range.Holds(&pest.Input{Felt: f, Grass: &turf.Profile{}, Issue: f.View.IssueDate}) {
		return nil
	}
	var out []pest.WeekGrade
	began := make([]entry, len(t.Stages))
	var w walk
	for i := range f.View.Days.Len() {
		d := f.Start.AddDays(i)
		if start := t.seasonStart(d); i == 0 || d == start {
			w = newWalk(t, f, start, began)
		}
		if w.step(d); i%pest.WeekDays == pest.WeekDays-1 {
			p := w.stands(d)
			out = append(out, pest.WeekGrade{Issue: d.AddDays(1), Grade: p.level(), Known: p.Known})
		}
	}
	return out
}

// What the grades of all years come to, and the seasons that are printed for such a
// place: of insects those in which there is something to look for.
func TestPublishedSeasonsOverYears(t *testing.T) {
	g := pesttest.NewGolden()
	insects, weeds := demoInsects(t), demoWeeds(t)
	crabgrass := demoWeed(t, "crabgrass")
	for _, s := range pesttest.Stations() {
		f := s.Felt(t)
		for _, i := range insects {
			g.Add(s.ID, i.ID, "", i.weeks(f))
		}
		for _, w := range weeds {
			g.Add(s.ID, w.ID, "", w.weeks(f))
		}
	}
	g.Check(t)
	t.Run("Ramsey 2021: crabgrass dies at the frost of October", func(t *testing.T) {
		f := norfolk(t)
		m := crabgrass.TimingAt(f.View.Station)
		for i, at := range m.Trace(f) {
			if month := f.Start.AddDays(i).Month(); at >= 0 && (month == 12 || month <= 1) {
				require.Contains(t, []string{"early", "open", "late", "over"}, m.Stages[at].ID, "%s", f.Start.AddDays(i))
			}
		}
	})
	// What is printed without exception: no armyworms before they have flown in, no
	// counts of chinch bugs in north Florida before May, no nutsedge to spray in the
	// plains before mid-May nor from July on.
	g.Never(t, "monroe-nc", "fall-armyworm", "", pest.Watch, 1, 2, 3, 4)
	g.Never(t, "kingfisher-ok", "fall-armyworm", "", pest.Watch, 1, 2, 3, 4)
	g.Never(t, "baton-rouge-la", "southern-chinch-bug", "", pest.Act, 1, 2, 3, 4)
	g.Never(t, "seward-ne", "yellow-nutsedge", "", pest.Act, 1, 2, 3, 4, 8, 9, 10, 11, 12)
	g.Test(t, []pesttest.Print{
		{Station: "seward-ne", Pest: "bluegrass-billbug", Months: "qqsAAAAAAAsq", Source: "Michigan State (Kennedy)"},
		{Station: "ithaca-ny", Pest: "bluegrass-billbug", Months: "qqqqsAAAsqqq", Source: "UMass, billbugs"},
		{Station: "new-brunswick-nj", Pest: "bluegrass-billbug", Months: "qqqsssAAsqqq", Source: "Ohio HYG-2502; Virginia 444-040"},
		{Station: "monroe-nc", Pest: "fall-armyworm", Months: "qqqqsAAAAAAs", Source: "Clemson, armyworms"},
		{Station: "kingfisher-ok", Pest: "fall-armyworm", Months: "qqqqqsAAAAsq", Source: "Oklahoma State, quoted 2025; Arkansas", Warns: true},
		{Station: "ithaca-ny", Pest: "hairy-chinch-bug", Months: "qqqqssAAAsqq", Source: "Albany; UMass, chinch bugs"},
		{Station: "laurel-md", Pest: "hairy-chinch-bug", Months: "qqqqssAAsqqq", Source: "Penn State, chinch bugs", Warns: true},
		{Station: "jackson-tn", Pest: "hunting-billbug", Months: "ssAAAsssAAAs", Source: "Arkansas 2007"},
		{Station: "monroe-nc", Pest: "imported-fire-ants", Months: "ssAAAsssAAAs", Source: "UGA newswire"},
		{Station: "liberty-tx", Pest: "imported-fire-ants", Months: "ssAAAAssAAss", Source: "AgriLife, fire ants this spring"},
		{Station: "baton-rouge-la", Pest: "mole-crickets", Months: "ssAAAAAAAAss", Source: "UF, tawny mole cricket"},
		{Station: "baton-rouge-la", Pest: "southern-chinch-bug", Months: "qsAAAAAAAAAs", Source: "University of Florida, north Florida", Warns: true},
		{Station: "everglades-fl", Pest: "southern-chinch-bug", Months: "AAAAAAAAAAAA", Source: "University of Florida, south Florida", Warns: true},
		{Station: "laurel-md", Pest: "temperate-sod-webworm", Months: "qqqsAAAAAsqq", Source: "Maryland HG 63, 2012"},
		{Station: "baton-rouge-la", Pest: "tropical-sod-webworm", Months: "qqsAAAAAAAAs", Source: "UF/IFAS Nassau 2017"},
		{Station: "monroe-nc", Pest: "two-lined-spittlebug", Months: "qqsAAAAAAsqq", Source: "Hudson, UGA; Macon 2013"},
		{Station: "baton-rouge-la", Pest: "two-lined-spittlebug", Months: "qqqqsAAAsqqq", Source: "Alabama ANR-170"},
		{Station: "seward-ne", Pest: "white-grubs", Months: "qqqsssssAAsq", Source: "Iowa State 2007"},
		{Station: "ithaca-ny", Pest: "white-grubs", Months: "qqqsssssAAsq", Source: "Iowa State 2007"},
		{Station: "liberty-tx", Pest: "white-grubs", Months: "qqssssAAAsqq", Source: "Texas A&M, grubs; AgriLife 2018"},
	})
}
