package reference

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"ligule/internal/advice"
	"ligule/internal/civil"
	"ligule/internal/homeuse"
	"ligule/internal/law"
	"ligule/internal/message"
	"ligule/internal/pest"
	"ligule/internal/quantity"
	"ligule/internal/turf"
	"ligule/internal/workspace"
)

// Pest is all that is told of one disease, weed or insect, in the order of the
// ladder: look, tend, and only then treat.
type Pest struct {
	ID         string        `json:"id"`
	Name       string        `json:"name"`
	Kind       string        `json:"kind"` // "disease", "weed" or "insect"
	KindWord   *message.Said `json:"kind_word"`
	Plural     *message.Said `json:"plural"`               // of the kind
	Use        string        `json:"use"`                  // what a treatment would use: "fungicide", …
	Names      []string      `json:"names,omitempty"`      // others
	Scientific []string      `json:"scientific,omitempty"` // names
	About      Statement     `json:"about"`
	LifeCycle  *message.Said `json:"life_cycle,omitempty"`
	Sort       *message.Said `json:"sort,omitempty"`       // of a weed
	Nitrogen   *Statement    `json:"nitrogen,omitempty"`   // what it does to a disease
	Confidence *message.Said `json:"confidence,omitempty"` // in its timing
	Unjudged   *message.Said `json:"unjudged,omitempty"`   // why the weekly advice never speaks of it

	Look    []Statement `json:"look,omitempty"`
	Alikes  []Statement `json:"alikes,omitempty"`
	Samples []Sample    `json:"samples,omitempty"`
	Culture []Statement `json:"culture,omitempty"`
	Worth   []Statement `json:"worth,omitempty"`
	Counts  []Count     `json:"counts,omitempty"`

	SampleSizes []*message.Said `json:"sample_sizes,omitempty"` // in which the counts are told too

	Fungicides   []Fungicide   `json:"fungicides,omitempty"`
	Weedkillers  []Weedkiller  `json:"weedkillers,omitempty"`
	Insecticides []Insecticide `json:"insecticides,omitempty"`
	Lasting      bool          `json:"lasting,omitempty"` // a lawn that had it may be treated before it is seen
	Placing      []Statement   `json:"placing,omitempty"`
	Water        []Statement   `json:"water,omitempty"`
	Spots        *SpotTable    `json:"spots,omitempty"`
	Injuries     []Statement   `json:"injuries,omitempty"`
	Rotation     []Statement   `json:"rotation,omitempty"`
	Home         []Statement   `json:"home,omitempty"`    // whose job the rest is, and what limits what is named
	Classes      []string      `json:"classes,omitempty"` // of ingredients, whose cautions stand
	Afterward    []Statement   `json:"afterward,omitempty"`

	Hosts   []Hosts     `json:"hosts,omitempty"`
	Model   []Statement `json:"model,omitempty"`
	Seasons []Season    `json:"seasons,omitempty"`
	Timings []Timing    `json:"timings,omitempty"`
	Cites   []Cite      `json:"cites,omitempty"`
}

// Treats reports whether the page names anything to treat with.
func (p Pest) Treats() bool {
	return len(p.Fungicides)+len(p.Weedkillers)+len(p.Insecticides) > 0
}

// Statement is a sentence, a figure or a name with where it comes from; the zero
// Source where that needs no word beside it.
type Statement struct {
	Text *message.Said `json:"text"`
	From Source        `json:"from,omitzero"`
}

// Hosts are the grasses that suffer alike from it.
type Hosts struct {
	Word    *message.Said `json:"word"`
	Grasses []Statement   `json:"grasses"`
	From    Source        `json:"from,omitzero"` // of all, where they agree
}

// Cite says where figures of a file come from.
type Cite struct {
	Section string        `json:"section"`
	Note    *message.Said `json:"note,omitempty"`
	Source  Source        `json:"source"`
}

// maker makes the pages of pests from what is on file, as of a date.
type maker struct {
	ws    *workspace.Workspace
	as    civil.Date
	named []homeuse.Answer // what the page offers
	rest  bool             // a licensed professional has more
}

// choose sorts out which active ingredients home owners may be told of, in all
// states of the advisory, and notes them for the page.
func (m *maker) choose(names []string, grass ...string) homeuse.Choice {
	c := m.ws.Pests.Ingredients.Choose(names, homeuse.Ask{Date: m.as, States: m.ws.States(), Grass: grass})
	if len(grass) == 0 {
		m.rest = m.rest || c.Licensed
		for _, a := range c.Offered {
			if !(homeuse.Choice{Offered: m.named}).Has(a.Name) {
				m.named = append(m.named, a)
			}
		}
	}
	return c
}

// home tells what goes with all that the page has named so far, its classes, and
// where it was read who may use it.
func (m *maker) home() (says []Statement, classes []string, cites []Cite) {
	for _, text := range append((homeuse.Choice{Offered: m.named, Licensed: m.rest}).Says(), m.barred()...) {
		says = append(says, Statement{Text: message.Say(text)})
	}
	var read []turf.Cite
	for _, a := range m.named {
		classes = append(classes, a.Class)
		read = append(read, a.Cite)
	}
	return says, classes, m.cites(read)
}

// barred tells which local laws bar something of what is named.
func (m *maker) barred() (out []message.Message) {
	for _, r := range m.ws.Ordinances {
		for i := range r.Rules {
			rule := &r.Rules[i]
			if !r.OnPesticides() || r.Status != law.StatusInForce || m.as < max(r.EffectiveFrom, rule.EffectiveFrom) || !r.EffectiveTo.IsZero() && m.as > r.EffectiveTo {
				continue
			}
			var names []string
			for _, a := range m.named {
				if m.ws.Pests.Ingredients.Barred(a.Name, rule.Targets, rule.OnlyProducts) {
					names = append(names, a.Name)
				}
			}
			what := message.Texts(message.Comma, names...)
			if len(rule.OnlyProducts) == 0 {
				what = message.WordsOr(message.Comma, "law_target", rule.Targets...)
			}
			if len(names) > 0 {
				out = append(out, message.New("home.local_law").Name("place", r.JurisdictionName).Name("law", r.Title).Name("rule", law.Pinpoint(r, rule)).
					Date("checked", r.CheckedOn).With("names", what))
			}
		}
	}
	return out
}

// Pests makes the pages of pests in the order of the book: diseases, weeds,
// insects.
func Pests(ws *workspace.Workspace, as civil.Date) []Pest {
	if ws.Pests == nil {
		return nil
	}
	var out []Pest
	add := func(make func(*maker) Pest) {
		m := &maker{ws: ws, as: as}
		p := make(m)
		var cites []Cite
		p.Home, p.Classes, cites = m.home()
		p.Cites = append(p.Cites, cites...)
		out = append(out, p)
	}
	for _, d := range ws.Pests.Diseases {
		add(func(m *maker) Pest { return m.disease(d) })
	}
	for _, w := range ws.Pests.Weeds {
		add(func(m *maker) Pest { return m.weed(w) })
	}
	for _, i := range ws.Pests.Insects {
		add(func(m *maker) Pest { return m.insect(i) })
	}
	return out
}

func newPest(id, name string, kind advice.Topic) Pest {
	return Pest{ID: id, Name: name, Kind: string(kind), KindWord: say("pests.kind." + string(kind)), Plural: say("pests.kinds." + string(kind)), Use: kind.Treatment()}
}

// plain is a text of the author's; nil for none.
func plain(text string) *message.Said {
	if text == "" {
		return nil
	}
	return message.Say(message.Plain(text))
}

// from is where a sentence or a figure comes from, in a word beside it: a
// publication that was read, or the plain truth that it is from memory or our
// own. What is common practice has no label.
func (m maker) from(c turf.Cite) Source {
	switch {
	case c.Source == "": // nothing is told
	case !pest.OnRecord(c):
		return Source{Label: say("pests.from_memory")}
	case c.IsPublication():
		return SourceOf(m.ws, c.Source, "")
	case c.Standing == "own design":
		return Source{Label: say("pests.from_us")}
	}
	return Source{}
}

// read is the publication in which a figure was read; none for the rest, of
// which the page says as a whole that it is from memory or practice.
func (m maker) read(c turf.Cite) Source {
	if pest.OnRecord(c) && c.IsPublication() {
		return m.from(c)
	}
	return Source{}
}

// text is a text of the author's with its source.
func (m maker) text(s string, c turf.Cite) Statement { return Statement{plain(s), m.from(c)} }

// cited is a message with its source.
func (m maker) cited(text message.Message, c turf.Cite) Statement {
	return Statement{message.Say(text), m.from(c)}
}

// unsourced are sentences whose source stands for the whole file.
func unsourced(texts ...string) []Statement {
	var out []Statement
	for _, t := range texts {
		if t != "" {
			out = append(out, Statement{Text: plain(t)})
		}
	}
	return out
}

// grass is the name of a grass; of one that the advisory does not keep its id.
func (m maker) grass(id string) string {
	if g, ok := m.ws.Grass(id); ok {
		return g.Name
	}
	return id
}

func (m maker) grasses(ids []string) message.Value {
	return message.Each(message.Comma, ids, func(id string) message.Value { return message.Text(m.grass(id)) })
}

// hosts lists the grasses by how much they suffer.
func (m maker) hosts(h pest.Hosts) []Hosts {
	var out []Hosts
	for rank := pest.MainHost; rank >= pest.NoHost; rank-- {
		alike := Hosts{Word: say("pests.host." + strconv.Itoa(rank))}
		for _, id := range h.Grasses() {
			if r := h.Rank(id); r.Value == rank {
				alike.Grasses = append(alike.Grasses, m.text(m.grass(id), r.Cite))
			}
		}
		if len(alike.Grasses) == 0 {
			continue
		}
		first := alike.Grasses[0].From
		if !slices.ContainsFunc(alike.Grasses, func(g Statement) bool { return !g.From.Equal(first) }) {
			alike.From = first
			for i := range alike.Grasses {
				alike.Grasses[i].From = Source{}
			}
		}
		out = append(out, alike)
	}
	return out
}

// cites lists all cites of a file, each distinct one once.
func (m maker) cites(all []turf.Cite) []Cite {
	var out []Cite
	seen := map[[4]string]bool{}
	for _, c := range all {
		key := [4]string{c.Section, c.Source, string(c.Standing), c.Note}
		if seen[key] {
			continue
		}
		seen[key] = true
		out = append(out, Cite{c.Section, plain(c.Note), SourceOf(m.ws, c.Source, c.Standing)})
	}
	return out
}

// temperature is one as pages print it.
func temperature(x float64) message.Value { return message.Usual(x, quantity.Temperature) }

// usual is a figure with the decimals of its dimension.
func usual(f pest.Figure) message.Value { return message.Usual(f.Value, f.Of) }

func depth(f pest.Figure) message.Value { return message.Both(f.Value, f.Of, 2, 0) }

// hours are whole where they can be.
func hours(f pest.Figure) message.Value {
	decimals := 1
	if f.Value == math.Trunc(f.Value) {
		decimals = 0
	}
	return message.One(f.Value, f.Of, decimals, decimals)
}

// days is a range of days, "14 to 28 days"; known is false where there is none.
func days(r pest.DayRange) (v message.Value, known bool) {
	switch {
	case r == pest.DayRange{}:
		return v, false
	case r.From == r.To:
		return message.DayCount(r.To), true
	}
	return message.Of(message.New("pests.days").Count("from", r.From).DayCount("to", r.To)), true
}

// underscored is a code as the key of a phrase.
func underscored(code string) string { return strings.ReplaceAll(code, " ", "_") }
