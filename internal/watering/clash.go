package watering

import (
	"math"
	"slices"
	"strconv"

	"ligule/internal/law"
)

// Clashes returns what cannot be kept together at the place of a week: watering laws
// that leave a lot no moment between them, where none does so by itself, and
// fertilizer laws that want watered in what watering law gives the lot no moment
// for on any day that is open for feeding.
func (w *Week) Clashes(b *law.Book) []law.Clash {
	var out []law.Clash
	wants := w.wateringInWanted(b)
	for _, g := range w.Groups {
		if g.Nonresidential {
			continue
		}
		if by := w.shutTogether(g); len(by) > 1 {
			w.clash(&out, "days", by[0].provision(), by[1].provision())
		}
		for _, d := range wants {
			if day := w.firstShut(g, d.open); day != nil {
				w.clash(&out, law.WaterInDuty, d.Provision, day.Spans[0].By[0].provision())
			}
		}
	}
	return out
}

func (w *Week) clash(out *[]law.Clash, kind string, one, other law.Provision) {
	law.AddClash(out, law.Clash{Kind: kind, One: one, Other: other, Actors: []law.Actor{law.Homeowner}, First: w.Monday, Last: w.Monday.AddDays(6)})
}

// shutTogether lists a part of each law that closes something to a lot of which no
// moment of the week is open; none where one law by itself closes all.
func (w *Week) shutTogether(g Group) (by []Part) {
	for _, d := range g.Days {
		if d.Verdict != Closed {
			return nil
		}
		for _, s := range d.Spans {
			for _, p := range s.By {
				if !slices.ContainsFunc(by, func(o Part) bool { return o.Record == p.Record }) {
					by = append(by, p)
				}
			}
		}
	}
	for _, l := range w.Laws {
		alone := *w
		alone.Laws = []Law{l}
		if shut := func(d Day) bool { return alone.day(d.Date, g.house(), g.Nonresidential, w.Monday).Verdict == Closed }; !slices.ContainsFunc(g.Days[:], func(d Day) bool { return !shut(d) }) {
			return nil
		}
	}
	return by
}

// house is the number of a lot of the group.
func (g *Group) house() string {
	switch {
	case len(g.Digits) > 0:
		return strconv.Itoa(g.Digits[0])
	case len(g.Letters) > 0:
		return strconv.Itoa(g.Letters[0]) + "A"
	}
	return ""
}

// wanted is a fertilizer law's duty to water in, with the days of the week on which
// feeding is open under it.
type wanted struct {
	law.Provision
	open [7]bool
}

// wateringInWanted lists them; none where watering in is exempt, or nobody can tell.
func (w *Week) wateringInWanted(b *law.Book) (out []wanted) {
	if w.WaterIn.State != "not_exempt" {
		return nil
	}
	for i := range w.Laws[0].Stage {
		q := law.Question{Place: w.Place, Actor: law.Homeowner, Product: law.ProductOf("N"), Date: w.Monday.AddDays(i), AsOf: w.Monday}
		closed := b.Ask(q).Verdict == law.Closed
		for _, c := range b.Conditions(q) {
			if c.Kind != "duty:"+law.WaterInDuty || closed {
				continue
			}
			p := law.Provision{Law: &c.Record.Header, Pinpoint: law.Pinpoint(c.Record, c.Rule), Figure: math.NaN(), Pos: c.Rule.PosOf("duty")}
			k := slices.IndexFunc(out, func(o wanted) bool { return o.Pos == p.Pos })
			if k < 0 {
				k, out = len(out), append(out, wanted{Provision: p})
			}
			out[k].open[i] = true
		}
	}
	return out
}

// firstShut returns the first day that is open for feeding, if on all such days the
// lot may not be watered at any time.
func (w *Week) firstShut(g Group, open [7]bool) (first *Day) {
	for i := range g.Days {
		switch d := &g.Days[i]; {
		case !open[i]:
		case d.Verdict != Closed:
			return nil
		case first == nil:
			first = d
		}
	}
	return first
}

// provision is where a part of a law stands.
func (p Part) provision() law.Provision {
	at := p.Record.PosOf("closed_hours")
	for _, s := range p.Record.Schedules {
		if s.ID == p.Part {
			at = s.Pos
		}
	}
	for _, s := range p.Record.Stages {
		if stageName(s.N) == p.Part {
			at = s.Pos
		}
	}
	return law.Provision{Law: &p.Record.Header, Pinpoint: p.Record.Citation, Figure: math.NaN(), Pos: at}
}
