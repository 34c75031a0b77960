package pest

import (
	"maps"
	"slices"

	"ligule/internal/diag"
)

// The ranks of a host.
const (
	NoHost     = 0
	MinorHost  = 1
	CommonHost = 2
	MainHost   = 3
)

// Hosts tells how much each grass suffers from a pest.
type Hosts struct{ ranks map[string]Cited[int] }

// Host returns the rank of a grass: 3 main host or major weed, 2 common, 1
// occasional, 0 not; told is false where the file does not say.
func (h Hosts) Host(grass string) (rank int, told bool) {
	r, told := h.ranks[grass]
	return r.Value, told
}

// Rank is the rank of a grass with where it comes from.
func (h Hosts) Rank(grass string) Cited[int] { return h.ranks[grass] }

// Grasses returns the ids of the grasses that the file names, in order.
func (h Hosts) Grasses() []string {
	return slices.Sorted(maps.Keys(h.ranks))
}

// ReadHosts reads the table of hosts: grass ids with their ranks.
func ReadHosts(f *Figures) Hosts {
	h := Hosts{map[string]Cited[int]{}}
	any := false
	for _, grass := range slices.Concat(f.Keys(), f.Base().Keys()) {
		if slices.Contains(citeKeys, grass) {
			continue
		}
		cite := f.CiteOf(grass)
		if !diag.IsID(grass) {
			f.Errorf(grass, "an id is lower-case words joined by hyphens", "%q is not the id of a grass", grass)
		}
		rank := f.Int(grass)
		if rank < NoHost || rank > MainHost {
			f.Errorf(grass, "use 0 (not), 1 (occasional), 2 (common) or 3 (main host)", "%d is no rank", rank)
			continue
		}
		h.ranks[grass] = Cited[int]{rank, cite}
		any = any || rank > NoHost
	}
	if !any {
		f.Errorf("", "add the grasses with ranks 0 to 3", "it has no host")
	}
	return h
}
