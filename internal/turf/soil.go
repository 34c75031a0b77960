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
