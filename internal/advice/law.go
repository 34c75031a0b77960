package advice

import (
	"fmt"
	"slices"
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
}

// lawNutrients are the letters asked about.
func lawNutrients() []string { return []string{"N", "P", ""} }

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
// Each day is asked with the forecast rain of that day, where there is any:
// a rule of law about heavy rain is the law's to judge.
func AskLaw(b *law.Book, places []law.Place, week civil.Week, asOf civil.Date, grass string, rainMM func(civil.Date) (float64, bool)) ZoneLaw {
	z := ZoneLaw{Monday: week.Monday(), AsOf: asOf}
	for _, place := range places {
		p := PlaceLaw{Place: place, Homeowner: map[string]law.PlaceWeek{}, ForHire: map[string]law.PlaceWeek{}, Conditions: map[string][]law.Condition{}}
		for _, n := range lawNutrients() {
			q := law.Question{Place: place, Actor: law.Homeowner, AsOf: asOf, Grass: grass, Product: product(n)}
			q.DailyWeather = func(d civil.Date) *law.Weather {
				mm, ok := rainMM(d)
				if !ok {
					return nil
				}
				in, _ := quantity.In(mm, quantity.Depth, quantity.US)
				return &law.Weather{ForecastRainIn24h: &in}
			}
			p.Homeowner[n] = b.Week(q, z.Monday)
			p.Conditions[n] = b.WeekConditions(q, z.Monday)
			q.Actor = law.ForHire
			p.ForHire[n] = b.Week(q, z.Monday)
		}
		z.Places = append(z.Places, p)
	}
	return z
}

// product is a fertilizer of which only the nutrient is known.
func product(letter string) law.Product {
	p := law.Product{Unknown: true}
	if letter != "" {
		p.Nutrients = []string{letter}
	}
	return p
}

// ClosureReasons words every closure of a nutrient in the week, place by
// place and law by law.
func (z ZoneLaw) ClosureReasons(p *Phrases, letter string) []Reason {
	var out []Reason
	for _, place := range z.Places {
		week := place.Homeowner[letter]
		// One sentence per rule that closes, with the days it closes.
		type closing struct {
			hit  law.Hit
			days []civil.Date
		}
		var all []closing
		for i, a := range week.Days {
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
			out = append(out, p.Say(closureID(c.hit), closureSlots(p, place.Place, c.hit, c.days)...))
		}
	}
	return out
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

func closureSlots(p *Phrases, place law.Place, h law.Hit, days []civil.Date) []string {
	slots := []string{"place", place.Name, "days", dayList(p, days)}
	slots = append(slots, recordSlots(h.Record)...)
	slots = append(slots, "rule", citation(h), "first", longDate(h.First), "last", longDate(h.Last))
	return slots
}

func recordSlots(r *law.Record) []string {
	if r == nil {
		return []string{"law", "", "citation", "", "checked", "", "jurisdiction", "", "months", ""}
	}
	return []string{"law", r.Title, "citation", r.Citation, "checked", longDate(r.CheckedOn), "jurisdiction", r.JurisdictionName, "months", fmt.Sprint(r.ReviewMonths)}
}

func citation(h law.Hit) string {
	switch {
	case h.Rule != nil && h.Rule.Citation != "":
		return h.Rule.Citation
	case h.Record != nil:
		return h.Record.Citation
	}
	return ""
}

// UnclearReasons words why a nutrient is not cleared, place by place.
func (z ZoneLaw) UnclearReasons(p *Phrases, letter string) []Reason {
	var out []Reason
	for _, place := range z.Places {
		for _, a := range place.Homeowner[letter].Days {
			if a.Verdict != law.NotCleared {
				continue
			}
			for _, n := range a.Notices {
				r := p.Say("flag."+string(n.Flag), flagSlots(place.Place, n)...)
				if !slices.Contains(out, r) {
					out = append(out, r)
				}
			}
			for _, h := range a.Hits {
				if h.Verdict == law.NotCleared && len(a.Notices) == 0 {
					r := p.Say("law.unclear_rule", closureSlots(p, place.Place, h, nil)...)
					if !slices.Contains(out, r) {
						out = append(out, r)
					}
				}
			}
		}
	}
	if len(z.Places) == 0 {
		out = append(out, p.Say("law.no_place"))
	}
	return out
}

// FlagReasons words every flag of the week's answers on a nutrient.
func (z ZoneLaw) FlagReasons(p *Phrases, letter string) []Reason {
	var out []Reason
	for _, place := range z.Places {
		for _, a := range place.Homeowner[letter].Days {
			for _, n := range a.Notices {
				if r := p.Say("flag."+string(n.Flag), flagSlots(place.Place, n)...); !slices.Contains(out, r) {
					out = append(out, r)
				}
			}
		}
	}
	return out
}

func flagSlots(place law.Place, n law.Notice) []string {
	slots := append([]string{"place", place.Name}, recordSlots(n.Record)...)
	if n.Record == nil {
		slots[1+indexOf(slots, "jurisdiction")] = n.Jurisdiction
	}
	return slots
}

func indexOf(s []string, word string) int { return slices.Index(s, word) }

// ConditionReasons words what must be kept at each place while a nutrient is
// spread.
func (z ZoneLaw) ConditionReasons(p *Phrases, letter string) []Reason {
	var out []Reason
	for _, place := range z.Places {
		for _, c := range place.Conditions[letter] {
			slots := append([]string{"place", place.Place.Name}, recordSlots(c.Record)...)
			second := ""
			if c.Second == c.Second { // not NaN
				second = trim(c.Second)
			}
			slots = append(slots, "value", trim(c.Value), "second", second, "words", strings.Join(c.Words, ", "), "rule", conditionCitation(c), "text", asWritten(c.Rule))
			out = append(out, p.Say(conditionPhrase(c.Kind), slots...))
		}
	}
	return out
}

// conditionPhrase is the phrase of a kind of condition: "duty:sign_24h" is
// said by "condition.duty.sign_24h".
func conditionPhrase(kind string) string {
	if strings.HasSuffix(kind, ":") {
		kind += "plain" // advice that names no duty
	}
	return "condition." + strings.ReplaceAll(kind, ":", ".")
}

func conditionCitation(c law.Condition) string {
	if c.Rule != nil && c.Rule.Citation != "" {
		return c.Rule.Citation
	}
	if c.Record != nil {
		return c.Record.Citation
	}
	return ""
}

// trim prints a figure of law without zeros at its end.
func trim(x float64) string {
	if x != x {
		return ""
	}
	return strings.TrimSuffix(strings.TrimRight(fmt.Sprintf("%.3f", x), "0"), ".")
}

// NextReasons words the next opening or closing after the week at each place.
func (z ZoneLaw) NextReasons(p *Phrases, letter string) []Reason {
	var out []Reason
	for _, place := range z.Places {
		next := place.Homeowner[letter].Next
		switch {
		case next == nil:
			continue
		case next.Opens:
			out = append(out, p.Say("law.next_opens", "place", place.Place.Name, "date", longDate(next.Date)))
		default:
			out = append(out, p.Say("law.next_closes", "place", place.Place.Name, "date", longDate(next.Date), "last", longDate(next.Date.AddDays(-1))))
		}
	}
	return out
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
func longDate(d civil.Date) string {
	if d.IsZero() {
		return ""
	}
	return d.Time().Format("January 2, 2006")
}

// weekDate prints a date within a week: "Thursday, November 19".
func weekDate(d civil.Date) string { return d.Time().Format("Monday, January 2") }

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

func asWritten(r *law.Rule) string {
	if r == nil {
		return ""
	}
	return r.AsWritten
}
