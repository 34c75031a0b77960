package turf

import (
	"strings"

	"ligule/internal/agromet"
)

// Soil is a class of soil texture and the water it holds.
type Soil struct {
	ID            string  // "silt-loam"
	Name          string  // "Silt loam"
	FieldCapacity float64 // m³ m⁻³
	WiltingPoint  float64 // m³ m⁻³
}

// SoilByID returns the soil of a texture class.
//
// FAO-56 Table 19: the middle of the range of field capacity, and below it by
// the middle of the range of available water the wilting point. The middles of
// the table's three columns do not add up; the available water is the figure
// that the balance rests on. The wilting point so found lies in its range for
// every class.
func SoilByID(id string) (Soil, bool) {
	for _, t := range agromet.Textures() {
		if t.Name == id {
			name := strings.ReplaceAll(id, "-", " ")
			capacity := (t.FieldCapacityLow + t.FieldCapacityTop) / 2
			return Soil{
				ID:            id,
				Name:          strings.ToUpper(name[:1]) + name[1:],
				FieldCapacity: capacity,
				WiltingPoint:  capacity - t.Available(),
			}, true
		}
	}
	return Soil{}, false
}

// SoilIDs lists the texture classes from coarse to fine.
func SoilIDs() []string {
	var ids []string
	for _, t := range agromet.Textures() {
		ids = append(ids, t.Name)
	}
	return ids
}

// hydrologicGroup returns the hydrologic soil group, 'A' to 'D', of a texture.
//
// USDA Soil Conservation Service (1986), Urban Hydrology for Small Watersheds,
// Technical Release 55, Appendix A, from memory: "A" sand to sandy loam, "B"
// loam and silt loam, "C" sandy clay loam, "D" the clays and clay loams. Silt
// is not in that list; it is taken with silt loam (own design).
func (s Soil) hydrologicGroup() rune {
	switch s.ID {
	case "sand", "loamy-sand", "sandy-loam":
		return 'A'
	case "loam", "silt-loam", "silt":
		return 'B'
	}
	return 'D'
}

// curveNumber is that of a lawn in good condition.
func (s Soil) curveNumber() float64 {
	const goodCoverPct = 90
	return agromet.LawnCurveNumber(s.hydrologicGroup(), goodCoverPct)
}
