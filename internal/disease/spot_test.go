package disease

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"ligule/internal/quantity"
)

// Spot arithmetic, worked by hand in feet, gallons and ounces of invented rates:
// treated area with a buffer, spray at 2 gal and product at 0.4 oz per 1000 ft².
func TestOwnDesignSpots(t *testing.T) {
	for _, c := range []struct {
		name               string
		affected, treated  float64
		wantAffected, want float64
		gal, oz            float64
	}{
		{"circle of 3 ft, buffer 3", CircleArea(1.5, 0), CircleArea(1.5, 3), 7.07, 63.62, 0.127, 0.0254},
		{"circle of 6 ft, buffer 3", CircleArea(3, 0), CircleArea(3, 3), 28.27, 113.10, 0.226, 0.0452},
		{"circle of 10 ft, buffer 3", CircleArea(5, 0), CircleArea(5, 3), 78.54, 201.06, 0.402, 0.0804},
		{"circle of 20 ft, buffer 3", CircleArea(10, 0), CircleArea(10, 3), 314.16, 530.93, 1.062, 0.2124},
		{"circle of 10 ft, buffer 5", CircleArea(5, 0), CircleArea(5, 5), 78.54, 314.16, 0.628, 0.1257},
		{"whole of a 12 ft patch, buffer 3", nan, CircleArea(6, 3), nan, 254.47, 0.509, 0.1018},
		{"two circles of 6 ft, 8 ft apart, buffer 3", 2 * CircleArea(3, 0), UnionArea([]Circle{{Point{0, 0}, 6}, {Point{8, 0}, 6}}), 56.55, 201.41, 0.403, 0.0806},
		{"circle of 4 ft, buffer 2", CircleArea(2, 0), CircleArea(2, 2), 12.57, 50.27, 0.101, 0.0201},
		{"circle of 15 ft, buffer 3", CircleArea(7.5, 0), CircleArea(7.5, 3), 176.71, 346.36, 0.693, 0.1385},
		{"circle of 3 ft, buffer 0.30 m", CircleArea(1.5, 0), CircleArea(1.5, 0.3/quantity.MeterPerFoot), 7.07, 19.38, 0.039, 0.0078},
	} {
		t.Run(c.name, func(t *testing.T) {
			near(t, c.wantAffected, c.affected, 0.01)
			assert.InDelta(t, c.want, c.treated, 0.01)
			assert.InDelta(t, c.gal, ForArea(c.treated, 2, 1000), 0.001)
			assert.InDelta(t, c.oz, ForArea(c.treated, 0.4, 1000), 0.0001)
		})
	}
	assert.InDelta(t, 226.19, 2*CircleArea(3, 3), 0.01, "the sum would be too much")
	assert.InDelta(t, 9, CircleArea(1.5, 3)/CircleArea(1.5, 0), 1e-9, "a small patch multiplies")
	assert.InDelta(t, 1.69, CircleArea(10, 3)/CircleArea(10, 0), 1e-9)
}

// A second set of worked cases, spray in fl oz; to half a unit of the last digit.
func TestOwnDesignSpotsOfOtherShapes(t *testing.T) {
	flOz := func(area, gal float64) float64 { return ForArea(area, gal, 1000) * 128 }
	area := CircleArea(3, 2)
	assert.InDelta(t, 78.54, area, 0.005)
	assert.InDelta(t, 0.64, 1-CircleArea(3, 0)/area, 0.005, "most of it is buffer")
	assert.InDelta(t, 0.0785, ForArea(area, 1, 1000), 0.00005)
	assert.InDelta(t, 10.1, flOz(area, 1), 0.05)
	assert.InDelta(t, 0.0314, ForArea(area, 0.4, 1000), 0.00005)

	area = CircleArea(5, 3)
	assert.InDelta(t, 201.06, area, 0.005)
	assert.InDelta(t, 0.4021, ForArea(area, 2, 1000), 0.00005)
	assert.InDelta(t, 51.5, flOz(area, 2), 0.05)
	assert.InDelta(t, 0.1407, ForArea(area, 0.7, 1000), 0.00005)
	assert.InDelta(t, 4.02, 100*area/5000, 0.005, "per cent of the lawn")
	assert.InDelta(t, 96, 100*(1-area/5000), 0.5, "per cent less than the whole lawn")

	area = CircleArea(1.25, 0)
	assert.InDelta(t, 4.91, area, 0.005)
	assert.InDelta(t, 0.63, flOz(area, 1), 0.005)
	assert.InDelta(t, 0.0020, ForArea(area, 0.4, 1000), 0.00005)

	two := UnionArea([]Circle{{Point{0, 0}, 6}, {Point{8, 0}, 5}})
	assert.InDelta(t, 191.64, CircleArea(4, 2)+CircleArea(3, 2), 0.005)
	assert.InDelta(t, 15.47, lensArea(6, 5, 8), 0.005)
	assert.InDelta(t, 176.16, two, 0.005)
	assert.InDelta(t, 0.3523, ForArea(two, 2, 1000), 0.00005)

	var apart []Circle
	for i, r := range []float64{1, 1.5, 2, 4} {
		apart = append(apart, Circle{Point{float64(100 * i), 7}, r + 2})
	}
	area = UnionArea(apart)
	assert.InDelta(t, 230.12, area, 0.005)
	assert.InDelta(t, 29.5, flOz(area, 1), 0.05)
	assert.InDelta(t, 0.0920, ForArea(area, 0.4, 1000), 0.00005)

	assert.InDelta(t, 220, StripArea(40, 3, 2), 1e-9)
	assert.InDelta(t, 0.44, ForArea(220, 2, 1000), 0.005)
	assert.InDelta(t, 1.25, ForArea(250, 5, 1000), 0.005)
	assert.InDelta(t, 0.50, ForArea(250, 2, 1000), 0.005)
	covers := 4 / 1.03 * 1000
	assert.InDelta(t, 3883, covers, 0.5)
	assert.InDelta(t, 2.718, ForArea(covers, 0.7, 1000), 0.0005)
}

func TestPublishedSprayVolumes(t *testing.T) {
	const haPerM2, poundG = 1e-4, 453.59237
	for _, c := range []struct {
		name           string
		got, want, tol float64
	}{
		{"International yard and pound agreement 1959: a gallon on 1000 ft² in L a ha", SprayDepthMM(1) / haPerM2, 407.458, 0.001},
		{"International yard and pound agreement 1959: in L on 100 m²", SprayDepthMM(1) * 100, 4.0746, 0.0001},
		{"Obasa et al. 2017: 816 L a ha", 816 * haPerM2 / SprayDepthMM(1), 2.003, 0.001},
		{"McDonald 2005: 468 L a ha", 468 * haPerM2 / SprayDepthMM(1), 1.149, 0.001},
		{"McDonald 2005: 1020 L a ha", 1020 * haPerM2 / SprayDepthMM(1), 2.503, 0.001},
		{"Butler 2015: a quarter inch of water in gal", 6.35 / SprayDepthMM(1), 155.84, 0.01},
		{"Butler 2015: a tenth of an inch in gal", 2.54 / SprayDepthMM(1), 62.34, 0.01},
		{"Koehler & Miller 2016: 24 kg N a ha", 2.4 / poundG * 1000 * sq(quantity.MeterPerFoot), 0.492, 0.001},
		{"Fidanza & Dernoeden 1996: 49 kg a ha", 4.9 / poundG * 1000 * sq(quantity.MeterPerFoot), 1.004, 0.001},
		{"Obasa et al. 2017: 17.8 °C", 17.8*1.8 + 32, 64.04, 0.01}, {"Obasa et al. 2017: 23.2 °C", 23.2*1.8 + 32, 73.76, 0.01},
	} {
		t.Run(c.name, func(t *testing.T) { assert.InDelta(t, c.want, c.got, c.tol) })
	}
}

// Label arithmetic, and rounding that never passes a rate.
func TestOwnDesignLabelArithmetic(t *testing.T) {
	assert.InDelta(t, 4.80, ForArea(6400, 0.75, 1000), 0.005)
	assert.InDelta(t, 0.1, RoundProduct(0.19, 0.1), 1e-9)
	assert.InDelta(t, 0.3, RoundProduct(0.3, 0.1), 1e-9)
}

// lensArea returns what two circles of the radii, distance apart, have in common.
func lensArea(r1, r2, distance float64) float64 {
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

// The union of circles: no more than the sum, no less than the largest, and as
// many points in it as in any circle.
func TestUnionOfCircles(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(0, 6).Draw(t, "circles")
		var cs []Circle
		sum, largest := 0.0, 0.0
		for range n {
			c := Circle{Point{rapid.Float64Range(0, 10).Draw(t, "x"), rapid.Float64Range(0, 10).Draw(t, "y")}, rapid.Float64Range(0.1, 5).Draw(t, "r")}
			cs = append(cs, c)
			if rapid.Bool().Draw(t, "twice") {
				cs = append(cs, c)
			}
			sum += math.Pi * sq(c.Radius)
			largest = max(largest, math.Pi*sq(c.Radius))
		}
		got := UnionArea(cs)
		if got > sum+1e-6 || got < largest-1e-6 {
			t.Fatalf("%v of sum %v, largest %v", got, sum, largest)
		}
		if n == 2 && len(cs) == 2 {
			want := sum - lensArea(cs[0].Radius, cs[1].Radius, math.Hypot(cs[0].Center.X-cs[1].Center.X, cs[0].Center.Y-cs[1].Center.Y))
			if math.Abs(got-want) > 1e-6 {
				t.Fatalf("%v, by the lens %v", got, want)
			}
		}
		// Count points of a grid.
		const step = 0.1
		inside := 0
		for x := -5.0; x < 15; x += step {
			for y := -5.0; y < 15; y += step {
				for _, c := range cs {
					if sq(x-c.Center.X)+sq(y-c.Center.Y) <= sq(c.Radius) {
						inside++
						break
					}
				}
			}
		}
		if d := math.Abs(float64(inside)*step*step - got); d > 0.03*got+0.6 {
			t.Fatalf("%v, by counting %v", got, float64(inside)*step*step)
		}
	})
}

// A buffer makes no patch smaller.
func TestBuffers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r, b := rapid.Float64Range(0.1, 50).Draw(t, "r"), rapid.Float64Range(0, 5).Draw(t, "b")
		if CircleArea(r, b) < CircleArea(r, 0) {
			t.Fatal("smaller with a buffer")
		}
	})
}
