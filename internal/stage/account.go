package stage

import (
	"slices"

	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/pest"
	"ligule/internal/turf"
	"ligule/internal/weather"
)

// Account is what is told alike of a weed and of an insect, as a field guide
// does: what it is, where it grows or feeds, what keeps it down without
// chemicals, and how far along it is.
type Account struct {
	ID         string // the name of its file
	Name       string
	Also       []string // other names, and the species of a group
	Botanical  []string // scientific names, zoological ones too
	LifeCycle  string
	About      string
	Look       string               // where and how to look for it
	Confidence string               // in its timing: "high", "medium" or "low"
	Weekly     bool                 // it speaks in the weekly advice; else it has a page only
	LookAlikes []pest.Cited[string] // what it is mistaken for, and how to tell
	Cultural   []string             // the first step first
	Feeding    []string             // what of it has the reader feed
	Worth      string               // when treatment is worth it
	Caution    string
	Timings    []Timing
	Range      pest.Range
	Cites      []turf.Cite // all of its file

	pest.Hosts
}

// TimingAt returns the first timing that is valid at the station and not for
// comparison only, or nil.
func (a *Account) TimingAt(s weather.Station) *Timing {
	for i := range a.Timings {
		if t := &a.Timings[i]; !t.Compare && t.Region.Contains(s) {
			return t
		}
	}
	return nil
}

// ProgressAt returns how far it has come on the last day before the issue, with
// the first timing valid at the station.
func (a *Account) ProgressAt(f *weather.Felt, issue civil.Date) Progress {
	switch t := a.TimingAt(f.View.Station); {
	case t != nil:
		return t.progress(f, issue)
	case len(a.Timings) == 0:
		return Progress{Invalid: pest.InvalidNoModel}
	}
	return Progress{Invalid: pest.InvalidRegion}
}

// readAccount reads what weeds and insects have in common.
func readAccount(id string, file *pest.File) Account {
	t := file.Table
	if !diag.IsID(id) {
		t.Errorf("", "name it with lower-case words joined by hyphens", "the file's name %q is not an id", id)
	}
	a := Account{
		ID: id, Name: t.Text("name"), Also: t.Texts("also", false), Botanical: t.Texts("botanical", true),
		LifeCycle: t.Text("life_cycle"), About: t.Text("about"), Look: t.Text("look"),
		Confidence: t.One("confidence", "high", "medium", "low"),
		Weekly:     !t.Bool("page_only"),
		Cultural:   t.Texts("cultural", true), Feeding: t.Texts("feeding", false), Worth: t.Text("worth"), Caution: t.OptText("caution"),
	}
	if len(a.Botanical) == 0 {
		t.Errorf("botanical", "name a species", "empty")
	}
	if len(a.Cultural) == 0 {
		t.Errorf("cultural", "say what helps without chemicals", "empty")
	}
	for _, alike := range t.Tables("look_alike") {
		file.Figures("look_alike", alike, func(f *pest.Figures) {
			a.LookAlikes = append(a.LookAlikes, pest.Cited[string]{Value: f.Text("say"), Cite: f.Cite})
		})
	}
	readTextCites(file)
	if hosts := t.Table("hosts", true); hosts != nil && file.Like("hosts", hosts) {
		file.Figures("hosts", hosts, func(f *pest.Figures) { a.Hosts = pest.ReadHosts(f) })
	}
	a.Range = pest.ReadRange(file)
	for _, m := range t.Tables("model") {
		a.Timings = append(a.Timings, readTiming(file, m))
	}
	if a.Weekly && !slices.ContainsFunc(a.Timings, func(m Timing) bool { return !m.Compare }) {
		t.Errorf("model", "add [[model]], or page_only = true", "the weekly advice needs a model")
	}
	return a
}

// readTextCites reads the sources of the prose: [[text]] tables with a source, its
// standing and in a note what was taken.
func readTextCites(file *pest.File) {
	texts := file.Tables("text")
	for _, c := range texts {
		file.Cites = append(file.Cites, turf.ReadCite("text", c))
		c.Close()
	}
	if len(texts) == 0 {
		file.Errorf("text", "add [[text]] with source and standing", "nothing says where the text comes from")
	}
}

// stageIDs returns the ids of the stages of all timings.
func (a *Account) stageIDs() []string {
	var ids []string
	for _, m := range a.Timings {
		for _, s := range m.Stages {
			ids = append(ids, s.ID)
		}
	}
	return ids
}

// readStages reads which stages something fits.
func (a *Account) readStages(t *diag.Table) []string {
	stages, known := t.Texts("stages", true), a.stageIDs()
	for _, s := range stages {
		if !slices.Contains(known, s) {
			t.Errorf("stages", diag.DidYouMean(s, known), "no stage %q", s)
		}
	}
	return stages
}

// ValidFor tells in words where its timings were found; "" where it has none but
// for comparison.
func (a *Account) ValidFor() string {
	for _, t := range a.Timings {
		if !t.Compare {
			return t.ValidFor
		}
	}
	return ""
}
