package law

import (
	"cmp"
	"math"
	"slices"

	"ligule/internal/civil"
)

// Conditions returns the limits and duties in force on q.Date: of each kind
// the strictest over all laws of the place (the lowest cap, the highest
// slow-release floor, the widest buffer), every weather rule, every exception
// and duty. Where the product is not known, a limit that only some classes or
// forms of product meet comes apart, with its Class or Form.
func (b *Book) Conditions(q Question) []Condition { return b.conditions(q, q.Date, q.Date) }

// WeekConditions is Conditions over the seven days from a Monday on; q.Date is
// ignored.
func (b *Book) WeekConditions(q Question, monday civil.Date) []Condition {
	return b.conditions(q, monday, monday.AddDays(6))
}

// active is a rule that is on during some of the days asked about.
type active struct {
	rec         *Record
	rule        *Rule
	first, last civil.Date
}

func (b *Book) conditions(q Question, first, last civil.Date) []Condition {
	rules := b.rulesOf(q, cmp.Or(q.AsOf, first), first, last)
	q.Date = first
	c := collector{q: &q, rules: rules}
	c.limits()
	c.buffers()
	c.others()
	return c.out
}

// rulesOf lists what is on during some of the days.
func (b *Book) rulesOf(q Question, asOf, first, last civil.Date) []active {
	var rules []active
	for _, records := range b.Over(q.Place) {
		for _, rec := range records {
			if rec.OnPesticides() != q.Product.pesticide() {
				continue
			}
			for i := range rec.Rules {
				if a, ok := b.activeRule(rec, &rec.Rules[i], q, asOf, first, last); ok {
					rules = append(rules, a)
				}
			}
			for q.Date = first; q.Date <= last; q.Date++ {
				if b.standing(rec, q.Date) == onHold {
					rules = append(rules, active{rec: rec, first: q.Date, last: last})
					break
				}
			}
		}
	}
	return rules
}

func (b *Book) activeRule(rec *Record, r *Rule, q Question, asOf, first, last civil.Date) (active, bool) {
	a := active{rec: rec, rule: r}
	for q.Date = first; q.Date <= last; q.Date++ {
		if b.standing(rec, q.Date) != inForce {
			continue
		}
		f, ok := b.find(rec, r, &q, asOf)
		if !ok || f.preempted || !f.span.on || b.asleep(rec, r, &q, asOf) {
			continue
		}
		if a.first.IsZero() {
			a.first = q.Date
		}
		a.last = q.Date
	}
	return a, !a.first.IsZero()
}

type collector struct {
	q     *Question
	rules []active
	out   []Condition
}

func (c *collector) emit(a active, kind string, value, second float64, words ...string) *Condition {
	c.out = append(c.out, Condition{Kind: kind, Value: value, Second: second, Words: words,
		Record: a.rec, Rule: a.rule, First: a.first, Last: a.last})
	return &c.out[len(c.out)-1]
}

// limit is a figure that combines over all laws of a place.
type limit struct {
	kind    string
	highest bool // a floor: the highest is the strictest
	figure  func(r *Rule, grass string) (float64, bool)
}

func figureOf(field func(*Rule) *float64) func(*Rule, string) (float64, bool) {
	return func(r *Rule, _ string) (float64, bool) {
		if x := field(r); x != nil {
			return *x, true
		}
		return 0, false
	}
}

func combining() []limit {
	return []limit{
		{"per_app_total_n", false, figureOf(func(r *Rule) *float64 { return r.PerAppTotalNLb1000 })},
		{"per_app_soluble_n", false, figureOf(func(r *Rule) *float64 { return r.PerAppSolubleNLb1000 })},
		{"annual_n", false, (*Rule).annualN},
		{"release_n", false, figureOf(func(r *Rule) *float64 { return r.MaxReleaseNLb1000Month })},
		{"min_slow", true, figureOf(func(r *Rule) *float64 { return r.MinSlowPct })},
		{"max_slow", false, figureOf(func(r *Rule) *float64 { return r.MaxSlowPct })},
		{"per_app_p2o5", false, figureOf(func(r *Rule) *float64 { return r.asP2O5(r.PerAppPLb1000) })},
		{"annual_p2o5", false, figureOf(func(r *Rule) *float64 { return r.asP2O5(r.AnnualPLb1000) })},
	}
}

// scope is a kind of product about which some rule speaks apart.
type scope struct{ class, form string }

// scopes returns the kinds of product to tell apart, the ordinary one first.
// What the question states is not varied.
func (c *collector) scopes() []scope {
	p := &c.q.Product
	classes, forms := []string{p.Class}, []string{p.Form}
	for _, a := range c.rules {
		if a.rule == nil || !a.rule.hasCaps() {
			continue
		}
		if p.Class == "" && p.Unknown {
			classes = append(classes, a.rule.OnlyProducts...)
			classes = append(classes, a.rule.ExemptProducts...)
		}
		if p.Form == "" {
			forms = append(forms, a.rule.OnlyForms...)
		}
	}
	slices.Sort(classes)
	slices.Sort(forms)
	var out []scope
	for _, class := range slices.Compact(classes) {
		for _, form := range slices.Compact(forms) {
			out = append(out, scope{class, form})
		}
	}
	return out
}

// strictest returns the deciding rule of a limit for a kind of product.
func (c *collector) strictest(l limit, s scope) (best active, value float64, ok bool) {
	p := c.q.Product
	p.Class, p.Form = s.class, s.form
	for _, a := range c.rules {
		if a.rule == nil || a.rule.always() || a.rule.Effect != EffectCap && a.rule.Effect != EffectBan {
			continue
		}
		x, has := l.figure(a.rule, c.q.Grass)
		if !has || a.rule.fits(a.rec, c.q, &p) != fitYes {
			continue
		}
		if _, met := a.rule.exception(c.q); met && a.rule.Effect == EffectCap {
			continue
		}
		if !ok || l.highest && x > value || !l.highest && x < value {
			best, value, ok = a, x, true
		}
	}
	return best, value, ok
}

// limits emits the strictest of each limit; for a special kind of product
// only where it differs from what holds for the kinds that include it.
func (c *collector) limits() {
	scopes := c.scopes()
	for _, l := range combining() {
		got := map[scope]float64{}
		for _, s := range scopes {
			best, x, ok := c.strictest(l, s)
			if !ok {
				continue
			}
			got[s] = x
			if s != scopes[0] {
				wider := []scope{{scopes[0].class, s.form}, {s.class, scopes[0].form}, scopes[0]}
				if slices.ContainsFunc(wider, func(w scope) bool { y, has := got[w]; return w != s && has && y == x }) {
					continue
				}
			}
			e := c.emit(best, l.kind, x, math.NaN())
			if c.q.Product.Class == "" {
				e.Class = s.class
			}
			if c.q.Product.Form == "" {
				e.Form = s.form
			}
		}
	}
}

// buffers emits the widest strip, and what it shrinks to with each kind of
// gear, all laws taken together.
func (c *collector) buffers() {
	var wide active
	ft := math.NaN()
	var gear []string
	for _, a := range c.rules {
		if !c.isBuffer(a) {
			continue
		}
		if x, lifted := a.rule.bufferFt(c.q); lifted == "" && !(x <= ft) {
			wide, ft = a, x
		}
		gear = append(gear, a.rule.ReducedWith...)
	}
	if wide.rule == nil {
		return
	}
	reduced := map[float64][]string{}
	var widths []float64
	slices.Sort(gear)
	for _, g := range slices.Compact(gear) {
		if c.q.Gear != "" {
			break // the strip is already the one for that gear
		}
		with := *c.q
		with.Gear = g
		most := 0.0
		for _, a := range c.rules {
			if !c.isBuffer(a) {
				continue
			}
			if x, lifted := a.rule.bufferFt(&with); lifted == "" {
				most = max(most, x)
			}
		}
		if most < ft {
			reduced[most] = append(reduced[most], g)
			widths = append(widths, most)
		}
	}
	if len(widths) == 0 {
		c.emit(wide, "buffer", ft, math.NaN())
	}
	slices.Sort(widths)
	for _, x := range slices.Compact(widths) {
		c.emit(wide, "buffer", ft, x, reduced[x]...)
	}
}

func (c *collector) isBuffer(a active) bool {
	if a.rule == nil || a.rule.always() || a.rule.Effect != EffectBan || a.rule.BufferFt == nil {
		return false
	}
	_, met := a.rule.exception(c.q)
	return !met
}

// others emits what does not combine: weather, exceptions, bans on some
// products, duties, advice, and laws on hold.
func (c *collector) others() {
	nan := math.NaN()
	for _, a := range c.rules {
		r := a.rule
		if r == nil {
			c.emit(a, "on_hold", nan, nan)
			continue
		}
		switch {
		case r.Effect == EffectBan && !r.always():
			if len(r.Alerts) > 0 {
				c.emit(a, "alert", nan, nan, r.Alerts...)
			}
			if r.isRain() {
				c.emit(a, "rain", figure(r.RainIn), hours(r.RainHours), r.RainCompare, r.RainBasis)
			}
			if len(r.Ground) > 0 {
				c.emit(a, "ground", nan, figure(r.FrozenDepthIn), r.Ground...)
			}
			if len(r.Unless) > 0 {
				kind := "exception"
				if r.Topic == "phosphorus" {
					kind = "phosphorus"
				}
				c.emit(a, kind, nan, hours(r.SoilTestMaxAgeMonths), r.Unless...)
			}
			if r.fits(a.rec, c.q, &c.q.Product) == fitMaybe {
				c.emit(a, "product", nan, nan, slices.Concat(r.OnlyProducts, r.OnlyForms)...)
			}
		case r.Effect == EffectRequire:
			c.duty(a, "duty:")
		case r.Effect == EffectAdvise:
			c.duty(a, "advice:")
		}
	}
	rank := func(kind string) int {
		return slices.IndexFunc([]string{"alert", "rain", "ground", "phosphorus", "exception", "product", "duty:", "advice:", "on_hold"},
			func(p string) bool { return len(kind) >= len(p) && kind[:len(p)] == p })
	}
	slices.SortStableFunc(c.out, func(x, y Condition) int { return cmp.Compare(rank(x.Kind), rank(y.Kind)) })
}

// duty emits a duty once, by the uppermost law that has it; one in the law's
// own words each time.
func (c *collector) duty(a active, prefix string) {
	kind := prefix + a.rule.Duty
	if a.rule.Duty != ownWords && slices.ContainsFunc(c.out, func(x Condition) bool { return x.Kind == kind }) {
		return
	}
	c.emit(a, kind, figure(a.rule.BufferFt), math.NaN())
}

func figure(x *float64) float64 {
	if x == nil {
		return math.NaN()
	}
	return *x
}

func hours(n int) float64 {
	if n == 0 {
		return math.NaN()
	}
	return float64(n)
}
