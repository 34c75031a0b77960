package publish

import (
	"math"
	"slices"
	"strings"

	"ligule/internal/disease"
	"ligule/internal/pest"
	"ligule/internal/quantity"
	"ligule/internal/turf"
)

// pestPage is all that is told of one disease, weed or insect, in the order of
// the ladder: look, tend, and only then treat.
type pestPage struct {
	ID, Name, Address string
	Kind, KindWord    string // "disease", "weed", "insect"
	Use               string // what a treatment would use: "fungicide", …
	Names, Scientific []string
	About             saidView
	LifeCycle, Sort   string
	Confidence        string
	Week              weekView
	Weeks             []pestWeekView // of the zones that grow a host
	Unjudged          string         // why the weekly advice never speaks of it

	Look, Alikes []saidView
	Samples      []sampleView
	Culture      []saidView
	Worth        []saidView
	Counts       []countView

	Fungicides   []fungicideView
	Weedkillers  []weedkillerView
	Insecticides []insecticideView
	Lasting      bool // a lawn that had it may be treated before it is seen
	Placing      []saidView
	Water        []saidView
	Injuries     []saidView
	Rotation     []saidView
	Afterward    []saidView

	Hosts   []hostView
	Model   []saidView
	Seasons []soilSeasonView
	Timings []timingView

	Cites    []citeView
	Short    []cautionView // beside the treatment
	Cautions []cautionView
}

// Treats reports whether the page names anything to treat with.
func (p pestPage) Treats() bool {
	return len(p.Fungicides)+len(p.Weedkillers)+len(p.Insecticides) > 0
}

type sampleView struct {
	Method, Does string
	From         fromView
}

type countView struct {
	Of, Count, Note string
	From            fromView
}

// hostView are the grasses that suffer alike from it.
type hostView struct {
	Word    string
	Grasses []saidView
	From    fromView // of all, where they agree
}

type fungicideView struct {
	Code, Ingredients         string
	Effect                    string
	EffectFrom                fromView
	Resistant                 string
	Interval                  string
	IntervalFrom              fromView
	Home                      string
	HomeFrom, IngredientsFrom fromView
}

type insecticideView struct {
	Group, Ingredients, Role, When, Stages string
	From, GroupFrom                        fromView
}

func pestAddress(id string) string { return "/pests/" + id + "/" }

// weedKillersAddress is the page of what grasses bear.
const weedKillersAddress = "/pests/weed-killers/"

// uses are what a treatment of each kind of pest uses.
var uses = map[string]string{"disease": "fungicide", "weed": "herbicide", "insect": "insecticide"}

// cautionsOf collects, in the order of the list, the cautions of what is used.
func (v viewer) cautionsOf(all bool, used ...string) []cautionView {
	var out []cautionView
	for _, c := range v.ws.Cautions {
		if all && c.Always || slices.ContainsFunc(c.Uses, func(u string) bool { return slices.Contains(used, u) }) {
			out = append(out, cautionView{c.ID, c.Short, c.Medium})
		}
	}
	return out
}

func (v viewer) pestPage(id, name, kind string) pestPage {
	return pestPage{ID: id, Name: name, Address: pestAddress(id), Kind: kind, KindWord: v.must("pests.kind", kind), Use: uses[kind]}
}

// finish adds what hangs on the rest.
func (v viewer) finish(p pestPage, cites []turf.Cite) pestPage {
	p.Cites = v.citeRows(cites)
	if p.Treats() {
		p.Short, p.Cautions = v.cautionsOf(false, p.Use), v.cautionsOf(true, p.Use)
	} else {
		p.Cautions = v.cautionsOf(true)
	}
	return p
}

func (v viewer) hosts(ids []string, host func(string) (int, bool), cites citeTable) []hostView {
	var out []hostView
	for rank := pest.MainHost; rank >= pest.NoHost; rank-- {
		h := hostView{Word: v.must("pests.host", trimmed(float64(rank)))}
		for _, id := range ids {
			if r, _ := host(id); r == rank {
				h.Grasses = append(h.Grasses, saidView{v.grassName(id), v.from(cites.of(id))})
			}
		}
		if len(h.Grasses) == 0 {
			continue
		}
		first := h.Grasses[0].From
		if !slices.ContainsFunc(h.Grasses, func(g saidView) bool { return g.From != first }) {
			h.From = first
			for i := range h.Grasses {
				h.Grasses[i].From = fromView{}
			}
		}
		out = append(out, h)
	}
	return out
}

func (v viewer) diseasePage(d *disease.Disease) pestPage {
	p := v.pestPage(d.ID, d.Name, "disease")
	p.Names, p.Scientific = d.Also, []string{d.Pathogen}
	p.About = saidView{plain(d.About), v.from(table(d.Cites, "about").of(""))}
	p.Look, p.Alikes, p.Culture = v.sayings(d.LookFor), v.sayings(d.LookAlikes), v.sayings(d.Culture)
	p.Worth = append([]saidView{v.said(d.Worth)}, v.trigger(d)...)
	for i, c := range tables(d.Cites, "group") {
		p.Fungicides = append(p.Fungicides, v.fungicide(d.Groups[i], c))
	}
	p.Placing = v.placing(d)
	if p.Treats() {
		p.Water = []saidView{v.said(d.Water)}
		p.Rotation = v.rotation(d)
	}
	for _, i := range d.Injury {
		if p.Treats() {
			p.Injuries = append(p.Injuries, v.injury(i))
		}
	}
	p.Hosts = v.hosts(d.Grasses(), d.Host, table(d.Cites, "hosts"))
	p.Model = v.model(d)
	seasons := tables(d.Cites, "window")
	for i := range d.Windows {
		p.Seasons = append(p.Seasons, v.soilSeason(&d.Windows[i], seasons[i]))
	}
	if d.Model.Name == disease.ModelNone {
		p.Unjudged = v.must("pests.invalid", pest.InvalidNoModel)
	}
	return v.finish(p, d.Cites)
}

// trigger tells what makes a treatment worth a thought, in figures.
func (v viewer) trigger(d *disease.Disease) []saidView {
	t, c := d.Treatment, table(d.Cites, "treatment")
	id := underscored(string(t.Trigger))
	out := []saidView{{v.say("pests.trigger."+id, "share", share(t.FromPct)), v.from(c.of("from_area"))}}
	if !math.IsNaN(t.YoungPct) {
		out = append(out, saidView{v.say("pests.trigger.young", "share", share(t.YoungPct)), v.from(c.of("young_from_area"))})
	}
	for _, x := range []struct {
		key string
		is  bool
	}{{"only_young", t.OnlyYoung}, {"while_growing", t.WhileGrows}, {"preventive", t.Preventive}} {
		if x.is {
			out = append(out, saidView{v.must("pests.trigger", x.key), v.from(c.of(x.key))})
		}
	}
	if t.Trigger != disease.TriggerNever {
		out = append(out, saidView{v.say("pests.trigger.buffer", "distance", v.bothPrec(t.BufferM, quantity.Distance, 0, 1)), v.from(c.of("buffer"))},
			saidView{v.say("pests.trigger.interval", "days", v.days(float64(t.IntervalDay))), v.from(c.of("interval"))})
	}
	return out
}

// share prints a share of a lawn, %.
func share(pct float64) string {
	if math.IsNaN(pct) {
		return ""
	}
	return quantity.Fixed(pct, 0) + "%"
}

func (v viewer) fungicide(g disease.FungicideGroup, c citeTable) fungicideView {
	fv := fungicideView{
		Code: g.Code, Ingredients: strings.Join(g.Ingredients, ", "), IngredientsFrom: v.from(c.of("ingredients")),
		Effect: v.must("pests.effect", "unsourced"), Interval: v.dayRange(g.DaysFrom, g.DaysTo), IntervalFrom: v.from(c.of("days_from")),
		Home: v.must("pests.home", g.Home), HomeFrom: v.from(c.of("home")),
	}
	// How well a group works is printed only where it was read.
	if pest.OnRecord(g.EffectFrom.Cite) {
		fv.Effect, fv.EffectFrom = v.must("pests.effect", g.Effect), v.from(g.EffectFrom.Cite)
	}
	if g.Resistant {
		id := "reported"
		if pest.OnRecord(c.of("resistant")) {
			id = "known"
		}
		fv.Resistant = v.must("pests.resistant", id)
	}
	return fv
}

// placing tells where a fungicide must act and how it gets there.
func (v viewer) placing(d *disease.Disease) []saidView {
	if len(d.Groups) == 0 {
		return nil
	}
	p, c := d.Placement, table(d.Cites, "placement")
	out := []saidView{{v.must("pests.target", string(p.Target)), v.from(c.of("target"))}}
	add := func(key, id string, slots ...string) {
		out = append(out, saidView{v.say("pests.place."+id, slots...), v.from(c.of(key))})
	}
	switch {
	case math.IsNaN(p.CarrierFromMM):
	case p.CarrierFromMM == p.CarrierToMM:
		add("carrier", "carrier", "volume", v.volume(p.CarrierFromMM))
	default:
		add("carrier_to", "carrier_range", "from", v.volume(p.CarrierFromMM), "to", v.volume(p.CarrierToMM))
	}
	if p.WaterInMM > 0 {
		add("water_in", "water_in", "depth", v.bothPrec(p.WaterInMM, quantity.Depth, 2, 0))
	}
	if !math.IsNaN(p.DryLeastH) {
		add("dry_least", "dry", "hours", v.inHours(p.DryLeastH))
	}
	if !math.IsNaN(p.DryBetterH) {
		add("dry_better", "dry_better", "hours", v.inHours(p.DryBetterH))
	}
	return out
}

// inHours prints hours, whole where they are.
func (v viewer) inHours(h float64) string {
	decimals := 1
	if h == math.Trunc(h) {
		decimals = 0
	}
	return quantity.OnePrec(h, quantity.Hours, v.Units, decimals)
}

// volume prints a volume of spray per area.
func (v viewer) volume(mm float64) string {
	const squareMetersPer1000Ft2 = 1000 * 0.3048 * 0.3048
	gallons := mm * squareMetersPer1000Ft2 / litersPerGallon
	return v.say("pests.volume", "gallons", quantity.Fixed(gallons, 0), "liters", quantity.Fixed(mm*100, 1))
}

// litersPerGallon follows from the gallon of 231 cubic inches and the inch of
// 25.4 mm, both exact.
const litersPerGallon = 231 * 25.4 * 25.4 * 25.4 / 1e6

func (v viewer) injury(i disease.Injury) saidView {
	s := v.said(i.Says)
	if len(i.Grasses) > 0 {
		names := make([]string, len(i.Grasses))
		for k, id := range i.Grasses {
			names[k] = v.grassName(id)
		}
		s.Text = strings.Join(names, ", ") + ": " + s.Text
	}
	return s
}

func (v viewer) rotation(d *disease.Disease) []saidView {
	r, c := d.Rotation, table(d.Cites, "rotation")
	out := []saidView{{Text: v.must("pests.rotation", "label")}}
	if r.MostInARow > 0 {
		out = append(out, saidView{v.say("pests.rotation.row", "n", trimmed(float64(r.MostInARow))), v.from(c.of("most_in_a_row"))})
	}
	if r.MostAYear > 0 {
		out = append(out, saidView{v.say("pests.rotation.year", "n", trimmed(float64(r.MostAYear))), v.from(c.of("most_a_year"))})
	}
	if r.TwoGroups {
		out = append(out, saidView{v.must("pests.rotation", "two"), v.from(c.of("two_groups"))})
	}
	return out
}

// model tells how a week's weather is graded, with the figures of the file.
func (v viewer) model(d *disease.Disease) []saidView {
	c := table(d.Cites, "model")
	base := v.from(c.of(""))
	var slots []string
	for _, t := range d.Model.Terms() {
		text := v.both(t.Value, t.Dim)
		switch t.Dim {
		case quantity.Number:
			text = trimmed(t.Value)
		case quantity.Depth:
			text = v.bothPrec(t.Value, t.Dim, 2, 1)
		case quantity.Percent:
			text = share(t.Value)
		case quantity.Hours:
			text = v.inHours(t.Value)
		}
		slots = append(slots, t.Key, text)
	}
	out := []saidView{{v.say("pests.model."+d.Model.Name, slots...), base}}
	if d.Model.SlowGrowth() {
		out = append(out, saidView{v.must("pests.model", "slow_growth"), base})
	}
	if len(c) > 0 && c[0].Note != "" {
		out = append(out, saidView{Text: plain(c[0].Note)})
	}
	if len(d.Model.Terms()) == 0 {
		return out
	}
	g := table(d.Cites, "grading")
	from := v.from(g.of(""))
	l := d.Limits
	say := func(id string, slots ...string) {
		out = append(out, saidView{v.say("pests.grading."+id, slots...), from})
	}
	say("limits", "watch", score(l.Watch), "act", score(l.Act), "leave_watch", score(l.LeaveWatch), "leave_act", score(l.LeaveAct))
	if l.CommonHost > 0 {
		say("common_host", "more", score(l.CommonHost))
	}
	say("confirmed", "score", score(l.Confirmed))
	if d.Cap < pest.Act {
		say("cap", "grade", v.must("pests.grade", d.Cap.String()))
	}
	if d.DormantStops {
		say("dormant")
	}
	return out
}

// score prints a week score or a limit of it.
func score(x float64) string {
	if math.IsNaN(x) {
		return ""
	}
	return quantity.Fixed(x, 2)
}
