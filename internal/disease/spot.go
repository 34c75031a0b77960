package disease

import (
	"cmp"
	"math"
	"slices"
)

// Spot arithmetic: lengths in any one unit, areas in its square. The buffer is
// the strip around a patch that is treated with it: a few feet in common
// practice, no source; the fungus of large patch was found about 0.3 m outside
// (Aoyagi, Kageyama & Hyakumachi 1998, Plant Disease 82:857–863).

// CircleArea returns the area of a round patch with its buffer.
func CircleArea(radius, buffer float64) float64 { return math.Pi * sq(radius+buffer) }

// RadiusFromTape returns the radius of a round patch from its circumference.
func RadiusFromTape(circumference float64) float64 { return circumference / (2 * math.Pi) }

// RingArea returns the area of the margin of a round patch: from inner inside
// its edge to outer outside.
func RingArea(radius, outer, inner float64) float64 {
	return math.Pi * (sq(radius+outer) - sq(max(0, radius-inner)))
}

// RectangleArea returns the area of a rectangle with its buffer and square
// corners, as people spray it.
func RectangleArea(length, width, buffer float64) float64 {
	return (length + 2*buffer) * (width + 2*buffer)
}

// StripArea returns the area of a strip along a wall or walk, with square corners
// and no buffer on that side.
func StripArea(length, width, buffer float64) float64 { return (length + 2*buffer) * (width + buffer) }

// ConvexArea returns the area of any convex outline of the area and perimeter
// with its buffer: A + P b + π b² (Steiner's formula, exact). For an outline with
// bays it is too much.
func ConvexArea(area, perimeter, buffer float64) float64 {
	return area + perimeter*buffer + math.Pi*sq(buffer)
}

// EllipseArea returns the area of an oval of the half axes with its buffer, as if
// that were an oval again: up to a hundredth too little.
func EllipseArea(a, b, buffer float64) float64 { return math.Pi * (a + buffer) * (b + buffer) }

// EllipsePerimeter returns the perimeter of an oval of the half axes, by
// Ramanujan's second approximation (from memory).
func EllipsePerimeter(a, b float64) float64 {
	h := sq((a - b) / (a + b))
	return math.Pi * (a + b) * (1 + 3*h/(10+math.Sqrt(4-3*h)))
}

// Point is a place in the plane.
type Point struct{ X, Y float64 }

// PolygonArea returns area and perimeter of a polygon, its corners in order.
func PolygonArea(corners []Point) (area, perimeter float64) {
	for i, p := range corners {
		q := corners[(i+1)%len(corners)]
		area += p.X*q.Y - q.X*p.Y
		perimeter += math.Hypot(q.X-p.X, q.Y-p.Y)
	}
	return math.Abs(area) / 2, perimeter
}

// AreaFromWidths returns the area of a bed from widths measured at even
// distances, the ends included, by trapezoids.
func AreaFromWidths(widths []float64, distance float64) float64 {
	if len(widths) < 2 {
		return 0
	}
	sum := -(widths[0] + widths[len(widths)-1]) / 2
	for _, w := range widths {
		sum += w
	}
	return distance * sum
}

// SimpsonArea is [AreaFromWidths] by Simpson's rule, for an odd number of widths;
// NaN for an even one.
func SimpsonArea(widths []float64, distance float64) float64 {
	n := len(widths)
	if n < 3 || n%2 == 0 {
		return math.NaN()
	}
	sum := widths[0] + widths[n-1]
	for i := 1; i < n-1; i++ {
		sum += widths[i] * float64(2+2*(i%2))
	}
	return distance / 3 * sum
}

// Circle is a round patch, its buffer included.
type Circle struct {
	Center Point
	Radius float64
}

// LensArea returns what two circles of the radii, distance apart, have in common.
func LensArea(r1, r2, distance float64) float64 {
	switch d := distance; {
	case d >= r1+r2:
		return 0
	case d <= math.Abs(r1-r2):
		return math.Pi * sq(min(r1, r2))
	default:
		root := (-d + r1 + r2) * (d + r1 - r2) * (d - r1 + r2) * (d + r1 + r2)
		return sq(r1)*math.Acos((d*d+r1*r1-r2*r2)/(2*d*r1)) + sq(r2)*math.Acos((d*d+r2*r2-r1*r1)/(2*d*r2)) - math.Sqrt(max(0, root))/2
	}
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

// AffectedPct returns the share of a lawn, %, that round patches of the diameters
// cover, all in one unit of length, the lawn's area in its square. Patches that
// overlap count twice.
func AffectedPct(diameters []float64, lawn float64) float64 {
	sum := 0.0
	for _, d := range diameters {
		sum += CircleArea(d/2, 0)
	}
	return 100 * sum / lawn
}
