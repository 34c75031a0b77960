package stage

import (
	"math"
	"regexp"
	"strconv"

	"ligule/internal/diag"
	"ligule/internal/pest"
	"ligule/internal/quantity"
	"ligule/internal/turf"
)

// Insect is one insect or mite, or a group that is dealt with alike.
type Insect struct {
	Account
	Blooms   string // what to do about flowers and bees before treating
	Enemies  string // who eats it, and is spared by not treating
	Counts   []Threshold
	Samples  []Sampling
	Treat    []InsectTreatment
	Lasting  bool // a lawn that had it last year may be treated before it is seen
	NextYear string
}

// Threshold is how many are worth treating, between Low and High per square
// meter, as counts on lawns are: the vigor of the turf decides.
type Threshold struct {
	Of        string // which of the group
	LowPerM2  float64
	HighPerM2 float64
	Low, High Density // as the source gives them
	Note      string
	Cite      turf.Cite
}

// Sampling is a way to count.
type Sampling struct {
	Method  string
	Does    pest.Cited[string]
	Samples []Samples // other sizes in which it may be done
}

// Samples are some of one shape and size.
type Samples struct {
	N      int
	Shape  string  // "squares", "plugs" or "cans"
	SideMM float64 // of plugs and cans the diameter
}

// AreaM2 returns the area of all of them, m².
func (s Samples) AreaM2() float64 {
	one := RoundSampleM2(s.SideMM / 1000)
	if s.Shape == square {
		one = SquareSampleM2(s.SideMM / 1000)
	}
	return float64(s.N) * one
}

// square is the shape of samples that are not round.
const square = "squares"

// samplesForm: "4 squares of 6 in", "10 plugs of 4 in".
var samplesForm = regexp.MustCompile(`^([1-9][0-9]?) (squares|plugs|cans) of ([0-9.]+ (?:in|cm))$`)

func readSamples(t *diag.Table) []Samples {
	var out []Samples
	for i, text := range t.Texts("samples", false) {
		parts := samplesForm.FindStringSubmatch(text)
		mm := math.NaN()
		if parts != nil {
			mm, _ = quantity.Parse(parts[3], quantity.Depth)
			mm = quantity.Tenths(mm) // as typed, whatever the factor leaves
		}
		if !(mm >= leastSampleMM && mm <= mostSampleMM) {
			t.Errorf("samples["+strconv.Itoa(i)+"]", `write "4 squares of 6 in", "10 plugs of 4 in" or "3 cans of 4 in"`, "%q are no samples", text)
			continue
		}
		n, _ := strconv.Atoi(parts[1])
		out = append(out, Samples{n, parts[2], mm})
	}
	return out
}

// A sample of a lawn is as wide as a knife or can cuts, 2 in to a yard.
const leastSampleMM, mostSampleMM = 50, 1000

// InsectTreatment is one group of insecticides against it.
type InsectTreatment struct {
	IRAC        pest.Cited[string] // group of the Insecticide Resistance Action Committee; "none" for living agents
	Ingredients []string
	Role        string // "preventive", "curative", "bait" or "biological"
	Stages      []string
	When        pest.Cited[string]
	Dry         pest.Figure // hours without rain or watering after it; not told for what is watered in
}

// CountVerdict is what a count says.
type CountVerdict string

// The verdicts.
const (
	CountUnknown CountVerdict = ""
	CountLive    CountVerdict = "live with it" // below the range
	CountDepends CountVerdict = "depends"      // within the range
	CountWorth   CountVerdict = "worth it"     // at the upper end or above it
)

// Judge holds a count per square meter against the threshold. The ranges are
// guidelines: some lawns lose cover at 4 or 5 grubs per square foot because
// animals dig for them, others carry 25 to 30 unharmed (University of
// Massachusetts, Best management practices for lawns).
func (t Threshold) Judge(perM2 float64) CountVerdict {
	// Counts are few and whole; a thousandth keeps the conversion of areas
	// from deciding.
	perM2 = math.Round(perM2*1000) / 1000
	switch {
	case math.IsNaN(perM2) || perM2 < 0:
		return CountUnknown
	case perM2 < math.Round(t.LowPerM2*1000)/1000:
		return CountLive
	case perM2 < math.Round(t.HighPerM2*1000)/1000:
		return CountDepends
	}
	return CountWorth
}

// m2PerFt2 follows from the foot, exact.
const m2PerFt2 = quantity.MeterPerFoot * quantity.MeterPerFoot

// SquareSampleM2 returns the area of a square sample, m², from its side, m.
func SquareSampleM2(sideM float64) float64 { return sideM * sideM }

// RoundSampleM2 returns the area of a round sample, m², from its diameter, m.
func RoundSampleM2(diameterM float64) float64 { return math.Pi / 4 * diameterM * diameterM }

// ReadInsect reads the insect file of the id, over what insects say alike. All
// mistakes go to the table's list; what is returned then is not for use. That publications and grasses
// exist is for the caller to see, from Cites and Hosts.
func ReadInsect(id string, t *diag.Table, defaults *diag.Table) *Insect {
	file := &pest.File{Table: t, Defaults: defaults.Table("insect", false)}
	file.Prose(file.Defaults, "blooms", "enemies")
	i := &Insect{Account: readAccount(id, file)}
	i.Blooms, i.Enemies = t.Text("blooms"), t.Text("enemies")
	i.NextYear = t.OptText("next_year")
	i.Lasting = t.Bool("treat_by_history")
	for _, c := range t.Tables("threshold") {
		th := Threshold{Of: c.OptText("of")}
		file.Figures("threshold", c, func(f *pest.Figures) {
			f.Holds("low", "high")
			th.Cite = f.Cite
			low, high := readDensity(f.Table, "low"), readDensity(f.Table, "high")
			if high.perM2() < low.perM2() {
				f.Errorf("high", "it may not be less", "high is less than low")
			}
			th.Low, th.High, th.LowPerM2, th.HighPerM2 = low, high, low.perM2(), high.perM2()
			th.Note = f.OptText("says")
		})
		i.Counts = append(i.Counts, th)
	}
	samplings := t.Tables("sampling")
	for _, s := range samplings {
		if !file.Like("sampling", s) {
			continue
		}
		file.Figures("sampling", s, func(f *pest.Figures) {
			i.Samples = append(i.Samples, Sampling{f.Text("method"), pest.Cited[string]{Value: f.Text("does"), Cite: f.Cite}, readSamples(f.Table)})
		})
	}
	if len(samplings) == 0 {
		t.Errorf("sampling", "add [[sampling]]", "nothing says how to look for it")
	}
	for _, tr := range t.Tables("treat") {
		i.Treat = append(i.Treat, i.readTreatment(file, tr))
	}
	t.Close()
	i.Cites = file.Cites
	return i
}

func (i *Insect) readTreatment(file *pest.File, t *diag.Table) InsectTreatment {
	irac, when := t.Text("irac"), t.Text("when")
	one := InsectTreatment{Role: t.One("role", "preventive", "curative", "bait", "biological"), Stages: i.readStages(t)}
	file.Figures("treat "+irac, t, func(f *pest.Figures) {
		one.IRAC, one.When = pest.Cite(f, "irac", irac), pest.Cited[string]{Value: when, Cite: f.Cite}
		one.Dry = f.Opt("dry", quantity.Hours, 1, 96)
		f.Holds("ingredients")
		one.Ingredients = f.Texts("ingredients", true)
		if len(one.Ingredients) == 0 {
			f.Errorf("ingredients", "name one", "empty")
		}
	})
	return one
}

// Density is a count per area as an author types it.
type Density struct {
	Count float64
	Areas float64 // how many of the area: 4 of ft2
	Area  string  // "ft2", "yd2", "m2" or "acre"; "" where it could not be read
}

// areasM2 are the areas of a density, m².
var areasM2 = map[string]float64{"ft2": m2PerFt2, "yd2": 9 * m2PerFt2, "m2": 1, "acre": 43560 * m2PerFt2}

// perM2 is NaN where the density could not be read.
func (d Density) perM2() float64 {
	if d.Area == "" {
		return math.NaN()
	}
	return d.Count / (d.Areas * areasM2[d.Area])
}

// densityForm: "8 per ft2", "2 per 4 ft2", "15 per yd2".
var densityForm = regexp.MustCompile(`^([0-9]+(?:\.[0-9]+)?) per (([0-9]+) )?(ft2|yd2|m2|acre)$`)

func readDensity(t *diag.Table, key string) Density {
	text := t.Text(key)
	parts := densityForm.FindStringSubmatch(text)
	if parts == nil {
		if text != "" {
			t.Errorf(key, `write "8 per ft2", "2 per 4 ft2", "15 per yd2", "3 per m2" or "20 per acre"`, "%q is no count per area", text)
		}
		return Density{}
	}
	d := Density{Areas: 1, Area: parts[4]}
	d.Count, _ = strconv.ParseFloat(parts[1], 64)
	if parts[3] != "" {
		d.Areas, _ = strconv.ParseFloat(parts[3], 64)
	}
	if d.Areas == 0 || d.Count > 1e6 {
		t.Errorf(key, "use a plausible count", "%q is out of range", text)
		return Density{}
	}
	return d
}
