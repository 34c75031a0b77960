package pest

import (
	"slices"

	"ligule/internal/diag"
	"ligule/internal/turf"
)

// Default is the default of the name for a block of the kind, or nil: the table
// [disease.placement.leaf], or [disease.rotation] where the name is "".
func (f *File) Default(block, name string) *diag.Table {
	t := f.Defaults.Table(block, false)
	switch {
	case name == "":
		return t
	case !slices.Contains(t.Keys(), name):
		return nil
	}
	return t.Table(name, false)
}

// Like is [diag.Table.Like] for a block, "placement".
func (f *File) Like(block string, t *diag.Table) bool {
	return t.Like(block, f.Default(block, ""))
}

// Prose lays the file over a default for the keys, which hold text.
func (f *File) Prose(base *diag.Table, keys ...string) {
	if base == nil {
		return
	}
	f.Over(base, keys...)
	f.TellRepeats(keys...)
}

// Said reads where a text comes from, [water], which may lie over a default.
func (f *File) Said(section string, t *diag.Table) turf.Cite {
	c := turf.ReadCiteOver(section, t, "say")
	f.Cites = append(f.Cites, c)
	return c
}
