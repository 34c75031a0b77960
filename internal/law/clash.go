package law

import (
	"cmp"
	"math"
	"slices"

	"ligule/internal/civil"
	"ligule/internal/diag"
)

// Clash is two provisions that cannot both be kept at a place. Its Kind is slow
// (One asks for more slow-release nitrogen than Other allows), rate (what both leave
// of one feeding is too little to spread), forms (One bars the forms of product that
// Other leaves), year (between them no day of a year is open), and from package
// watering days (no moment of a week is open by both) and water_in (One wants
// watered in what Other gives no moment for).
type Clash struct {
	Kind        string
	One, Other  Provision
	Actors      []Actor    // whom both bind
	First, Last civil.Date // the first day on which both hold, and the last that was seen
}

// Provision is where something stands in a law.
type Provision struct {
	Law      *Header
	Pinpoint string
	Figure   float64 // what a clash is about: % of N, or lb per 1000 ft2; NaN for none
	Pos      diag.Pos
}

// Holds reports whether a clash keeps an actor from feeding although no day is
// closed.
func (c *Clash) Holds(actor Actor) bool {
	return c.Kind != "year" && c.Kind != "days" && slices.Contains(c.Actors, actor)
}

// AddClash adds a clash to a list, or its actors, and its days where they go on, to
// the one that is there.
func AddClash(list *[]Clash, c Clash) {
	for i := range *list {
		o := &(*list)[i]
		if o.Kind == c.Kind && o.One.Pos == c.One.Pos && o.Other.Pos == c.Other.Pos {
			if c.First <= o.Last+1 {
				o.Last = max(o.Last, c.Last)
			}
			for _, a := range c.Actors {
				if !slices.Contains(o.Actors, a) {
					o.Actors = append(o.Actors, a)
				}
			}
			return
		}
	}
	*list = append(*list, c)
}

// leastNLb1000 is the least nitrogen that is spread at a time, lb per 1000 ft²:
// amounts are printed to tenths, rounded down. Own design.
const leastNLb1000 = 0.1

// Clashes returns what laws on nitrogen at a place ask that cannot be kept together,
// by a homeowner or who is hired, on the days from one through another, and whether
// two of them close the year from the first on between them.
func (b *Book) Clashes(place Place, first, last, asOf civil.Date) []Clash {
	var out []Clash
	for _, actor := range []Actor{Homeowner, ForHire} {
		q := Question{Place: place, Actor: actor, AsOf: cmp.Or(asOf, first), Product: ProductOf("N")}
		days := append([]civil.Date{first}, b.steps(&q, first, last)...)
		for i, d := range days {
			end := last
			if i+1 < len(days) {
				end = days[i+1] - 1
			}
			q.Date = d
			if b.closed(&q) {
				continue
			}
			c := collector{q: &q, rules: b.rulesOf(q, q.AsOf, d, d)}
			for _, x := range []Clash{c.slowClash(), c.rateClash(), b.formClash(q)} {
				if x.Kind != "" {
					x.Actors, x.First, x.Last = []Actor{actor}, d, end
					AddClash(&out, x)
				}
			}
		}
		if x := b.yearClash(place, actor, first, q.AsOf); x.Kind != "" {
			AddClash(&out, x)
		}
	}
	return out
}

// provision is where a rule speaks of something.
func (a active) provision(key string, figure float64) Provision {
	return Provision{Law: &a.rec.Header, Pinpoint: Pinpoint(a.rec, a.rule), Figure: figure, Pos: a.rule.PosOf(key)}
}

// forEachForm asks for a clash of every form of product; what only one form meets
// can be kept with the other.
func forEachForm(clash func(scope) Clash) Clash {
	var found Clash
	for _, form := range Forms() {
		if found = clash(scope{form: form}); found.Kind == "" {
			return found
		}
	}
	return found
}

func (c *collector) limitOf(kind string, s scope) (active, float64, bool) {
	all := combining()
	return c.strictest(all[slices.IndexFunc(all, func(l limit) bool { return l.kind == kind })], s)
}

// slowClash finds a least share of slow-release nitrogen above the most.
func (c *collector) slowClash() Clash {
	return forEachForm(func(s scope) Clash {
		least, asked, floor := c.limitOf("min_slow", s)
		most, allowed, roof := c.limitOf("max_slow", s)
		if !floor || !roof || !over(asked, allowed) {
			return Clash{}
		}
		return Clash{Kind: "slow", One: least.provision("min_slow_pct", asked), Other: most.provision("max_slow_pct", allowed)}
	})
}

// rateClash finds a cap on soluble nitrogen that leaves too little of what may hold
// only so much that is slow.
func (c *collector) rateClash() Clash {
	return forEachForm(func(s scope) Clash {
		soluble, capped, ok := c.limitOf("per_app_soluble_n", s)
		most, share, roof := c.limitOf("max_slow", s)
		if !ok || !roof || !over(leastNLb1000, LargestNLb1000(math.NaN(), capped, share/100)) {
			return Clash{}
		}
		return Clash{Kind: "rate", One: soluble.provision("per_app_soluble_n", capped), Other: most.provision("max_slow_pct", share)}
	})
}

// formClash finds bans of which each leaves a form of product, and all together none.
func (b *Book) formClash(q Question) Clash {
	var by []Provision
	for _, form := range Forms() {
		q.Product.Form = form
		closed := b.Ask(q).Closed()
		if len(closed) == 0 || closed[0].Rule == nil {
			return Clash{}
		}
		h := active{rec: closed[0].Record, rule: closed[0].Rule}
		by = append(by, h.provision("only_forms", math.NaN()))
	}
	if by[0].Pos == by[1].Pos {
		return Clash{}
	}
	return Clash{Kind: "forms", One: by[0], Other: by[1]}
}

// yearClash finds closed seasons that leave no day of a year between them, where
// none does so by itself. What an exception lifts is not among them.
func (b *Book) yearClash(place Place, actor Actor, first, asOf civil.Date) Clash {
	end := first.AddDays(YearAhead)
	spans := b.ClosedSpans(place, actor, "N", first, end, asOf)
	if len(spans) != 1 || spans[0].First > first || spans[0].Last < end {
		return Clash{}
	}
	var by []Provision
	for _, l := range spans[0].Laws {
		switch {
		case l.Rule == nil || len(l.Rule.Unless) > 0:
			continue
		case l.First <= first && l.Last >= end:
			return Clash{}
		}
		at := active{rec: l.Record, rule: l.Rule}
		if p := at.provision("when", math.NaN()); !slices.ContainsFunc(by, func(o Provision) bool { return o.Pos == p.Pos }) {
			by = append(by, p)
		}
	}
	if len(by) < 2 {
		return Clash{}
	}
	return Clash{Kind: "year", One: by[0], Other: by[1], Actors: []Actor{actor}, First: first, Last: end}
}
