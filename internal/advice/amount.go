package advice

import (
	"math"
	"slices"
	"strconv"

	"ligule/internal/diag"
	"ligule/internal/law"
	"ligule/internal/message"
	"ligule/internal/quantity"
	"ligule/internal/turf"
)

// Bag is an analysis that stores sell, for turning a rate of nitrogen into
// pounds of product. No brand: three numbers, the slow-release share, and what
// else the law asks about.
type Bag struct {
	turf.Analysis
	SlowPct     float64 // of the nitrogen, %
	Class, Form string  // as the law's files name them
}

// product is the bag in the eyes of the law.
func (b Bag) product() law.Product {
	return law.Product{Name: b.Name(), NPct: b.NPct, P2O5Pct: b.P2O5Pct, K2OPct: b.K2OPct, SlowNPct: b.NPct * b.SlowPct / 100, Class: b.Class, Form: b.Form}
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
		b.Class, b.Form = bt.One("class", law.BagClasses()...), bt.One("form", law.Forms()...)
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
// the zone, lb per 1000 ft²; NaN where there is none.
type nitrogenLimits struct{ total, soluble float64 }

// nitrogenLimits reads them from the conditions of each place.
func (z ZoneLaw) nitrogenLimits(conditions func(PlaceLaw) []law.Condition) nitrogenLimits {
	nan := math.NaN()
	l := nitrogenLimits{nan, nan}
	least := func(x *float64, v float64) {
		if !(*x <= v) {
			*x = v
		}
	}
	for _, p := range z.Places {
		for _, c := range conditions(p) {
			// A figure for one class or form of product stands in for the general
			// one there, where the product is not known.
			if c.Class != "" || c.Form != "" {
				continue
			}
			switch c.Kind {
			case "per_app_total_n":
				least(&l.total, c.Value)
			case "per_app_soluble_n":
				least(&l.soluble, c.Value)
			}
		}
	}
	return l
}

// about asks the law of a place about a bag, in the zone's week.
func (z ZoneLaw) about(p PlaceLaw, b Bag) law.Question {
	return law.Question{Place: p.Place, Actor: law.Homeowner, AsOf: z.AsOf, Product: b.product(), Grass: z.grass}
}

// struck says where, when and why the law bars a bag, or does not clear it, where
// it leaves nitrogen as such.
func (z ZoneLaw) struck(b Bag) []message.Message {
	return z.told(func(p PlaceLaw) []message.Message {
		week := z.book.Week(z.about(p, b), z.Monday)
		bars := z.byHit(week, func(i int, h law.Hit) bool {
			day := week.Days[i].Verdict
			return day >= law.NotCleared && day > p.Homeowner["N"].Days[i].Verdict && h.Verdict == day
		})
		var out []message.Message
		for _, x := range bars {
			why := x.hit.Detail
			switch {
			case x.hit.Verdict == law.NotCleared:
				why = "not_cleared"
			case slices.Contains([]string{"slow_pct", "must_be_soluble", "max_slow_pct"}, why):
			case x.hit.Rule != nil && slices.Contains(x.hit.Rule.Targets, "P") && !slices.Contains(x.hit.Rule.Targets, "N"):
				why = "phosphorus"
			default:
				why = "kind"
			}
			out = append(out, saysHit("amount.barred", x.hit, x.days).Name("bag", b.Name()).Word("why", "bag_barred."+why))
		}
		return out
	})
}

// amounts says how much nitrogen one feeding may hold and what that is of
// common bags: the least of what the grass takes at once, what the rule says,
// and what the law allows of that very product; and which bags it bars, and why.
// It is rounded down, to what a spreader can be set to.
func (in *Input) amounts(r *Rule) []message.Message {
	limit := in.Grass.NSingleGM2
	if r != nil && r.RateGM2 > 0 {
		limit = math.Min(limit, r.RateGM2)
	}
	grass, _ := quantity.In(limit, quantity.NitrogenRate, quantity.US)
	if math.IsNaN(grass) || grass <= 0 {
		return nil
	}
	most := grass
	if l := in.Law.nitrogenLimits(func(p PlaceLaw) []law.Condition { return p.Conditions["N"] }); l.total < most {
		most = l.total
	}
	out := []message.Message{message.New("amount.rate").With("rate", rate(quantity.FloorTenths(most)))}
	var barred []message.Message
	for _, b := range in.Bags {
		if bars := in.Law.struck(b); len(bars) > 0 {
			barred = append(barred, bars...)
			continue
		}
		l := in.Law.nitrogenLimits(func(p PlaceLaw) []law.Condition { return in.Law.book.WeekConditions(in.Law.about(p, b), in.Law.Monday) })
		n := grass
		if allowed := law.LargestNLb1000(l.total, l.soluble, b.SlowPct/100); allowed < n {
			n = allowed
		}
		product := quantity.FloorTenths(b.ProductFor(quantity.FloorHundredths(n)))
		if product <= 0 {
			continue
		}
		out = append(out, message.New("amount."+b.Form).With("product", rate(product)).Name("bag", b.Name()).Word("class", "law_product."+b.Class).
			With("slow", message.Number(b.SlowPct, 0)).With("rate", rate(quantity.FloorHundredths(n))))
	}
	return append(out, barred...)
}

// rate is a rate in lb per 1000 ft², with as many decimals as it needs.
func rate(lb1000 float64) message.Value {
	decimals := 1
	if math.Abs(lb1000*10-math.Round(lb1000*10)) > 1e-9 {
		decimals = 2
	}
	return message.Both(quantity.From(lb1000, quantity.NitrogenRate, quantity.US), quantity.NitrogenRate, decimals, 1)
}
