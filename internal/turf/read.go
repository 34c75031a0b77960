package turf

import (
	"math"
	"slices"
	"strings"

	"ligule/internal/diag"
	"ligule/internal/quantity"
)

// The words that stand for a source which is no publication.
const (
	CommonPractice = "common practice"
	OwnDesign      = "own design"
)

// IsPublication reports whether the source is an id of the bibliography.
func (c Cite) IsPublication() bool { return c.Source != CommonPractice && c.Source != OwnDesign }

// ReadProfile reads the grass file of the id: every key is required but for
// the cold curve, what is not published for every grass, and notes. All
// mistakes go to the table's list; what is returned then is not for use. That
// the publications cited exist is for the caller to see, from the profile's
// Cites.
func ReadProfile(id string, t *diag.Table) *Profile {
	p := &Profile{ID: id, SoilGreenUpC: math.NaN(), WinterKillC: math.NaN()}
	if !diag.IsID(id) {
		t.Errorf("", "name it with lower-case words joined by hyphens", "the file's name %q is not an id", id)
	}
	p.Soft = t.Text("name")
	p.Name = strings.ReplaceAll(p.Soft, "\u00ad", "")
	p.Botanical = t.Text("botanical")
	p.Kind = Kind(t.One("kind", string(WarmSeason), string(CoolSeason)))
	for _, section := range [...]struct {
		name string
		read func(s *section)
	}{
		{"growth", p.readGrowth},
		{"dormancy", p.readDormancy},
		{"mowing", p.readMowing},
		{"nitrogen", p.readNitrogen},
		{"water", p.readWater},
		{"tolerance", p.readTolerance},
	} {
		if sub := t.Table(section.name, true); sub != nil {
			p.readSection(section.name, sub, section.read)
		}
	}
	t.Close()
	return p
}

// section is a table of a grass file while it is read.
type section struct {
	*diag.Table
	figures []string // keys that hold figures and hence need a source
}

func (p *Profile) readSection(name string, t *diag.Table, read func(*section)) {
	s := &section{Table: t}
	read(s)
	p.Cites = append(p.Cites, ReadCite(name, t))
	cited := map[string]bool{}
	for _, e := range t.Tables("except") {
		c := ReadCite(name, e)
		for _, key := range e.Texts("of", true) {
			switch {
			case !slices.Contains(s.figures, key) || !t.Has(key):
				e.Errorf("of", diag.DidYouMean(key, s.figures), "%q is not a figure of [%s]", key, name)
			case cited[key]:
				e.Errorf("of", "leave it out of one", "%q stands in two exceptions", key)
			default:
				cited[key] = true
				c.Section = name + "." + key
				p.Cites = append(p.Cites, c)
			}
		}
		e.Close()
	}
	t.Close()
}

// Cites reports whether a table itself writes where its figures come from.
func Cites(t *diag.Table) bool { return t.Writes("source") || t.Writes("standing") }

// ReadCite reads where the figures of a table come from: its source, standing
// and note, or those of the default that it lies over where it names none itself.
func ReadCite(name string, t *diag.Table) Cite {
	if Cites(t) {
		t = t.Alone()
	}
	c := Cite{Section: name, Source: t.Text("source"), Note: t.OptText("note"), Pos: t.Pos("source")}
	c.Standing = Standing(t.One("standing", Standings()...))
	switch {
	case c.Source == "" || c.Standing == "":
	case c.Source == CommonPractice && c.Standing != Practice && c.Standing != FromMemory:
		t.Errorf("standing", `write "practice" or "memory"`, "%q cannot stand as %s", c.Source, c.Standing)
	case c.Source == OwnDesign && c.Standing != Ours:
		t.Errorf("standing", `write "own design"`, "%q cannot stand as %s", c.Source, c.Standing)
	case c.IsPublication() && !diag.IsID(c.Source):
		t.Errorf("source", `write an id of sources.toml, "common practice" or "own design"`, "%q is not a source", c.Source)
	}
	return c
}

// ReadCiteOver is ReadCite for a table that may lie over a default. It tells what
// repeats the default, and which of the keys are written without a source: they were
// not read in that of the default.
func ReadCiteOver(name string, t *diag.Table, keys ...string) Cite {
	anew := Cites(t) && !(t.Repeats("source") && t.Repeats("standing"))
	for _, key := range t.Keys() {
		switch {
		case anew && (key == "source" || key == "standing" || key == "note"):
		case t.Repeats(key):
			t.TellRepeats(key)
		case slices.Contains(keys, key) && t.Base() != nil && !Cites(t):
			t.Errorf(key, "add source and standing", "%q was not read in the source of the default", key)
		}
	}
	return ReadCite(name, t)
}

// quantity reads a required quantity and holds it to a range, in d.Unit(). It
// is NaN where it cannot be read, so that one mistake is told once.
func (s *section) quantity(key string, d quantity.Dimension, least, most float64) float64 {
	if !s.Has(key) {
		s.Quantity(key, d) // records that it is missing
	}
	return s.optQuantity(key, d, least, most)
}

// optQuantity is quantity for a key that may be absent: then it is NaN.
func (s *section) optQuantity(key string, d quantity.Dimension, least, most float64) float64 {
	s.figures = append(s.figures, key)
	x, ok := s.OptQuantity(key, d)
	if !ok {
		return math.NaN()
	}
	s.within(key, x, d, least, most)
	return x
}

// number reads a required plain number as quantity does.
func (s *section) number(key string, least, most float64) float64 {
	s.figures = append(s.figures, key)
	if !s.Has(key) {
		s.Number(key) // records that it is missing
	}
	x, ok := s.OptNumber(key)
	if !ok {
		return math.NaN()
	}
	s.within(key, x, quantity.Number, least, most)
	return x
}

// ranges are wide: they catch a slip of the unit, not a matter of opinion.
func (s *section) within(key string, x float64, d quantity.Dimension, least, most float64) {
	if !(x >= least && x <= most) {
		s.Errorf(key, "use "+quantity.OnePrec(least, d, quantity.Metric, decimals(least))+" to "+quantity.OnePrec(most, d, quantity.Metric, decimals(most)),
			"%s is out of range", quantity.OnePrec(x, d, quantity.Metric, 2))
	}
}

// decimals returns how many a bound needs, at most one.
func decimals(x float64) int {
	if x == math.Trunc(x) {
		return 0
	}
	return 1
}

func (s *section) flag(key string) bool {
	s.figures = append(s.figures, key)
	return s.Bool(key)
}

func (s *section) inOrder(low, high string, lowValue, highValue float64) {
	if s.Has(low) && s.Has(high) && lowValue > highValue {
		s.Errorf(high, "it may not be less", "%s is less than %s", high, low)
	}
}

func (p *Profile) readGrowth(s *section) {
	p.OptimumC = s.quantity("optimum", quantity.Temperature, 10, 45)
	p.SpreadC = s.quantity("spread", quantity.TemperatureDifference, 1, 20)
	p.Capped = s.flag("capped")
	s.figures = append(s.figures, "cold_curve")
	p.ColdCurve = s.OptOne("cold_curve", TallFescueCubic)
	if p.ColdCurve != "" && p.Kind == WarmSeason {
		s.Errorf("cold_curve", "leave it out", "this curve is of a cool-season grass")
	}
	p.LightFullMol = s.quantity("light_full", quantity.Light, 1, 70)
	p.DayLengthLimits = s.flag("day_length_limits")
	p.PeakHeightMMD = s.quantity("peak_height_growth", quantity.GrowthRate, 0.1, 30)
}

func (p *Profile) readDormancy(s *section) {
	p.SoilDormantC = s.quantity("soil_below", quantity.Temperature, -5, 25)
	p.SoilGreenUpC = s.optQuantity("green_up_soil_above", quantity.Temperature, 0, 30)
	p.WinterKillC = s.optQuantity("winter_kill", quantity.Temperature, -50, 0)
	switch {
	case p.SoilGreenUpC <= p.SoilDormantC:
		s.Errorf("green_up_soil_above", "it has to be the warmer of the two", "the grass would green up in soil that puts it to sleep")
	case p.Kind == WarmSeason && !s.Has("green_up_soil_above"):
		s.Errorf("green_up_soil_above", `add green_up_soil_above = "65 °F"`, "missing; the winter sleep of a warm-season grass ends there")
	}
}

func (p *Profile) readMowing(s *section) {
	p.MowLowMM = s.quantity("low", quantity.Depth, 2, 250)
	p.MowUsualMM = s.quantity("usual", quantity.Depth, 2, 250)
	p.MowHighMM = s.quantity("high", quantity.Depth, 2, 250)
	s.inOrder("low", "usual", p.MowLowMM, p.MowUsualMM)
	s.inOrder("usual", "high", p.MowUsualMM, p.MowHighMM)
}

func (p *Profile) readNitrogen(s *section) {
	p.NLowGM2 = s.quantity("low", quantity.NitrogenRate, 0, 50)
	p.NMediumGM2 = s.quantity("medium", quantity.NitrogenRate, 0, 50)
	p.NHighGM2 = s.quantity("high", quantity.NitrogenRate, 0, 50)
	p.NSingleGM2 = s.quantity("single", quantity.NitrogenRate, 0, 7.5)
	s.inOrder("low", "medium", p.NLowGM2, p.NMediumGM2)
	s.inOrder("medium", "high", p.NMediumGM2, p.NHighGM2)
}

func (p *Profile) readWater(s *section) {
	p.Kc = s.number("kc", 0.1, 1.3)
	p.KcDormant = s.number("kc_dormant", 0, 1.3)
	p.RootDepthMM = s.quantity("root_depth", quantity.Depth, 20, 2000)
	p.Depletion = s.number("depletion", 0.1, 0.8)
	s.inOrder("kc_dormant", "kc", p.KcDormant, p.Kc)
}

func (p *Profile) readTolerance(s *section) {
	word := func(key string) string {
		s.figures = append(s.figures, key)
		return s.One(key, "low", "low to medium", "medium", "medium to high", "high", "not rated")
	}
	p.Shade, p.Drought, p.Salt, p.Cold = word("shade"), word("drought"), word("salt"), word("cold")
}
