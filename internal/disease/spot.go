package disease

import (
	"cmp"
	"math"
	"slices"
)

// Spot arithmetic: lengths in any one unit, areas in its square. The buffer is
// the strip around a patch that is treated with it: two to three feet in common
// practice, no source; the fungus of large patch was found about 0.3 m outside
// (Aoyagi, Kageyama & Hyakumachi 1998, Plant Disease 82:857–863).

// CircleArea returns the area of a round patch with its buffer.
func CircleArea(radius, buffer float64) float64 { return math.Pi * sq(radius+buffer) }

// StripArea returns the area of a strip along a wall or walk, with square corners
// and no buffer on that side.
func StripArea(length, width, buffer float64) float64 { return (length + 2*buffer) * (width + buffer) }

// Point is a place in the plane.
type Point struct{ X, Y float64 }

// Circle is a round patch, its buffer included.
type Circle struct {
	Center Point
	Radius float64
}

// UnionArea returns the area that any number of circles cover, each part once: by
// Green's theorem along the arcs that no other circle covers.
func UnionArea(circles []Circle) float64 {
	area := 0.0
	for i, c := range circles {
		if !(c.Radius > 0) {
			continue
		}
		for _, a := range uncovered(circles, i) {
			// ½∮(x dy − y dx) along the arc.
			area += c.Radius / 2 * (c.Center.X*(math.Sin(a.to)-math.Sin(a.from)) -
				c.Center.Y*(math.Cos(a.to)-math.Cos(a.from)) + c.Radius*(a.to-a.from))
		}
	}
	return area
}

// arc is a piece of a circle, in radians, from before to.
type arc struct{ from, to float64 }

// uncovered returns the arcs of circle i that no other covers. Of circles that
// are alike the first counts.
func uncovered(circles []Circle, i int) []arc {
	c := circles[i]
	var covered []arc
	for j, o := range circles {
		if j == i || !(o.Radius > 0) {
			continue
		}
		dx, dy := o.Center.X-c.Center.X, o.Center.Y-c.Center.Y
		d := math.Hypot(dx, dy)
		switch {
		case d >= c.Radius+o.Radius:
		case d+c.Radius <= o.Radius && (d+o.Radius > c.Radius || j < i):
			return nil
		case d+o.Radius <= c.Radius:
		default:
			mid := math.Atan2(dy, dx)
			half := math.Acos(max(-1, min(1, (d*d+sq(c.Radius)-sq(o.Radius))/(2*d*c.Radius))))
			from := math.Mod(mid-half+4*math.Pi, 2*math.Pi)
			to := from + 2*half
			if to > 2*math.Pi {
				covered = append(covered, arc{from, 2 * math.Pi}, arc{0, to - 2*math.Pi})
			} else {
				covered = append(covered, arc{from, to})
			}
		}
	}
	slices.SortFunc(covered, func(a, b arc) int { return cmp.Or(cmp.Compare(a.from, b.from), cmp.Compare(a.to, b.to)) })
	var free []arc
	at := 0.0
	for _, a := range covered {
		if a.from > at {
			free = append(free, arc{at, a.from})
		}
		at = max(at, a.to)
	}
	if at < 2*math.Pi {
		free = append(free, arc{at, 2 * math.Pi})
	}
	return free
}

func sq(x float64) float64 { return x * x }
