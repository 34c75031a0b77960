package reference

import (
	"ligule/internal/disease"
	"ligule/internal/message"
	"ligule/internal/pest"
	"ligule/internal/quantity"
)

// SpotTable is what spots of usual sizes come to when a strip around them is
// treated too.
type SpotTable struct {
	Strips  []*message.Said `json:"strips"` // widths, the widest last
	Volume  *message.Said   `json:"volume"` // of spray
	Spots   []Spot          `json:"spots"`
	General bool            `json:"general,omitempty"` // of no disease
}

// Spot is one of them.
type Spot struct {
	Where   *message.Said   `json:"where"`
	Areas   []*message.Said `json:"areas"`   // with each of the strips
	Water   *message.Said   `json:"water"`   // with the widest
	Product *message.Said   `json:"product"` // likewise: times the label's rate
}

// The strips that the trade treats around a patch, m: 2 to 3 ft, common practice.
const (
	narrowStripM = 2 * quantity.MeterPerFoot
	wideStripM   = 3 * quantity.MeterPerFoot
)

// rateAreaM2 is the area that labels give a rate for: 1000 ft².
const rateAreaM2 = 1000 * quantity.MeterPerFoot * quantity.MeterPerFoot

// productStep is as exactly as the share of a rate is told.
const productStep = 0.01

// usualSpots are those that the table tells, in feet.
func usualSpots() []struct {
	says message.Message
	area func(strip float64) float64
} {
	type spot = struct {
		says message.Message
		area func(strip float64) float64
	}
	const ft = quantity.MeterPerFoot
	distance := func(x float64) message.Value { return message.Both(x*ft, quantity.Distance, 0, 1) }
	var out []spot
	for _, across := range []float64{3, 6, 10, 20} {
		out = append(out, spot{message.New("pests.spot.one").With("across", distance(across)),
			func(strip float64) float64 { return disease.CircleArea(across/2*ft, strip) }})
	}
	const across, apart, length, width = 6, 8, 20, 2
	return append(out,
		spot{message.New("pests.spot.two").With("across", distance(across)).With("apart", distance(apart)), func(strip float64) float64 {
			r := across/2*ft + strip
			return disease.UnionArea([]disease.Circle{{Radius: r}, {Center: disease.Point{X: apart * ft}, Radius: r}})
		}},
		spot{message.New("pests.spot.wall").With("length", distance(length)).With("width", distance(width)),
			func(strip float64) float64 { return disease.StripArea(length*ft, width*ft, strip) }})
}

// spotTable works out the usual spots for strips and a volume of spray.
func spotTable(strips []float64, from, to pest.Figure) *SpotTable {
	t := &SpotTable{Volume: value(volume(from))}
	if from.Value != to.Value {
		t.Volume = message.Say(message.New("pests.days").With("from", volume(from)).With("to", volume(to)))
	}
	for _, s := range strips {
		t.Strips = append(t.Strips, value(message.Both(s, quantity.Distance, 0, 1)))
	}
	for _, u := range usualSpots() {
		spot := Spot{Where: message.Say(u.says)}
		m2 := 0.0
		for _, s := range strips {
			m2 = u.area(s)
			spot.Areas = append(spot.Areas, value(message.Both(m2, quantity.Area, 0, 0)))
		}
		least, most := disease.ForArea(m2, from.Value, 1), disease.ForArea(m2, to.Value, 1)
		spot.Water = message.Say(message.New("pests.spot.water").With("gallons", span(disease.Gallons(least), disease.Gallons(most), 2)).With("liters", span(least, most, 1)))
		spot.Product = value(message.Number(disease.RoundProduct(disease.ForArea(m2, 1, rateAreaM2), productStep), 2))
		t.Spots = append(t.Spots, spot)
	}
	return t
}

// span is a range of numbers, or the one where both are printed alike.
func span(low, high float64, decimals int) message.Value {
	from, to := message.Number(low, decimals), message.Number(high, decimals)
	if round := func(x float64) float64 { return quantity.Round(x, quantity.Number, quantity.US, decimals) }; round(low) == round(high) {
		return to
	}
	return message.Of(message.New("pests.days").With("from", from).With("to", to))
}

// usualSpray is the volume of the table that speaks of no disease: 2 gal on 1000
// ft² (Martinez, University of Georgia, on fungicide efficacy).
var usualSpray = pest.Figure{Value: disease.SprayDepthMM(2), Of: quantity.Depth}

// generalSpots is the table of the guides.
func generalSpots() *SpotTable {
	t := spotTable([]float64{narrowStripM, wideStripM}, usualSpray, usualSpray)
	t.General = true
	return t
}
