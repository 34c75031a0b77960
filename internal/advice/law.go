package advice

import (
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"

	"ligule/internal/civil"
	"ligule/internal/law"
	"ligule/internal/quantity"
)

// ZoneLaw is what the law says for one week and grass at each place of a zone.
// Everything in it was decided by package law.
type ZoneLaw struct {
	Monday civil.Date
	AsOf   civil.Date
	Places []PlaceLaw
}

// PlaceLaw is the law of one place: for each nutrient, by letter of the law's
// files ("N", "P", "" for a fertilizer with neither), the verdicts of the week.
type PlaceLaw struct {
	Place      law.Place
	Homeowner  map[string]law.PlaceWeek
	ForHire    map[string]law.PlaceWeek
	Conditions map[string][]law.Condition // for a homeowner
	Water      law.WaterWeek              // of sprinklers on the public supply
}

// lawLetter is the letter under which the law speaks of a use, and whether it
// speaks of it at all.
func lawLetter(use string) (letter string, ok bool) {
	switch use {
	case Nitrogen:
		return "N", true
	case Phosphorus:
		return "P", true
	case Potassium, Iron:
		return "", true
	}
	return "", false
}

// AskLaw asks the book about a week at every place, as of the issue date.
// Each day is asked with the forecast rain of that day, mm, where there is any:
// a rule of law about heavy rain is the law's to judge.
func AskLaw(b *law.Book, places []law.Place, week civil.Week, asOf civil.Date, rainMM func(civil.Date) (float64, bool)) ZoneLaw {
	z := ZoneLaw{Monday: week.Monday(), AsOf: asOf}
	daily := func(d civil.Date) *law.Weather {
		mm, ok := rainMM(d)
		if !ok {
			return nil
		}
		in, _ := quantity.In(mm, quantity.Depth, quantity.US)
		return &law.Weather{ForecastRainIn24h: &in}
	}
	for _, place := range places {
		p := PlaceLaw{Place: place, Homeowner: map[string]law.PlaceWeek{}, ForHire: map[string]law.PlaceWeek{}, Conditions: map[string][]law.Condition{}}
		for _, n := range law.Nutrients() {
			q := law.Question{Place: place, Actor: law.Homeowner, AsOf: asOf, Product: law.ProductOf(n), DailyWeather: daily}
			p.Homeowner[n] = b.Week(q, z.Monday)
			p.Conditions[n] = b.WeekConditions(q, z.Monday)
			q.Actor = law.ForHire
			p.ForHire[n] = b.Week(q, z.Monday)
		}
		p.Water = b.WaterWeek(place, "public", z.Monday, asOf)
		z.Places = append(z.Places, p)
	}
	return z
}

// ForGrass returns the same with the conditions for one grass: some laws cap
// the year's nitrogen by grass. Nothing else depends on it.
func (z ZoneLaw) ForGrass(b *law.Book, grass string) ZoneLaw {
	out := ZoneLaw{Monday: z.Monday, AsOf: z.AsOf}
	for _, p := range z.Places {
		p.Conditions = maps.Clone(p.Conditions)
		q := law.Question{Place: p.Place, Actor: law.Homeowner, AsOf: z.AsOf, Product: law.ProductOf("N"), Grass: grass}
		p.Conditions["N"] = b.WeekConditions(q, z.Monday)
		out.Places = append(out.Places, p)
	}
	return out
}

// said collects sentences of law that are the same for several places, so that
// each is printed once with all its places named.
type said struct {
	phrases *Phrases
	total   int // places of the zone
	lines   []saidLine
}

type saidLine struct {
	id     string
	slots  []string
	places []string
}

// add notes a sentence for a place. The slots are those besides the place.
func (s *said) add(place law.Place, id string, slots ...string) {
	for i := range s.lines {
		l := &s.lines[i]
		if l.id == id && slices.Equal(l.slots, slots) {
			if !slices.Contains(l.places, place.Name) {
				l.places = append(l.places, place.Name)
			}
			return
		}
	}
	s.lines = append(s.lines, saidLine{id, slots, []string{place.Name}})
}

// reasons says each sentence once, in the order in which they were added.
func (s *said) reasons() []Reason {
	var out []Reason
	for _, l := range s.lines {
		where := strings.Join(l.places, s.phrases.Word("clause.and"))
		if len(l.places) == s.total && s.total > 1 {
			where = s.phrases.Word("law.everywhere")
		}
		r := s.phrases.Say(l.id, append([]string{"place", where}, l.slots...)...)
		r.Text = upperFirst(r.Text)
		out = append(out, r)
	}
	return out
}

func (z ZoneLaw) collect(p *Phrases) *said { return &said{phrases: p, total: len(z.Places)} }

// ClosureReasons words every closure of a nutrient in the week, law by law,
// with the places and days it closes.
func (z ZoneLaw) ClosureReasons(p *Phrases, letter string) []Reason {
	s := z.collect(p)
	for _, place := range z.Places {
		type closing struct {
			hit  law.Hit
			days []civil.Date
		}
		var all []closing
		for i, a := range place.Homeowner[letter].Days {
			for _, h := range a.Closed() {
				k := slices.IndexFunc(all, func(c closing) bool { return c.hit.Record == h.Record && c.hit.Rule == h.Rule })
				if k < 0 {
					all = append(all, closing{hit: h})
					k = len(all) - 1
				}
				all[k].days = append(all[k].days, z.Monday.AddDays(i))
			}
		}
		for _, c := range all {
			s.add(place.Place, closureID(c.hit), hitSlots(p, c.hit, c.days)...)
		}
	}
	return s.reasons()
}

func closureID(h law.Hit) string {
	switch {
	case h.Detail == "rain":
		return "law.closed_rain"
	case h.First.IsZero():
		return "law.closed_rule"
	}
	return "law.closed_season"
}

func hitSlots(p *Phrases, h law.Hit, days []civil.Date) []string {
	return append(recordSlots(h.Record), "days", dayList(p, days), "rule", pinpoint(h.Record, h.Rule), "first", longDate(h.First), "last", longDate(h.Last))
}

func recordSlots(r *law.Record) []string {
	if r == nil {
		return []string{"law", "", "citation", "", "checked", "", "jurisdiction", "", "months", ""}
	}
	return []string{"law", r.Title, "citation", r.Citation, "checked", longDate(r.CheckedOn), "jurisdiction", r.JurisdictionName, "months", strconv.Itoa(r.ReviewMonths)}
}

// pinpoint cites the rule, or the record where the rule has no citation.
func pinpoint(rec *law.Record, rule *law.Rule) string {
	switch {
	case rule != nil && rule.Citation != "":
		return rule.Citation
	case rec != nil:
		return rec.Citation
	}
	return ""
}

// UnclearReasons words why a nutrient is not cleared.
func (z ZoneLaw) UnclearReasons(p *Phrases, letter string) []Reason {
	if len(z.Places) == 0 {
		return []Reason{p.Say("law.no_place")}
	}
	s := z.collect(p)
	for _, place := range z.Places {
		for _, a := range place.Homeowner[letter].Days {
			if a.Verdict != law.NotCleared {
				continue
			}
			for _, n := range a.Notices {
				s.addNotice(place.Place, n)
			}
			if len(a.Notices) > 0 {
				continue
			}
			for _, h := range a.Hits {
				if h.Verdict == law.NotCleared {
					s.add(place.Place, "law.unclear_rule", hitSlots(p, h, nil)...)
				}
			}
		}
	}
	return s.reasons()
}

// WaterReasons words the watering laws of the places whose week is in a state:
// "closed_all" when no lot may be watered at any time, "not_cleared" when some
// time cannot be told. Days and hours that are closed are for the table of the
// page, since they go by house numbers.
func (z ZoneLaw) WaterReasons(p *Phrases, state string) []Reason {
	s := z.collect(p)
	for _, place := range z.Places {
		if place.Water.State != state {
			continue
		}
		for _, l := range place.Water.Laws {
			r := l.Record
			s.add(place.Place, "law.water_"+state, "law", r.Title, "citation", r.Citation, "checked", longDate(r.CheckedOn))
		}
	}
	return s.reasons()
}

// FlagReasons words every flag of the week's answers, on any nutrient and for
// anybody.
func (z ZoneLaw) FlagReasons(p *Phrases) []Reason {
	s := z.collect(p)
	for _, place := range z.Places {
		for _, letter := range law.Nutrients() {
			for _, week := range []law.PlaceWeek{place.Homeowner[letter], place.ForHire[letter]} {
				for _, a := range week.Days {
					for _, n := range a.Notices {
						s.addNotice(place.Place, n)
					}
				}
			}
		}
	}
	return s.reasons()
}

func (s *said) addNotice(place law.Place, n law.Notice) {
	slots := recordSlots(n.Record)
	if n.Record == nil {
		slots[slices.Index(slots, "jurisdiction")+1] = n.Jurisdiction
	}
	s.add(place, "flag."+string(n.Flag), slots...)
}

// ConditionReasons words what must be kept while a nutrient is spread.
func (z ZoneLaw) ConditionReasons(p *Phrases, letter string) []Reason {
	s := z.collect(p)
	for _, place := range z.Places {
		for _, c := range place.Conditions[letter] {
			text := ""
			if c.Rule != nil {
				text = c.Rule.AsWritten
			}
			s.add(place.Place, conditionID(c), append(recordSlots(c.Record),
				"value", figure(c.Value), "second", figure(c.Second), "words", strings.Join(c.Words, ", "), "rule", pinpoint(c.Record, c.Rule), "text", text,
				"limits", z.limits(p, c))...)
		}
	}
	return s.reasons()
}

// limits says for which products and on which days of the week a condition
// holds, if not for all.
func (z ZoneLaw) limits(p *Phrases, c law.Condition) string {
	var out string
	if c.Class != "" {
		out += p.Say("condition.only_products", "products", p.Word("law_product."+c.Class)).Text
	}
	if c.Form != "" {
		out += p.Say("condition.only_products", "products", p.Word("law_form."+c.Form)).Text
	}
	first, last := max(c.First, z.Monday), min(c.Last, z.Monday.AddDays(6))
	if !c.First.IsZero() && (first > z.Monday || last < z.Monday.AddDays(6)) {
		var days []civil.Date
		for d := first; d <= last; d++ {
			days = append(days, d)
		}
		out += p.Say("condition.only_days", "days", dayList(p, days)).Text
	}
	return out
}

// conditionID is the phrase of a condition. A rule about heavy rain may name no
// depth, and may mean a depth reached or one passed.
func conditionID(c law.Condition) string {
	switch {
	case c.Kind == "rain" && math.IsNaN(c.Value):
		return "condition.rain_unstated"
	case c.Kind == "rain" && slices.Contains(c.Words, ">"):
		return "condition.rain_above"
	}
	return conditionPhrase(c.Kind)
}

// conditionPhrase is the phrase of a kind of condition: "duty:sign_24h" is
// said by "condition.duty.sign_24h".
func conditionPhrase(kind string) string {
	if strings.HasSuffix(kind, ":") {
		kind += "plain" // advice that names no duty
	}
	return "condition." + strings.ReplaceAll(kind, ":", ".")
}

// figure prints a figure of law without zeros at its end; none is "".
func figure(x float64) string {
	if math.IsNaN(x) {
		return ""
	}
	return strconv.FormatFloat(x, 'f', -1, 64)
}

// NextReasons words the next opening or closing after the week.
func (z ZoneLaw) NextReasons(p *Phrases, letter string) []Reason {
	s := z.collect(p)
	for _, place := range z.Places {
		next := place.Homeowner[letter].Next
		switch {
		case next == nil:
			continue
		case next.Opens:
			s.add(place.Place, "law.next_opens", "date", longDate(next.Date))
		default:
			s.add(place.Place, "law.next_closes", "date", longDate(next.Date), "last", longDate(next.Date.AddDays(-1)))
		}
	}
	return s.reasons()
}

// Varies reports whether the places of the zone differ on a nutrient.
func (z ZoneLaw) Varies(letter string) bool {
	for _, place := range z.Places[min(1, len(z.Places)):] {
		for i := range place.Homeowner[letter].Days {
			if place.Homeowner[letter].Days[i].Verdict != z.Places[0].Homeowner[letter].Days[i].Verdict {
				return true
			}
		}
	}
	return false
}

// longDate prints a date with its year: "November 16, 2026".
func longDate(d civil.Date) string { return d.Format("January 2, 2006") }

// weekDate prints a date within a week: "Thursday, November 19".
func weekDate(d civil.Date) string { return d.Format("Monday, January 2") }

// dayList words days of one week: "all week", one day, or first through last.
func dayList(p *Phrases, days []civil.Date) string {
	switch {
	case len(days) == 0:
		return ""
	case len(days) == 7:
		return p.Word("days.all_week")
	case len(days) == 1:
		return weekDate(days[0])
	case int(days[len(days)-1]-days[0]) == len(days)-1:
		return p.Say("days.through", "first", weekDate(days[0]), "last", weekDate(days[len(days)-1])).Text
	}
	var names []string
	for _, d := range days {
		names = append(names, weekDate(d))
	}
	return strings.Join(names, p.Word("clause.and"))
}
