package advice

import (
	"math"
	"strconv"

	"ligule/internal/diag"
	"ligule/internal/law"
	"ligule/internal/message"
	"ligule/internal/quantity"
	"ligule/internal/turf"
)

// Bag is an analysis that stores sell, for turning a rate of nitrogen into
// pounds of product. No brand: three numbers and the slow-release share.
type Bag struct {
	turf.Analysis
	SlowPct float64 // of the nitrogen, %
}

// Name returns the analysis as bags print it: "24-0-11".
func (b Bag) Name() string {
	part := func(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }
	return part(b.NPct) + "-" + part(b.P2O5Pct) + "-" + part(b.K2OPct)
}

// ReadBags reads data/bags.toml, in its order.
func ReadBags(t *diag.Table) []Bag {
	var all []Bag
	for _, bt := range t.Tables("bag") {
		b := Bag{Analysis: turf.Analysis{NPct: bt.Number("n"), P2O5Pct: bt.Number("p2o5"), K2OPct: bt.Number("k2o")}, SlowPct: bt.Quantity("slow", quantity.Percent)}
		if b.NPct <= 0 || b.P2O5Pct < 0 || b.K2OPct < 0 || b.NPct+b.P2O5Pct+b.K2OPct > 100 {
			bt.Errorf("n", "write the three numbers of a bag that holds nitrogen", "%s is not the analysis of such a bag", b.Name())
		}
		if b.SlowPct < 0 || b.SlowPct > 100 {
			bt.Errorf("slow", "write the slow-release share of the nitrogen", "%v%% is outside 0 to 100", b.SlowPct)
		}
		bt.Close()
		all = append(all, b)
	}
	t.Close()
	return all
}

// nitrogenLimits are the strictest limits on one feeding over all places of
// the zone, lb per 1000 ft² and % of the nitrogen; NaN where there is none.
type nitrogenLimits struct{ total, soluble, minSlow, maxSlow float64 }

func (z ZoneLaw) nitrogenLimits() nitrogenLimits {
	nan := math.NaN()
	l := nitrogenLimits{nan, nan, nan, nan}
	least := func(x *float64, v float64) {
		if !(*x <= v) {
			*x = v
		}
	}
	for _, p := range z.Places {
		for _, c := range p.Conditions["N"] {
			// A figure for one class or form of product stands in for the general
			// one there; what is printed here is about any bag.
			if c.Class != "" || c.Form != "" {
				continue
			}
			switch c.Kind {
			case "per_app_total_n":
				least(&l.total, c.Value)
			case "per_app_soluble_n":
				least(&l.soluble, c.Value)
			case "max_slow":
				least(&l.maxSlow, c.Value)
			case "min_slow":
				if !(l.minSlow >= c.Value) {
					l.minSlow = c.Value
				}
			}
		}
	}
	return l
}

// amounts says how much nitrogen one feeding may hold and what that is of
// common bags: the least of what the grass takes at once, what the rule says,
// and what the law allows. It is rounded down, to what a spreader can be set to.
func (in *Input) amounts(r *Rule) []message.Message {
	limit := in.Grass.NSingleGM2
	if r != nil && r.RateGM2 > 0 {
		limit = math.Min(limit, r.RateGM2)
	}
	grass, _ := quantity.In(limit, quantity.NitrogenRate, quantity.US)
	if math.IsNaN(grass) || grass <= 0 {
		return nil
	}
	l := in.Law.nitrogenLimits()
	most := grass
	if l.total < most {
		most = l.total
	}
	out := []message.Message{message.New("amount.rate").With("rate", rate(quantity.FloorTenths(most)))}
	for _, b := range in.Bags {
		if b.SlowPct < l.minSlow || b.SlowPct > l.maxSlow {
			continue
		}
		n := grass
		if allowed := law.LargestNLb1000(l.total, l.soluble, b.SlowPct/100); allowed < n {
			n = allowed
		}
		product := quantity.FloorTenths(b.ProductFor(quantity.FloorHundredths(n)))
		if product <= 0 {
			continue
		}
		out = append(out, message.New("amount.bag").With("product", rate(product)).Name("bag", b.Name()).With("slow", message.Number(b.SlowPct, 0)).With("rate", rate(quantity.FloorHundredths(n))))
	}
	return out
}

// rate is a rate in lb per 1000 ft², with as many decimals as it needs.
func rate(lb1000 float64) message.Value {
	decimals := 1
	if math.Abs(lb1000*10-math.Round(lb1000*10)) > 1e-9 {
		decimals = 2
	}
	return message.Both(quantity.From(lb1000, quantity.NitrogenRate, quantity.US), quantity.NitrogenRate, decimals, 1)
}
