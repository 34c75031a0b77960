package reference

import (
	"slices"

	"ligule/internal/advice"
	"ligule/internal/herbicide"
	"ligule/internal/homeuse"
	"ligule/internal/message"
	"ligule/internal/pest"
	"ligule/internal/quantity"
	"ligule/internal/stage"
	"ligule/internal/turf"
)

// account fills in what weeds and insects have in common. What it says stands
// on the sources of the text as a whole, which are listed.
func (m maker) account(kind advice.Topic, a *stage.Account) Pest {
	p := newPest(a.ID, a.Name, kind)
	p.Names, p.Scientific = a.Also, a.Botanical
	p.About, p.LifeCycle, p.Confidence = Statement{Text: plain(a.About)}, plain(a.LifeCycle), say("pests.confidence."+a.Confidence)
	p.Look, p.Culture, p.Worth = unsourced(a.Look), unsourced(slices.Concat(a.Cultural, a.Feeding)...), unsourced(a.Worth, a.Caution)
	for _, alike := range a.LookAlikes {
		p.Alikes = append(p.Alikes, m.text(alike.Value, alike.Cite))
	}
	p.Hosts = m.hosts(a.Hosts)
	for i := range a.Timings {
		p.Timings = append(p.Timings, m.timing(&a.Timings[i]))
	}
	if !a.Weekly {
		p.Unjudged = say("pests.invalid." + pest.InvalidPageOnly)
	}
	p.Cites = m.cites(a.Cites)
	return p
}

// Weedkiller is one way to treat a weed.
type Weedkiller struct {
	Use         *message.Said `json:"use"`
	When        Statement     `json:"when"`
	Stages      []string      `json:"stages"` // titles of those that it fits
	Ingredients []Bearing     `json:"ingredients"`
}

// Bearing is an active ingredient and how grasses bear it.
type Bearing struct {
	Name    *message.Said `json:"name"`
	Group   *message.Said `json:"group"`
	Class   string        `json:"class,omitempty"` // id
	Grasses []Tolerated   `json:"grasses"`
}

// Tolerated lists the grasses that bear it alike.
type Tolerated struct {
	Word    *message.Said `json:"word"`
	Grasses []Statement   `json:"grasses"`
}

func (m *maker) weed(w *stage.Weed) Pest {
	p := m.account(advice.Weed, &w.Account)
	p.Sort = say("pests.weed_kind." + w.Kind)
	for _, t := range w.Treat {
		use := "pests.use.after"
		if t.Before {
			use = "pests.use.before"
		}
		one := Weedkiller{Use: say(use), When: m.text(t.When.Value, t.When.Cite), Stages: stageTitles(&w.Account, t.Stages)}
		offered := m.choose(t.Ingredients)
		for _, o := range offered.Offered {
			if a, ok := m.ws.Pests.Herbicides.Ingredient(o.Name); ok {
				one.Ingredients = append(one.Ingredients, m.bearing(o.Name, offered.Named(o.Name), a))
			}
		}
		if len(one.Ingredients) > 0 {
			p.Weedkillers = append(p.Weedkillers, one)
		}
	}
	if w.WaterIn.Known() {
		within := w.WaterInWithin
		p.Water = append(p.Water, m.text(w.WaterInSays, w.WaterIn.Cite),
			m.cited(message.New("pests.place.water_in_within").With("depth", depth(w.WaterIn)).DayCount("days", within.Value), within.Cite))
		if second, ok := days(w.Second.Value); ok {
			p.Water = append(p.Water, m.cited(message.New("pests.place.second").With("days", second), w.Second.Cite))
		}
	}
	p.Afterward = unsourced(w.AfterwardSays, w.OverseedSays)
	return p
}

// stageTitles names the stages that a treatment fits.
func stageTitles(a *stage.Account, ids []string) []string {
	var out []string
	for _, id := range ids {
		for _, t := range a.Timings {
			for _, s := range t.Stages {
				if s.ID == id {
					out = append(out, s.Title)
				}
			}
		}
	}
	return out
}

// tolerances are in the order of trust.
var tolerances = [...]herbicide.Tolerance{herbicide.ToleranceSafe, herbicide.ToleranceCaution, herbicide.ToleranceDormant, herbicide.ToleranceNone}

// bearing lists how the grasses of the advisory bear an ingredient.
func (m *maker) bearing(name string, named message.Value, a *herbicide.Ingredient) Bearing {
	b := Bearing{Name: value(named), Group: hrac(a.HRAC), Class: a.Class}
	for _, tol := range tolerances {
		alike := Tolerated{Word: toleranceWord(tol)}
		for _, g := range m.ws.Grasses {
			if borne := m.borne(name, a, g); borne.Value == tol {
				alike.Grasses = append(alike.Grasses, Statement{plain(g.Name), m.read(borne.Cite)})
			}
		}
		if len(alike.Grasses) > 0 {
			b.Grasses = append(b.Grasses, alike)
		}
	}
	return b
}

// borne is how a grass bears an ingredient: not at all where it may not be put on
// that grass.
func (m *maker) borne(name string, a *herbicide.Ingredient, g *turf.Profile) pest.Cited[herbicide.Tolerance] {
	if len(m.choose([]string{name}, g.ID, string(g.Kind)).Offered) == 0 {
		return pest.Cited[herbicide.Tolerance]{Value: herbicide.ToleranceNone}
	}
	return a.Borne(g.ID)
}

func toleranceWord(t herbicide.Tolerance) *message.Said {
	return say("pests.tolerance." + underscored(string(t)))
}

// hrac names the group of a weed killer; "0" is the list's own sign for none.
func hrac(code string) *message.Said {
	if code == "0" {
		return say("pests.no_hrac")
	}
	return message.Say(message.New("pests.hrac").Name("code", code))
}

// Sample is a way to count.
type Sample struct {
	Method string    `json:"method"`
	Does   Statement `json:"does"`
}

// Count is how many are worth a thought.
type Count struct {
	Of    string        `json:"of,omitempty"` // which of the group
	Count Statement     `json:"count"`
	Note  *message.Said `json:"note,omitempty"`

	Samples []*message.Said `json:"samples,omitempty"` // the same in samples of each size
}

// Insecticide is a group of the Insecticide Resistance Action Committee against
// an insect.
type Insecticide struct {
	Group       string        `json:"group,omitempty"` // "" of living agents
	GroupFrom   Source        `json:"group_from,omitzero"`
	Ingredients *message.Said `json:"ingredients"` // that home owners may use
	Role        *message.Said `json:"role"`
	When        Statement     `json:"when"`
	Stages      []string      `json:"stages"` // titles of those that it fits
}

func (m *maker) insect(i *stage.Insect) Pest {
	p := m.account(advice.Insect, &i.Account)
	var sizes []stage.Samples
	for _, s := range i.Samples {
		p.Samples = append(p.Samples, Sample{s.Method, m.text(s.Does.Value, s.Does.Cite)})
		sizes = append(sizes, s.Samples...)
	}
	for _, s := range sizes {
		p.SampleSizes = append(p.SampleSizes, message.Say(message.New("pests.samples."+s.Shape).Count("n", s.N).
			With("side", message.One(s.SideMM, quantity.Depth, 0, 0)).With("area", message.One(s.AreaM2(), quantity.Area, 2, 2))))
	}
	for _, t := range i.Counts {
		c := Count{Of: t.Of, Count: m.cited(density(t), t.Cite), Note: plain(t.Note)}
		for _, s := range sizes {
			c.Samples = append(c.Samples, value(span(t.LowPerM2*s.AreaM2(), t.HighPerM2*s.AreaM2(), 0)))
		}
		p.Counts = append(p.Counts, c)
	}
	p.Lasting = i.Lasting
	if i.Lasting {
		p.Worth = append(p.Worth, Statement{Text: say("pests.worth.history")})
	}
	for _, t := range i.Treat {
		offered := m.choose(t.Ingredients).Offered
		if len(offered) == 0 {
			continue
		}
		group := t.IRAC.Value
		if group == "none" {
			group = ""
		}
		p.Insecticides = append(p.Insecticides, Insecticide{
			Group: group, GroupFrom: m.from(t.IRAC.Cite), Ingredients: value(homeuse.Names(offered)), Role: say("pests.role." + t.Role),
			When: m.text(t.When.Value, t.When.Cite), Stages: stageTitles(&i.Account, t.Stages),
		})
	}
	p.Injuries = unsourced(i.Blooms, i.Enemies)
	p.Afterward = unsourced(i.NextYear)
	return p
}

// density is a threshold as its source has it, with counts per square meter where
// those are not less than one.
func density(t stage.Threshold) message.Message {
	if t.HighPerM2 < 1 {
		return message.Just(t.Says())
	}
	return message.New("pests.density").With("as", t.Says()).With("per_m2", span(t.LowPerM2, t.HighPerM2, 0))
}
