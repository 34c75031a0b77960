package quantity

import (
	"math"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// The inch and foot are exact by 16 CFR 500.19; the pound by the
// international yard and pound agreement of 1959 (from memory).
func TestPublishedConversionsAreExact(t *testing.T) {
	for _, c := range []struct {
		text string
		d    Dimension
		want float64
	}{
		{"50 °F", Temperature, 10},
		{"32 F", Temperature, 0},
		{"-40 °F", Temperature, -40},
		{"212°F", Temperature, 100},
		{"21 C", Temperature, 21},
		{"1 in", Depth, 25.4},
		{"0.5 inches", Depth, 12.7},
		{"12 mm", Depth, 12},
		{"2 cm", Depth, 20},
		{"1 ft", Distance, 0.3048},
		{"1 mi", Distance, 1609.344},
		{"3 weeks", Time, 21},
		{"-6 weeks", Time, -42},
		{"1 day", Time, 1},
		{"30 %", Percent, 30},
		{"0.4", Number, 0.4},
		{"7 C", TemperatureDifference, 7},
		{"9 °F", TemperatureDifference, 5},
		{"18 km/h", Speed, 5},
	} {
		got, err := Parse(c.text, c.d)
		require.NoError(t, err, c.text)
		assert.Equal(t, c.want, got, c.text)
	}
	for _, c := range []struct {
		text string
		d    Dimension
		want float64
	}{
		{"1 lb/1000 ft2", NitrogenRate, 4.88242764},
		{"48.8242764 kg/ha", NitrogenRate, 4.88242764},
		{"43.56 lb/acre", NitrogenRate, 4.88242764},
		{"1.5 in/week", GrowthRate, 5.442857143},
		{"1 mph", Speed, 0.44704},
		{"1 kn", Speed, 0.514444444},
	} {
		got, err := Parse(c.text, c.d)
		require.NoError(t, err, c.text)
		assert.InDelta(t, c.want, got, 5e-9, c.text)
	}
}

func TestWrongUnitsSayWhatWouldDo(t *testing.T) {
	for _, c := range []struct {
		text string
		d    Dimension
		want string
	}{
		{"70", Temperature, `"70" has no unit; a temperature is written in °C or °F`},
		{"70 in", Temperature, `"70 in" is a depth or height, but a temperature is wanted, in °C or °F`},
		{"70 furlongs", Depth, `"70 furlongs": unknown unit "furlongs"; a depth or height is written in mm, in or cm`},
		{"warm", Temperature, `"warm" does not start with a number`},
		{"", Temperature, `"" does not start with a number`},
		{"NaN °F", Temperature, `"NaN °F" does not start with a number`},
		{"1.2.3 in", Depth, `"1.2.3 in" does not start with a number`},
		{"3 m", Number, `"3 m" is a plain number; leave out the unit "m"`},
	} {
		_, err := Parse(c.text, c.d)
		assert.EqualError(t, err, c.want)
	}
}

func TestPrinting(t *testing.T) {
	assert.Equal(t, "50 °F (10 °C)", Both(10, Temperature, US))
	assert.Equal(t, "10 °C (50 °F)", Both(10, Temperature, Metric))
	assert.Equal(t, "12.6 °F (7.0 °C)", Both(7, TemperatureDifference, US))
	assert.Equal(t, "0.5 in (13 mm)", Both(12.7, Depth, US))
	assert.Equal(t, "0.25 in (6 mm)", BothPrec(6.35, Depth, US, 2, 0))
	assert.Equal(t, "1.0 lb/1000 ft2 (4.9 g/m2)", Both(4.8824, NitrogenRate, US))
	assert.Equal(t, "22 mol/m2/d", Both(22, Light, US))
	assert.Equal(t, "1 day", One(1, Time, US))
	assert.Equal(t, "2 days", One(2, Time, US))
	assert.Equal(t, "40%", One(40, Percent, US))
	assert.Equal(t, "–", Both(math.NaN(), Temperature, US))
	assert.Equal(t, "0", Fixed(-0.2, 0))
	assert.Equal(t, "−5 °C", One(-5, Temperature, Metric))
}

func TestPrintedNumbersReadBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := Dimension(rapid.IntRange(0, int(dimensions)-1).Draw(t, "dimension"))
		v := rapid.Float64Range(-500, 500).Draw(t, "value")
		for _, s := range []System{US, Metric} {
			x, name := In(v, d, s)
			back, err := Parse(stdFixed(x)+" "+name, d)
			if err != nil || math.Abs(back-v) > 1e-6 {
				t.Fatalf("%v %v in %v reads back as %v (%v)", v, d, s, back, err)
			}
			if r := Round(v, d, s, 1); One(r, d, s) != One(Round(r, d, s, 1), d, s) {
				t.Fatalf("rounding %v %v twice changes it", v, d)
			}
		}
	})
}

func FuzzParse(f *testing.F) {
	f.Add("70 °F", uint8(0))
	f.Add("3 lb/1000 ft2", uint8(4))
	f.Fuzz(func(t *testing.T, text string, d uint8) {
		v, err := Parse(text, Dimension(d%uint8(dimensions)))
		if err == nil && (math.IsNaN(v) || math.IsInf(v, 0)) {
			t.Errorf("%q reads as %v", text, v)
		}
	})
}

// stdFixed writes a number as an author would type it.
func stdFixed(x float64) string { return strconv.FormatFloat(x, 'f', 9, 64) }

func TestNamedUnits(t *testing.T) {
	assert.Equal(t, 10.0, Temperature.From(50, "°F"))
	assert.Equal(t, 50.0, Temperature.To(10, "°F"))
	assert.Equal(t, 25.4, Depth.From(1, "in"))
	assert.InDelta(t, 0.514444, Speed.From(1, "kn"), 1e-6)
	for d := range dimensions {
		for _, name := range d.Units() {
			assert.InDelta(t, 12.5, d.To(d.From(12.5, name), name), 1e-9, "%s in %s", d, name)
		}
	}
	assert.Panics(t, func() { Depth.From(1, "°F") })
}

func TestRounding(t *testing.T) {
	assert.Equal(t, 2.5, Tenths(2.45))
	assert.Equal(t, -2.3, Tenths(-2.25), "halves go away from zero")
	assert.Equal(t, 0.13, Hundredths(0.125))
	assert.Equal(t, 0.3, Thousandths(0.1+0.2))
	assert.True(t, math.IsNaN(Tenths(math.NaN())))
	assert.Equal(t, 3, HalfUp(2.5))
	assert.Equal(t, -2, HalfUp(-2.5))
	assert.Equal(t, 0.9, FloorTenths(0.99))
	assert.Equal(t, 0.3, FloorTenths(3*0.1), "a last bit above")
	assert.Equal(t, 0.3, FloorTenths(1-0.7), "a last bit below one counts as having reached it")
	assert.Equal(t, 0.07, FloorHundredths(0.0799))
	assert.Equal(t, 0.29, FloorHundredths(0.29), "0.29 times 100 is a last bit below 29")
}
