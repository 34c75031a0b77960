package workspace

import (
	"cmp"
	"errors"
	"io/fs"
	"path"
	"slices"
	"strings"
	"time"

	"ligule/internal/advice"
	"ligule/internal/diag"
	"ligule/internal/law"
	"ligule/internal/turf"
	"ligule/internal/voice"
)

// Load reads the whole workspace. Mistakes go to the list, all of them; the
// workspace returned is for use only if there are no errors among them. The
// declared phrases are those of the book that the program was made with, as a
// TOML file: the author's must have the same.
func Load(fsys fs.FS, declared []byte, list *diag.List) *Workspace {
	ws := &Workspace{FS: fsys}
	l := &loader{ws: ws, list: list, declared: declared, clock: time.UTC}
	l.site()
	l.sources()
	l.climates()
	l.stations()
	l.grasses()
	l.calendars()
	l.pests()
	l.advice()
	l.law()
	l.zones()
	l.alerts()
	l.logs()
	l.standing()
	l.weeks()
	l.references()
	return ws
}

// loader carries what the parts of Load share.
type loader struct {
	ws       *Workspace
	list     *diag.List
	declared []byte // phrases
	ruleRefs []ruleFile
	classes  *diag.Table    // the file of ingredients, whose classes have cautions; nil for none
	clock    *time.Location // of the site; UTC if it names none
}

type ruleFile struct {
	file  string
	rules []*advice.Rule
}

// toml reads a file that must be there.
func (l *loader) toml(file string) (*diag.Table, bool) {
	if !l.exists(file) {
		l.list.Errorf(diag.Pos{File: file}, "write it; the demonstration workspace has one to start from", "the file is missing")
		return nil, false
	}
	return l.optTOML(file)
}

// optTOML reads a file that may be absent.
func (l *loader) optTOML(file string) (*diag.Table, bool) {
	if !l.exists(file) {
		return nil, false
	}
	text, ok := l.read(file)
	if !ok {
		return nil, false
	}
	return diag.ReadTOML(file, text, l.list)
}

func (l *loader) exists(file string) bool {
	_, err := fs.Stat(l.ws.FS, file)
	return !errors.Is(err, fs.ErrNotExist)
}

func (l *loader) read(file string) ([]byte, bool) {
	text, err := fs.ReadFile(l.ws.FS, file)
	if err != nil {
		l.list.Errorf(diag.Pos{File: file}, "", "cannot be read: %v", err)
	}
	return text, err == nil
}

// entries lists what is in a folder. A missing folder is empty. Files and folders
// that start with a dot are not the author's.
func (l *loader) entries(folder string) []fs.DirEntry {
	entries, err := fs.ReadDir(l.ws.FS, folder)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		l.list.Errorf(diag.Pos{File: folder}, "", "cannot be read: %v", err)
	}
	return slices.DeleteFunc(entries, func(e fs.DirEntry) bool { return strings.HasPrefix(e.Name(), ".") })
}

// files lists the files of a folder that end in ext, sorted by name. Everything
// else is a mistake: a file that is never read would be silently ignored.
func (l *loader) files(folder, ext string) []string {
	var out []string
	for _, e := range l.entries(folder) {
		name := path.Join(folder, e.Name())
		if e.IsDir() || path.Ext(e.Name()) != ext {
			l.list.Errorf(diag.Pos{File: name}, "only files that end in "+ext+" are read here; move it or rename it", "not read")
			continue
		}
		out = append(out, name)
	}
	return out
}

// id returns the id that a file's name spells, and records one that is none.
func (l *loader) id(file string) string {
	id := strings.TrimSuffix(path.Base(file), path.Ext(file))
	if !diag.IsID(id) {
		l.list.Errorf(diag.Pos{File: file}, "name it with lower-case words joined by hyphens", "the file's name is not an id")
	}
	return id
}

func (l *loader) grasses() {
	for _, file := range l.files("data/grasses", ".toml") {
		if t, ok := l.toml(file); ok {
			p := turf.ReadProfile(l.id(file), t)
			l.cites(p.Cites)
			l.ws.Grasses = append(l.ws.Grasses, p)
		}
	}
}

// source checks that an id is in the bibliography.
func (l *loader) source(pos diag.Pos, id string) {
	if id != "" && id != turf.CommonPractice && id != turf.OwnDesign {
		l.refer(pos, "source", id, l.ws.sourceIDs(), "add it to data/sources.toml")
	}
}

// refer reports whether what a file refers to is known, and records it if not;
// remedy is what would do where no known id is near.
func (l *loader) refer(pos diag.Pos, kind, id string, known []string, remedy string) bool {
	if slices.Contains(known, id) {
		return true
	}
	l.list.Errorf(pos, cmp.Or(diag.DidYouMean(id, known), remedy), "there is no %s %q", kind, id)
	return false
}

// unique records an id that others of its kind have already.
func (l *loader) unique(t *diag.Table, kind, id string, others []string) {
	if id != "" && slices.Contains(others, id) {
		t.Errorf("id", "give each "+kind+" its own id", "the id %q is used twice", id)
	}
}

func (l *loader) advice() {
	const indicators, phrases, cautions, conflicts = "data/indicators.toml", "data/phrases.toml", "data/cautions.toml", "data/conflicts.toml"
	if t, ok := l.toml(indicators); ok {
		l.ws.Catalogue = advice.ReadCatalogue(t)
		for _, ind := range l.ws.Catalogue.All() {
			l.source(t.Pos(ind.Name+".source"), ind.Source)
		}
	}
	if t, ok := l.toml(phrases); ok {
		l.ws.Phrases = voice.ReadBook(t)
		l.phrases(phrases, t)
	}
	if t, ok := l.toml(cautions); ok {
		l.ws.Cautions = advice.ReadCautions(t)
		t.Close()
	}
	if t, ok := l.toml("data/bags.toml"); ok {
		l.ws.Bags = advice.ReadBags(t)
	}
	if l.ws.Catalogue == nil {
		return
	}
	seen := map[string]*advice.Rule{}
	refer := func(file string, rules []*advice.Rule) {
		l.ruleRefs = append(l.ruleRefs, ruleFile{file, rules})
		for _, r := range rules {
			if first := seen[r.ID]; first != nil && r.ID != "" {
				l.list.Errorf(r.Pos, "give each rule its own id", "the id %q is already used in %s:%d", r.ID, first.Pos.File, first.Pos.Line)
			}
			seen[r.ID] = r
			l.source(r.Pos, r.Source)
		}
	}
	for _, file := range l.files("data/rules", ".toml") {
		if t, ok := l.toml(file); ok {
			rules := advice.ReadRules(t, l.ws.Catalogue, l.ws.Pests)
			refer(file, rules)
			l.ws.Rules = append(l.ws.Rules, rules...)
		}
	}
	if t, ok := l.toml(conflicts); ok {
		l.ws.Conflicts = advice.ReadConflicts(t, l.ws.Catalogue, l.ws.Pests)
		var rules []*advice.Rule
		for _, k := range l.ws.Conflicts {
			rules = append(rules, k.Rule)
		}
		refer(conflicts, rules)
	}
	slices.SortStableFunc(l.ws.Rules, func(a, b *advice.Rule) int { return strings.Compare(a.ID, b.ID) })
}

// phrases holds the author's phrase book to the one that the program was made
// with, and the language of the site to that of the book.
func (l *loader) phrases(file string, t *diag.Table) {
	book := l.ws.Phrases
	if d, ok := diag.ReadTOML(file, l.declared, new(diag.List)); ok {
		book.Check(file, voice.ReadBook(d), l.list)
	}
	if site := l.ws.Site.Language; site != "" && book.Language != "" && site != book.Language {
		l.list.Errorf(t.Pos("language"), "write the site's language there, and the phrases in it", "the site is in %q, the phrases are in %q", site, book.Language)
	}
}

// references checks what one file says of another and could not be checked
// while it was read.
func (l *loader) references() {
	l.classesOf()
	grassWords := append(l.ws.grassIDs(), string(turf.WarmSeason), string(turf.CoolSeason))
	climates := l.ws.climateIDs()
	guides := idsOf(l.ws.Standing, func(p *Page) string { return p.ID })
	for _, rf := range l.ruleRefs {
		for _, r := range rf.rules {
			for _, g := range r.Grasses {
				l.refer(r.Pos, "grass or kind", g, grassWords, "")
			}
			for _, c := range r.Climates {
				l.refer(r.Pos, "climate", c, climates, "")
			}
			if r.More != "" {
				l.refer(r.Pos, "standing article", r.More, guides, "write content/standing/"+r.More+".md")
			}
		}
	}
}

// Source finds an entry of the bibliography.
func (ws *Workspace) Source(id string) (Source, bool) {
	return find(ws.Sources, func(s Source) bool { return s.ID == id })
}

// Body finds a jurisdiction by id.
func (ws *Workspace) Body(id string) (law.Jurisdiction, bool) {
	return find(ws.Places, func(j law.Jurisdiction) bool { return j.ID == id })
}

// Grass finds a grass by id.
func (ws *Workspace) Grass(id string) (*turf.Profile, bool) {
	return find(ws.Grasses, func(p *turf.Profile) bool { return p.ID == id })
}

// Station finds a station by id.
func (ws *Workspace) Station(id string) (*Station, bool) {
	i := slices.IndexFunc(ws.Stations, func(s Station) bool { return s.ID == id })
	if i < 0 {
		return nil, false
	}
	return &ws.Stations[i], true
}

// Zone finds a zone by id.
func (ws *Workspace) Zone(id string) (*Zone, bool) {
	return find(ws.Zones, func(z *Zone) bool { return z.ID == id })
}

// ClimateName returns the name of a climate belt.
func (ws *Workspace) ClimateName(id string) string {
	if c, ok := find(ws.Climates, func(c Climate) bool { return c.ID == id }); ok {
		return c.Name
	}
	return id
}

// find returns the first of a list that is what is sought.
func find[T any](list []T, is func(T) bool) (found T, ok bool) {
	if i := slices.IndexFunc(list, is); i >= 0 {
		return list[i], true
	}
	return found, false
}

// idsOf lists the ids of a list, in its order.
func idsOf[T any](list []T, id func(T) string) []string {
	ids := make([]string, len(list))
	for i, x := range list {
		ids[i] = id(x)
	}
	return ids
}

func (ws *Workspace) bodyIDs() []string {
	return idsOf(ws.Places, func(j law.Jurisdiction) string { return j.ID })
}
func (ws *Workspace) climateIDs() []string {
	return idsOf(ws.Climates, func(c Climate) string { return c.ID })
}
func (ws *Workspace) grassIDs() []string {
	return idsOf(ws.Grasses, func(p *turf.Profile) string { return p.ID })
}
func (ws *Workspace) sourceIDs() []string {
	return idsOf(ws.Sources, func(s Source) string { return s.ID })
}
func (ws *Workspace) stationIDs() []string {
	return idsOf(ws.Stations, func(s Station) string { return s.ID })
}
func (ws *Workspace) zoneIDs() []string { return idsOf(ws.Zones, func(z *Zone) string { return z.ID }) }
