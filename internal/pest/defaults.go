package pest

import (
	"ligule/internal/diag"
	"ligule/internal/turf"
)

// Defaults is what the files of several pests say alike, once: a table for each
// kind of pest, whose tables a pest's file lies over. The nil Defaults has none.
type Defaults struct{ root *diag.Table }

// ReadDefaults reads the file of defaults. What its tables hold is checked where
// a pest takes it.
func ReadDefaults(root *diag.Table) *Defaults { return &Defaults{root} }

// Of is the table of a kind of pest, "disease", or nil.
func (d *Defaults) Of(kind string) *diag.Table {
	if d == nil {
		return nil
	}
	return d.root.Table(kind, false)
}

// Close records every default that no pest takes. It is for when all are read.
func (d *Defaults) Close() {
	if d != nil {
		d.root.CloseTaken()
	}
}

// Default is the default of the name for a block of the kind, or nil: the table
// [disease.placement.leaf], or [disease.rotation] where the name is "".
func (f *File) Default(block, name string) *diag.Table {
	if f.Defaults == nil {
		return nil
	}
	t := f.Defaults.Table(block, false)
	switch {
	case t == nil || name == "":
		return t
	case !t.Has(name):
		return nil
	}
	return t.Table(name, false)
}

// Like lays a table over the default that it names, like = "leaf", if it does. It
// is false where there is no such default: then the table is not to be read.
func (f *File) Like(block string, t *diag.Table) bool {
	name := t.OptText("like")
	if name == "" {
		return true
	}
	if base := f.Default(block, name); base != nil {
		t.Over(base)
		return true
	}
	var names []string
	if all := f.Default(block, ""); all != nil {
		names = all.Keys()
	}
	t.Errorf("like", diag.DidYouMean(name, names), "there is no default %s %q", block, name)
	return false
}

// Prose lays the file over a default for the keys, which hold text.
func (f *File) Prose(base *diag.Table, keys ...string) {
	if base == nil {
		return
	}
	f.Over(base, keys...)
	for _, key := range keys {
		if f.Repeats(key) {
			repeated(f.Table, key)
		}
	}
}

// Said reads where a text comes from, [water], which may lie over a default.
func (f *File) Said(section string, t *diag.Table) turf.Cite {
	c, sourced := readCite(section, t)
	f.Cites = append(f.Cites, c)
	if t.Base() == nil {
		return c
	}
	for _, key := range t.Keys() {
		if t.Repeats(key) && (key != "source" && key != "standing" || t.Repeats("source") && t.Repeats("standing")) {
			repeated(t, key)
		}
	}
	if t.Writes("say") && !sourced {
		t.Errorf("say", "add source and standing", "%q was not read in the source of the default", "say")
	}
	return c
}
