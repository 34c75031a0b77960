package stage

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"ligule/internal/agromet"
	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/pest"
	"ligule/internal/quantity"
)

// timingReader reads one [[model]] table.
type timingReader struct {
	file *pest.File
	m    Timing
	name string   // of the section, for cites
	ids  []string // of the stages
}

func readTiming(file *pest.File, t *diag.Table) Timing {
	r := timingReader{file: file, name: "model"}
	r.m.Of = t.OptText("of")
	if r.m.Of != "" {
		r.name += " of " + r.m.Of
	}
	file.Figures(r.name, t, r.read)
	return r.m
}

func (r *timingReader) read(f *pest.Figures) {
	m := &r.m
	m.Cite = f.Cite
	f.Holds("start")
	m.Start = civil.MonthDay{Month: 1, Day: 1}
	if f.Has("start") {
		m.Start = f.MonthDay("start")
	}
	m.Momentary, m.Compare = f.Flag("day_by_day").Value, f.Bool("compare")
	m.ValidFor = f.Text("valid_for")
	if strings.HasSuffix(m.ValidFor, ".") {
		f.Errorf("valid_for", "leave out the full stop at its end, which the page sets", "%q is said within a sentence", m.ValidFor)
	}
	r.readWarmth(f)
	m.Region = pest.ReadRegion(f)
	stages := slices.DeleteFunc(f.Tables("stage"), func(s *diag.Table) bool { return !r.file.Like("stage", s) })
	for _, s := range stages {
		r.ids = append(r.ids, s.ID("id"))
	}
	for i, s := range stages {
		if slices.Index(r.ids, r.ids[i]) < i && r.ids[i] != "" {
			s.Alone().Errorf("id", "keep one of them", "%q stands twice", r.ids[i])
		}
		m.Stages = append(m.Stages, r.readStage(i, s))
	}
	if f.Has("generation_from") {
		m.Clock = r.stageAt(f.Table, "generation_from", len(r.ids))
	}
	if len(stages) < 2 || len(stages) > math.MaxInt8 {
		f.Errorf("stage", "add [[model.stage]]", "a model has 2 to %d stages, not %d", math.MaxInt8, len(stages))
	}
	for i, s := range f.Tables("shift") {
		m.Shifts = append(m.Shifts, r.readShift(i, s))
	}
	if m.Warmth.Method == "" && r.asks(ReachSum) {
		f.Errorf("method", `add method = "average"`, "degree-days are asked for and not summed")
	}
	if m.Warmth.Method != "" && !r.asks(ReachSum) && math.IsNaN(m.Generation) {
		f.Errorf("method", "leave it out", "degree-days are summed and never asked for")
	}
}

// asks reports whether any stage looks at clauses of the kind.
func (r *timingReader) asks(k ClauseKind) bool {
	for _, s := range r.m.Stages {
		for _, c := range s.When {
			if slices.ContainsFunc(c.Value, func(c Clause) bool {
				return c.Kind == k || k == ReachSum && c.Kind == AfterStage && !math.IsNaN(c.AtLeast)
			}) {
				return true
			}
		}
	}
	return false
}

func (r *timingReader) readWarmth(f *pest.Figures) {
	f.Holds("method", "temperature", "cutoff", "generation")
	m := &r.m
	m.Warmth = agromet.DegreeDays{BaseC: math.NaN(), UpperC: math.Inf(1)}
	m.Generation, m.StillAtMost, m.StillAtLeast = math.NaN(), math.NaN(), math.NaN()
	m.Warmth.Method = agromet.DegreeDayMethod(f.OptOne("method",
		string(agromet.AverageMethod), string(agromet.CappedAverageMethod), string(agromet.ModifiedMethod), string(agromet.SineMethod), string(agromet.DoubleSineMethod), string(agromet.DailyMeanMethod), string(agromet.WarmDaysMethod)))
	if m.Warmth.Method == "" {
		for _, key := range [...]string{"temperature", "base", "upper", "cutoff", "generation", "generation_from", "still_at_most", "still_at_least"} {
			if f.Has(key) {
				f.Errorf(key, "add method, or leave it out", "no degree-days are summed")
				f.Raw(key)
			}
		}
		return
	}
	m.Of5cm = f.One("temperature", "air", "soil") == "soil"
	if m.Of5cm && m.Warmth.Method != agromet.DailyMeanMethod && m.Warmth.Method != agromet.WarmDaysMethod {
		f.Errorf("method", `write "daily mean"`, "of the soil only the daily mean is known")
	}
	m.Warmth.BaseC = f.Need("base", quantity.Temperature, -5, 30).Value
	if upper := f.Opt("upper", quantity.Temperature, 10, 50); upper.Known() {
		m.Warmth.UpperC = upper.Value
		if upper.Value <= m.Warmth.BaseC {
			f.Errorf("upper", "it has to be the warmer of the two", "it is not above base")
		}
	}
	m.Warmth.Cutoff = agromet.Cutoff(f.OptOne("cutoff", string(agromet.HorizontalCutoff), string(agromet.IntermediateCutoff), string(agromet.VerticalCutoff)))
	sine := m.Warmth.Method == agromet.SineMethod || m.Warmth.Method == agromet.DoubleSineMethod
	switch bounded := !math.IsInf(m.Warmth.UpperC, 1); {
	case sine && bounded != (m.Warmth.Cutoff != agromet.NoCutoff):
		f.Errorf("cutoff", "write both or neither", "upper and cutoff go together")
	case !sine && m.Warmth.Cutoff != agromet.NoCutoff:
		f.Errorf("cutoff", "leave it out", "a cutoff belongs to a sine method")
	case bounded && (m.Warmth.Method == agromet.AverageMethod || m.Warmth.Method == agromet.WarmDaysMethod):
		f.Errorf("upper", `write method = "capped average", or leave it out`, "the method knows no upper limit")
	case !bounded && (m.Warmth.Method == agromet.CappedAverageMethod || m.Warmth.Method == agromet.ModifiedMethod):
		f.Errorf("upper", "add it", "the method needs an upper limit")
	}
	m.StillAtMost, m.StillAtLeast = f.Opt("still_at_most", quantity.Temperature, -5, 30).Value, f.Opt("still_at_least", quantity.Temperature, 20, 50).Value
	if m.Of5cm && (f.Has("still_at_most") || f.Has("still_at_least")) {
		f.Errorf("still_at_most", "leave it out", "development is stopped by the air alone")
	}
	if f.Has("generation") {
		m.Generation = r.sum(f.Table, "generation")
	}
}

// sumForm: degree-days are typed with the unit of their degree.
var sumForm = regexp.MustCompile(`^([0-9]+(?:\.[0-9]+)?) *(?:°?([CF]) d|(days))$`)

// sum reads "42 °C d", "280 °F d" or, where warm days are counted, "49 days".
func (r *timingReader) sum(t *diag.Table, key string) float64 {
	text := t.Text(key)
	if text == "" {
		return math.NaN()
	}
	parts := sumForm.FindStringSubmatch(text)
	if parts == nil || (parts[3] != "") != (r.m.Warmth.Method == agromet.WarmDaysMethod) {
		want := `"280 °F d" or "42 °C d"`
		if r.m.Warmth.Method == agromet.WarmDaysMethod {
			want = `"49 days"`
		}
		t.Errorf(key, "write "+want, "%q is no sum of this method", text)
		return math.NaN()
	}
	x, _ := strconv.ParseFloat(parts[1], 64)
	if parts[2] == "F" {
		x = agromet.DegreeDaysC(x)
	}
	if !(x > 0 && x <= 10000) {
		t.Errorf(key, "use more than 0 and at most 10000 °C d", "%s is out of range", text)
		return math.NaN()
	}
	return x
}

func (r *timingReader) readStage(i int, t *diag.Table) Stage {
	s := Stage{ID: r.ids[i], Title: t.Text("title"), Level: t.One("grade", pest.Grades()...), Says: t.Text("says"), While: t.Bool("while"), Prevents: t.Bool("prevents")}
	when := t.Tables("when")
	switch {
	case i == 0 && (len(when) > 0 || s.While):
		t.Errorf("when", "leave it out", "the season starts in its first stage")
	case i > 0 && len(when) == 0:
		t.Errorf("when", "add [[model.stage.when]]", "nothing says when the stage begins")
	case s.Prevents && s.Level != pest.Quiet.String():
		t.Errorf("prevents", `write grade = "quiet"`, "while it can be kept from coming nothing shows")
	case s.While && r.m.Momentary:
		t.Errorf("while", "leave it out", "day by day, every stage lasts only while its condition holds")
	}
	for k, w := range when {
		name := r.name + ", " + s.ID
		if k > 0 {
			name += " (" + strconv.Itoa(k+1) + ")"
		}
		r.file.Figures(name, w, func(f *pest.Figures) {
			s.When = append(s.When, pest.Cited[Condition]{Value: r.readCondition(i, f), Cite: f.Cite})
		})
	}
	t.TellRepeats(t.Keys()...)
	t.Close()
	return s
}

func (r *timingReader) readShift(i int, t *diag.Table) Shift {
	s := Shift{Up: t.One("by", "up", "down") == "up", Says: t.Text("says")}
	for _, id := range t.Texts("stages", true) {
		k := slices.Index(r.ids, id)
		if k < 0 {
			t.Errorf("stages", diag.DidYouMean(id, r.ids), "no stage %q", id)
			continue
		}
		s.Stages = append(s.Stages, k)
	}
	r.file.Figures(fmt.Sprintf("%s, shift %d", r.name, i+1), t, func(f *pest.Figures) { s.When = r.readCondition(len(r.ids), f) })
	return s
}

// readCondition reads the clauses of a condition that opens the stage.
func (r *timingReader) readCondition(stage int, f *pest.Figures) Condition {
	var out Condition
	add := func(c Clause, key string) {
		f.Holds(key)
		c.Kind = ClauseKind(key)
		out = append(out, c)
	}
	none := Clause{AtLeast: math.NaN(), AtMost: math.NaN()}
	// Dates come first: they decide without weather.
	if f.Has("from") {
		c := none
		c.Date = f.MonthDay("from")
		add(c, "from")
	}
	if sub := f.Table.Table("after", false); sub != nil {
		c := none
		c.Stage = r.stageAt(sub, "stage", stage)
		c.AfterDays = pest.OptDays(sub, "by", 300)
		if sub.Has("degree_days") {
			c.AtLeast = r.sum(sub, "degree_days")
		} else if c.AfterDays == 0 {
			sub.Errorf("by", `add by = "21 days" or degree_days`, "after how long is not told")
		}
		sub.Close()
		add(c, "after")
	}
	if sub := f.Table.Table("arrival", false); sub != nil {
		c := none
		c.Date = sub.MonthDay("from")
		c.AtLatitude = sub.Number("latitude")
		c.PerDegree = pest.OptWithin(sub, "per_degree", quantity.Time, 0, 30)
		sub.Close()
		add(c, "arrival")
	}
	if f.Has("degree_days") {
		c := none
		c.AtLeast = r.sum(f.Table, "degree_days")
		add(c, "degree_days")
	}
	for _, k := range [...]ClauseKind{NightLow, SoilMean, AirMean, DayMaximum, RainSum} {
		if sub := f.Table.Table(string(k), false); sub != nil {
			add(readBounds(sub, k), string(k))
		}
	}
	if len(out) == 0 {
		f.Errorf("", "add degree_days, soil, air, day, night, rain, from, after or arrival", "the condition asks for nothing")
	}
	return out
}

// stageAt reads the id of one of the first n stages.
func (r *timingReader) stageAt(t *diag.Table, key string, n int) int {
	id := t.ID(key)
	known := r.ids[:min(n, len(r.ids))]
	k := slices.Index(known, id)
	if k < 0 && id != "" {
		t.Errorf(key, diag.DidYouMean(id, known), "no earlier stage %q", id)
	}
	return max(0, k)
}

// readBounds reads { at_least = "10 C", at_most = …, over = "5 days", for = "5
// days" }.
func readBounds(t *diag.Table, k ClauseKind) Clause {
	c := Clause{Kind: k}
	dim, least, most := quantity.Temperature, -40.0, 60.0
	if k == RainSum {
		dim, least, most = quantity.Depth, 0, 1000
	}
	c.AtLeast, c.AtMost = pest.OptWithin(t, "at_least", dim, least, most), pest.OptWithin(t, "at_most", dim, least, most)
	switch {
	case !t.Has("at_least") && !t.Has("at_most"):
		t.Errorf("", "add at_least or at_most", "nothing to hold it against")
	case c.AtLeast > c.AtMost:
		t.Errorf("at_most", "it may not be less", "at_most is less than at_least")
	}
	if k == NightLow {
		c.LeadDays = pest.OptDays(t, "lead", 14)
	} else {
		c.OverDays, c.ForDays = pest.OptDays(t, "over", 60), pest.OptDays(t, "for", 31)
		if c.Falling = t.Bool("falling"); c.Falling && k != SoilMean && k != AirMean {
			t.Errorf("falling", "leave it out", "only soil and air fall through the year")
		}
	}
	t.Close()
	return c
}
