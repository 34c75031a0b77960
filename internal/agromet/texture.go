package agromet

// Texture is a class of soil texture with the ranges of its water contents,
// m³ m⁻³ (m of water per m of soil).
type Texture struct {
	Name                               string // lower case, joined by hyphens
	FieldCapacityLow, FieldCapacityTop float64
	WiltingPointLow, WiltingPointTop   float64
	AvailableLow, AvailableTop         float64
}

// Textures returns the classes from coarse to fine.
//
// FAO-56 Table 19. "Silt" has a wilting point of 0.15 in Example 36 and of
// 0.12 in Example 37: both lie in its range.
func Textures() []Texture {
	return []Texture{
		{"sand", 0.07, 0.17, 0.02, 0.07, 0.05, 0.11},
		{"loamy-sand", 0.11, 0.19, 0.03, 0.10, 0.06, 0.12},
		{"sandy-loam", 0.18, 0.28, 0.06, 0.16, 0.11, 0.15},
		{"loam", 0.20, 0.30, 0.07, 0.17, 0.13, 0.18},
		{"silt-loam", 0.22, 0.36, 0.09, 0.21, 0.13, 0.19},
		{"silt", 0.28, 0.36, 0.12, 0.22, 0.16, 0.20},
		{"silty-clay-loam", 0.30, 0.37, 0.17, 0.24, 0.13, 0.18},
		{"silty-clay", 0.30, 0.42, 0.17, 0.29, 0.13, 0.19},
		{"clay", 0.32, 0.40, 0.20, 0.24, 0.12, 0.20},
	}
}

// Available returns the middle of the range of available water, m³ m⁻³.
func (t Texture) Available() float64 { return (t.AvailableLow + t.AvailableTop) / 2 }
