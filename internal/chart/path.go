// Package chart turns numbers into the coordinates and paths of pictures in
// SVG. It knows scales, lines and bands; what they show, and their words, are
// for templates.
package chart

import (
	"math"
	"strconv"

	"ligule/internal/civil"
)

// Point is a place in a picture, in its own units. A Y of NaN is missing: no
// picture draws a value where there is none.
type Point struct{ X, Y float64 }

// Days is a scale of days, from First at 0 on.
type Days struct {
	First civil.Date
	Unit  float64 // of the picture, for a day
}

// At returns where a day begins.
func (s Days) At(d civil.Date) float64 { return float64(d-s.First) * s.Unit }

// Number prints a coordinate: to a tenth of a unit, without zeros at its end.
func Number(x float64) string {
	x = math.Round(x*10) / 10
	if x == 0 {
		x = 0 // not -0
	}
	return strconv.FormatFloat(x, 'f', -1, 64)
}

// Line is the path through points, broken where one is missing. A point that
// stands alone between missing ones is a dot, which needs round line ends to be
// seen. "" without points.
func Line(points []Point) string {
	var b []byte
	for _, run := range runs(points) {
		b = appendRun(b, points[run.from:run.to])
		if run.to-run.from == 1 {
			b = append(b, "h0"...)
		}
	}
	return string(b)
}

// Band is the area between two edges, point for point at the same places; it is
// broken where either is missing, and has no area where a point stands alone.
func Band(low, high []Point) string {
	var b []byte
	known := make([]Point, len(low))
	for i := range low {
		known[i] = Point{low[i].X, low[i].Y + high[i].Y}
	}
	for _, run := range runs(known) {
		if run.to-run.from == 1 {
			continue
		}
		b = appendRun(b, high[run.from:run.to])
		for i := run.to - 1; i >= run.from; i-- {
			b = appendPoint(append(b, 'L'), low[i])
		}
		b = append(b, 'Z')
	}
	return string(b)
}

type span struct{ from, to int }

// runs lists the unbroken runs of points that are known.
func runs(points []Point) []span {
	var out []span
	for i, p := range points {
		switch n := len(out); {
		case math.IsNaN(p.Y):
		case n > 0 && out[n-1].to == i:
			out[n-1].to++
		default:
			out = append(out, span{i, i + 1})
		}
	}
	return out
}

func appendRun(b []byte, points []Point) []byte {
	command := byte('M')
	for _, p := range points {
		b = appendPoint(append(b, command), p)
		command = 'L'
	}
	return b
}

func appendPoint(b []byte, p Point) []byte {
	b = append(b, Number(p.X)...)
	b = append(b, ' ')
	return append(b, Number(p.Y)...)
}
