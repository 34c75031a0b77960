package advice

import (
	"maps"
	"math"
	"slices"
	"strings"

	"ligule/internal/civil"
	"ligule/internal/law"
	"ligule/internal/message"
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

// LawLetters are the letters under which the law speaks of what work uses, each
// once: N, P, "" for fertilizer with neither.
func LawLetters(uses []string) []string {
	var out []string
	for _, use := range uses {
		if letter, ok := lawLetter(use); ok && !slices.Contains(out, letter) {
			out = append(out, letter)
		}
	}
	return out
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
	total int // places of the zone
	lines []saidLine
}

type saidLine struct {
	says   message.Message // besides the place
	places []string
}

// add notes a sentence for a place.
func (s *said) add(place law.Place, says message.Message) {
	for i := range s.lines {
		l := &s.lines[i]
		if l.says.Equal(says) {
			if !slices.Contains(l.places, place.Name) {
				l.places = append(l.places, place.Name)
			}
			return
		}
	}
	s.lines = append(s.lines, saidLine{says, []string{place.Name}})
}

// reasons says each sentence once, in the order in which they were added.
func (s *said) reasons() []message.Message {
	var out []message.Message
	for _, l := range s.lines {
		where := message.Texts(message.And, l.places...)
		if len(l.places) == s.total && s.total > 1 {
			where = message.Word("law.everywhere")
		}
		out = append(out, l.says.With("place", where).Raised())
	}
	return out
}

func (z ZoneLaw) collect() *said { return &said{total: len(z.Places)} }

// ClosureReasons lists every closure of a nutrient in the week, law by law,
// with the places and days it closes.
func (z ZoneLaw) ClosureReasons(letter string) []message.Message {
	s := z.collect()
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
			s.add(place.Place, saysHit(closureID(c.hit), c.hit, c.days))
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

func saysHit(code string, h law.Hit, days []civil.Date) message.Message {
	return saysRecord(code, h.Record).With("days", message.Days(days)).Name("rule", law.Pinpoint(h.Record, h.Rule)).Date("first", h.First).Date("last", h.Last)
}

// saysRecord names a record of law in a sentence.
func saysRecord(code string, r *law.Record) message.Message {
	if r == nil {
		return message.New(code)
	}
	return message.New(code).Name("law", r.Title).Name("citation", r.Citation).Date("checked", r.CheckedOn).
		Name("jurisdiction", r.JurisdictionName).Count("months", r.ReviewMonths)
}

// UnclearReasons lists why a nutrient is not cleared.
func (z ZoneLaw) UnclearReasons(letter string) []message.Message {
	if len(z.Places) == 0 {
		return []message.Message{message.New("law.no_place")}
	}
	s := z.collect()
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
					s.add(place.Place, saysHit("law.unclear_rule", h, nil))
				}
			}
		}
	}
	return s.reasons()
}

// WaterReasons lists the watering laws of the places whose week is in a state:
// "closed_all" when no lot may be watered at any time, "not_cleared" when some
// time cannot be told. Days and hours that are closed are for the table of the
// page, since they go by house numbers.
func (z ZoneLaw) WaterReasons(state string) []message.Message {
	s := z.collect()
	for _, place := range z.Places {
		if place.Water.State != state {
			continue
		}
		for _, l := range place.Water.Laws {
			r := l.Record
			s.add(place.Place, message.New("law.water_"+state).Name("law", r.Title).Name("citation", r.Citation).Date("checked", r.CheckedOn))
		}
	}
	return s.reasons()
}

// FlagReasons lists every flag of the week's answers, on any nutrient and for
// anybody.
func (z ZoneLaw) FlagReasons() []message.Message {
	s := z.collect()
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
	says := saysRecord("flag."+string(n.Flag), n.Record)
	if n.Record == nil {
		says = says.Name("jurisdiction", n.Jurisdiction)
	}
	s.add(place, says)
}

// ConditionReasons lists what must be kept while a nutrient is spread.
func (z ZoneLaw) ConditionReasons(letter string) []message.Message {
	s := z.collect()
	for _, place := range z.Places {
		for _, c := range place.Conditions[letter] {
			text := ""
			if c.Rule != nil {
				text = c.Rule.AsWritten
			}
			s.add(place.Place, saysRecord(conditionID(c), c.Record).With("value", message.Figure(c.Value)).With("second", message.Figure(c.Second)).
				With("words", message.Texts(message.Comma, c.Words...)).Name("rule", law.Pinpoint(c.Record, c.Rule)).Name("text", text).
				With("limits", z.limits(c)))
		}
	}
	return s.reasons()
}

// limits says for which products and on which days of the week a condition
// holds, if not for all.
func (z ZoneLaw) limits(c law.Condition) message.Value {
	var out []message.Message
	if c.Class != "" {
		out = append(out, message.New("condition.only_products").Word("products", "law_product."+c.Class))
	}
	if c.Form != "" {
		out = append(out, message.New("condition.only_products").Word("products", "law_form."+c.Form))
	}
	first, last := max(c.First, z.Monday), min(c.Last, z.Monday.AddDays(6))
	if !c.First.IsZero() && (first > z.Monday || last < z.Monday.AddDays(6)) {
		var days []civil.Date
		for d := first; d <= last; d++ {
			days = append(days, d)
		}
		out = append(out, message.New("condition.only_days").With("days", message.Days(days)))
	}
	return message.Messages(message.Glued, out...)
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

// NextReasons lists the next opening or closing after the week.
func (z ZoneLaw) NextReasons(letter string) []message.Message {
	s := z.collect()
	for _, place := range z.Places {
		next := place.Homeowner[letter].Next
		switch {
		case next == nil:
			continue
		case next.Opens:
			s.add(place.Place, message.New("law.next_opens").Date("date", next.Date))
		default:
			s.add(place.Place, message.New("law.next_closes").Date("date", next.Date).Date("last", next.Date.AddDays(-1)))
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
