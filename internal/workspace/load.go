package workspace

import (
	"errors"
	"io/fs"
	"path"
	"slices"
	"strings"
	"time"

	"ligule/internal/advice"
	"ligule/internal/diag"
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
	text, err := fs.ReadFile(l.ws.FS, file)
	if errors.Is(err, fs.ErrNotExist) {
		l.list.Errorf(diag.Pos{File: file}, "write it; the demonstration workspace has one to start from", "the file is missing")
		return nil, false
	}
	if err != nil {
		l.list.Errorf(diag.Pos{File: file}, "", "cannot be read: %v", err)
		return nil, false
	}
	return diag.ReadTOML(file, text, l.list)
}

// files lists the files of a folder that end in ext, sorted by name. A missing
// folder is empty. Files and folders that start with a dot are not the
// author's. Everything else that does not end in ext is a mistake: a file that
// is never read would be silently ignored.
func (l *loader) files(folder, ext string) []string {
	entries, err := fs.ReadDir(l.ws.FS, folder)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		l.list.Errorf(diag.Pos{File: folder}, "", "cannot be read: %v", err)
	}
	var out []string
	for _, e := range entries {
		name := path.Join(folder, e.Name())
		switch {
		case strings.HasPrefix(e.Name(), "."):
		case e.IsDir() || path.Ext(e.Name()) != ext:
			l.list.Errorf(diag.Pos{File: name}, "only files that end in "+ext+" are read here; move it or rename it", "not read")
		default:
			out = append(out, name)
		}
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
	if id == "" || id == turf.CommonPractice || id == turf.OwnDesign {
		return
	}
	if _, ok := l.ws.Source(id); !ok {
		l.list.Errorf(pos, or(diag.DidYouMean(id, l.ws.sourceIDs()), "add it to data/sources.toml"), "there is no source %q", id)
	}
}

func or(a, b string) string {
	if a != "" {
		return a
	}
	return b
}

func (l *loader) advice() {
	const indicators, phrases, cautions = "data/indicators.toml", "data/phrases.toml", "data/cautions.toml"
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
	for _, file := range l.files("data/rules", ".toml") {
		t, ok := l.toml(file)
		if !ok {
			continue
		}
		rules := advice.ReadRules(t, l.ws.Catalogue, l.ws.Pests)
		l.ruleRefs = append(l.ruleRefs, ruleFile{file, rules})
		for _, r := range rules {
			if first := seen[r.ID]; first != nil && r.ID != "" {
				l.list.Errorf(r.Pos, "give each rule its own id", "the id %q is already used in %s:%d", r.ID, first.Pos.File, first.Pos.Line)
			}
			seen[r.ID] = r
			l.source(r.Pos, r.Source)
		}
		l.ws.Rules = append(l.ws.Rules, rules...)
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
	var climates []string
	grassWords := append(l.grassIDs(), string(turf.WarmSeason), string(turf.CoolSeason))
	for _, c := range l.ws.Climates {
		climates = append(climates, c.ID)
	}
	var guides []string
	for _, p := range l.ws.Standing {
		guides = append(guides, p.ID)
	}
	for _, rf := range l.ruleRefs {
		for _, r := range rf.rules {
			for _, g := range r.Grasses {
				if !slices.Contains(grassWords, g) {
					l.list.Errorf(r.Pos, diag.DidYouMean(g, grassWords), "there is no grass or kind %q", g)
				}
			}
			for _, c := range r.Climates {
				if !slices.Contains(climates, c) {
					l.list.Errorf(r.Pos, diag.DidYouMean(c, climates), "there is no climate %q", c)
				}
			}
			if r.More != "" && !slices.Contains(guides, r.More) {
				l.list.Errorf(r.Pos, or(diag.DidYouMean(r.More, guides), "write content/standing/"+r.More+".md"), "there is no standing article %q", r.More)
			}
		}
	}
}

// Source finds an entry of the bibliography.
func (ws *Workspace) Source(id string) (Source, bool) {
	i := slices.IndexFunc(ws.Sources, func(s Source) bool { return s.ID == id })
	if i < 0 {
		return Source{}, false
	}
	return ws.Sources[i], true
}

func (ws *Workspace) sourceIDs() []string {
	ids := make([]string, len(ws.Sources))
	for i, s := range ws.Sources {
		ids[i] = s.ID
	}
	return ids
}

// Grass finds a grass by id.
func (ws *Workspace) Grass(id string) (*turf.Profile, bool) {
	i := slices.IndexFunc(ws.Grasses, func(p *turf.Profile) bool { return p.ID == id })
	if i < 0 {
		return nil, false
	}
	return ws.Grasses[i], true
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
	i := slices.IndexFunc(ws.Zones, func(z *Zone) bool { return z.ID == id })
	if i < 0 {
		return nil, false
	}
	return ws.Zones[i], true
}

// ClimateName returns the name of a climate belt.
func (ws *Workspace) ClimateName(id string) string {
	for _, c := range ws.Climates {
		if c.ID == id {
			return c.Name
		}
	}
	return id
}
