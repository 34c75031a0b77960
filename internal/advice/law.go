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
	"ligule/internal/watering"
	"ligule/internal/weather"
)

// ZoneLaw is what the law says for one week and grass at each place of a zone.
// Everything in it was decided by package law.
type ZoneLaw struct {
	Monday civil.Date
	AsOf   civil.Date
	Places []PlaceLaw

	book  *law.Book // for what is asked later: of one product
	grass string    // of one grass; "" before [ZoneLaw.ForGrass]
}

// PlaceLaw is the law of one place: for each nutrient, by letter of the law's
// files ("N", "P", "" for a fertilizer with neither), the verdicts of the week.
type PlaceLaw struct {
	Place      law.Place
	Homeowner  map[string]law.PlaceWeek
	ForHire    map[string]law.PlaceWeek
	Conditions map[string][]law.Condition // for a homeowner
	Water      watering.Week              // of sprinklers on the public supply
	Clashes    []law.Clash                // what cannot be kept together
	Barred     []Barred                   // pesticides; of those barred as a whole the week is among the homeowner's too, by their use
}

// Barred is what some law bars of pesticides at a place, with the week.
type Barred struct {
	law.Barred
	Home, Hire law.PlaceWeek
}

// lawLetters are the letters under which the law speaks of uses; of others it does
// not speak.
var lawLetters = map[string]string{Nitrogen: "N", Phosphorus: "P", Potassium: "", Iron: ""}

// LawLetters are the letters under which the law speaks of what work uses, each
// once: N, P, "" for fertilizer with neither.
func LawLetters(uses []string) []string {
	var out []string
	for _, use := range uses {
		if letter, ok := lawLetters[use]; ok && !slices.Contains(out, letter) {
			out = append(out, letter)
		}
	}
	return out
}

// AskLaw asks the books about a week at every place, as of the issue date.
// Each day is asked with the weather that is known of it, forecast rain and official
// alerts, nil where none is: a rule of law about them is the law's to judge.
func AskLaw(b *law.Book, water *watering.Book, places []law.Place, week civil.Week, asOf civil.Date, daily func(civil.Date) *law.Weather) ZoneLaw {
	z := ZoneLaw{Monday: week.Monday(), AsOf: asOf, book: b}
	for _, place := range places {
		p := PlaceLaw{Place: place, Homeowner: map[string]law.PlaceWeek{}, ForHire: map[string]law.PlaceWeek{}, Conditions: map[string][]law.Condition{}}
		for _, n := range law.Nutrients() {
			q := law.Question{Place: place, Actor: law.Homeowner, AsOf: asOf, Product: law.ProductOf(n), DailyWeather: daily}
			p.Homeowner[n] = b.Week(q, z.Monday)
			p.Conditions[n] = b.WeekConditions(q, z.Monday)
			q.Actor = law.ForHire
			p.ForHire[n] = b.Week(q, z.Monday)
		}
		for _, x := range b.BarredAt(place) {
			q := law.Question{Place: place, Actor: law.Homeowner, AsOf: asOf, Product: x.ProductOf(), DailyWeather: daily}
			of := Barred{Barred: x, Home: b.Week(q, z.Monday)}
			q.Actor = law.ForHire
			of.Hire = b.Week(q, z.Monday)
			if x.Class == "" {
				p.Homeowner[x.Use] = of.Home
			}
			p.Barred = append(p.Barred, of)
		}
		p.Water = water.Week(place, "public", z.Monday, asOf)
		p.Clashes = append(b.Clashes(place, z.Monday, z.Monday.AddDays(6), asOf), p.Water.Clashes(b)...)
		z.Places = append(z.Places, p)
	}
	return z
}

// ForecastRain is the rain that law asks about on a day: the sum of the day, mm, and
// hour by hour, mm, from its first hour on to the end of the next day, since rain
// within 24 hours is counted from any hour of it. None where neither is known.
func ForecastRain(dayMM float64, hoursMM []float64) *law.Weather {
	inches := func(mm float64) float64 {
		in, _ := quantity.In(mm, quantity.Depth, quantity.US)
		return in
	}
	w := &law.Weather{}
	if !math.IsNaN(dayMM) {
		in := inches(dayMM)
		w.ForecastRainIn24h = &in
	}
	if len(hoursMM) > 0 {
		w.ForecastRain = &law.RainSteps{StepHours: 1}
		for _, mm := range hoursMM {
			w.ForecastRain.In = append(w.ForecastRain.In, inches(mm))
		}
	}
	if w.ForecastRainIn24h == nil && w.ForecastRain == nil {
		return nil
	}
	return w
}

// AlertsOn is what is asked of official alerts on a day: those in force on any hour
// of it, in their order.
func AlertsOn(all []weather.Alert, d civil.Date) []law.Alert {
	var out []law.Alert
	for _, a := range all {
		if a.On(d) {
			day, minute := a.Ends()
			out = append(out, law.Alert{Event: a.Event, Until: day, UntilMin: minute, Open: a.Open})
		}
	}
	return out
}

// alertUntil says when an alert is over, as far as its message tells.
func alertUntil(a law.Alert) message.Message {
	if !a.Open && a.UntilMin == 0 { // midnight is the end of a day
		return message.New("alert_until.through").WeekDay("day", a.Until-1)
	}
	code := "alert_until.at"
	if a.Open {
		code = "alert_until.open"
	}
	return message.New(code).With("time", message.Clock(a.UntilMin)).WeekDay("day", a.Until)
}

// ForGrass returns the same with the conditions for one grass: some laws cap
// the year's nitrogen by grass. Nothing else depends on it.
func (z ZoneLaw) ForGrass(grass string) ZoneLaw {
	z.Places, z.grass = slices.Clone(z.Places), grass
	for i, p := range z.Places {
		z.Places[i].Conditions = maps.Clone(p.Conditions)
		q := law.Question{Place: p.Place, Actor: law.Homeowner, AsOf: z.AsOf, Product: law.ProductOf("N"), Grass: grass}
		z.Places[i].Conditions["N"] = z.book.WeekConditions(q, z.Monday)
	}
	return z
}

// Gather finds in a list what is like one, and adds that where nothing is: what is
// alike is told once, with all that it is said of.
func Gather[T any](list *[]T, one T, alike func(a, b T) bool) *T {
	i := slices.IndexFunc(*list, func(o T) bool { return alike(o, one) })
	if i < 0 {
		i = len(*list)
		*list = append(*list, one)
	}
	return &(*list)[i]
}

// told says at every place what is to be said there, each sentence once with all
// its places named, in the order in which they are first said.
func (z ZoneLaw) told(says func(PlaceLaw) []message.Message) []message.Message {
	type line struct {
		says   message.Message
		places []string
	}
	var lines []line
	for _, p := range z.Places {
		for _, m := range says(p) {
			l := Gather(&lines, line{says: m}, func(a, b line) bool { return a.says.Equal(b.says) })
			l.places = append(l.places, p.Place.Name)
		}
	}
	var out []message.Message
	for _, l := range lines {
		out = append(out, At(z.Where(l.places), l.says).Raised())
	}
	return out
}

// Where names places of the zone.
func (z ZoneLaw) Where(places []string) message.Value {
	if len(places) == len(z.Places) && len(places) > 1 {
		return message.Word("law.everywhere")
	}
	return message.Texts(message.And, places...)
}

// At says before a sentence where it holds.
func At(where message.Value, says message.Message) message.Message {
	return message.New("place.at").With("place", where).Said("says", says)
}

// once leaves out what has been said.
func once(all []message.Message) []message.Message {
	var out []message.Message
	for _, m := range all {
		Gather(&out, m, message.Message.Equal)
	}
	return out
}

// ClosureReasons lists every closure of a nutrient in the week, law by law,
// with the places and days it closes.
func (z ZoneLaw) ClosureReasons(letter string) []message.Message {
	return z.told(func(p PlaceLaw) []message.Message { return z.Closures(p.Homeowner[letter]) })
}

// Closures lists what closes a week at a place, which is not named; so do the
// other lists of one place.
func (z ZoneLaw) Closures(week law.PlaceWeek) []message.Message {
	all := z.byHit(week, func(_ int, h law.Hit) bool { return h.Verdict == law.Closed })
	var out []message.Message
	for _, c := range all {
		code := "law.closed_season"
		var more []message.Slot
		switch {
		case c.hit.Detail == "alert":
			code = "law.closed_alert"
			more = []message.Slot{message.In("alert", message.Text(c.hit.Alert.Event)), message.In("until", message.Of(alertUntil(c.hit.Alert)))}
		case c.hit.Detail == "rain":
			code = "law.closed_rain"
		case c.hit.First.IsZero():
			code = "law.closed_rule"
		}
		out = append(out, saysHit(code, c.hit, c.days, more...))
	}
	return once(out)
}

// daysOfHit is what a rule said alike on some days of the week.
type daysOfHit struct {
	hit  law.Hit
	days []civil.Date
}

// byHit gathers what is told of a week at a place, each with its days.
func (z ZoneLaw) byHit(week law.PlaceWeek, tells func(day int, h law.Hit) bool) []daysOfHit {
	var all []daysOfHit
	for i, a := range week.Days {
		for _, h := range a.Hits {
			if !tells(i, h) {
				continue
			}
			c := Gather(&all, daysOfHit{hit: h}, func(a, b daysOfHit) bool {
				return a.hit.Record == b.hit.Record && a.hit.Rule == b.hit.Rule && a.hit.Detail == b.hit.Detail && a.hit.Alert == b.hit.Alert
			})
			c.days = append(c.days, z.Monday.AddDays(i))
		}
	}
	return all
}

func saysHit(code string, h law.Hit, days []civil.Date, more ...message.Slot) message.Message {
	return saysRecord(code, h.Record, append([]message.Slot{message.In("days", message.Days(days)), message.In("rule", message.Text(law.Pinpoint(h.Record, h.Rule))),
		message.In("first", message.Date(h.First)), message.In("last", message.Date(h.Last))}, more...)...)
}

// saysRecord names a record of law in a sentence that says more of it.
func saysRecord(code string, r *law.Record, more ...message.Slot) message.Message {
	if r == nil {
		return message.Filled(code, more...)
	}
	return message.Filled(code, slices.Concat([]message.Slot{
		message.In("law", message.Text(r.Title)), message.In("citation", message.Text(r.Citation)), message.In("checked", message.Date(r.CheckedOn)),
		message.In("jurisdiction", message.Text(r.JurisdictionName)), message.In("months", message.Count(r.ReviewMonths)),
	}, more)...)
}

// UnclearReasons lists why a nutrient is not cleared.
func (z ZoneLaw) UnclearReasons(letter string) []message.Message {
	if len(z.Places) == 0 {
		return []message.Message{message.New("law.no_place")}
	}
	return z.told(func(p PlaceLaw) []message.Message {
		out := Unclear(p.Homeowner[letter])
		for _, c := range p.Clashes {
			if letter == "N" && c.Holds(law.Homeowner) {
				out = append(out, SaysClash(c))
			}
		}
		return out
	})
}

// SaysClash says that two laws cannot be kept together.
func SaysClash(c law.Clash) message.Message {
	says := message.New("clash."+c.Kind).Name("law", c.One.Law.Called()).Name("rule", c.One.Pinpoint).Name("other", c.Other.Law.Called()).Name("other_rule", c.Other.Pinpoint)
	var who []message.Message
	if len(c.Actors) == 1 {
		who = []message.Message{message.New("clash_who." + string(c.Actors[0]))}
	}
	return says.With("who", message.Messages(message.Glued, who...)).With("figure", message.Figure(c.One.Figure)).With("other_figure", message.Figure(c.Other.Figure))
}

// Unclear lists why a week at a place is not cleared.
func Unclear(week law.PlaceWeek) []message.Message {
	var out []message.Message
	for _, a := range week.Days {
		if a.Verdict != law.NotCleared {
			continue
		}
		for _, n := range a.Notices {
			out = append(out, saysNotice(n))
		}
		if len(a.Notices) > 0 {
			continue
		}
		for _, h := range a.Hits {
			if h.Verdict == law.NotCleared {
				out = append(out, saysHit("law.unclear_rule", h, nil))
			}
		}
	}
	return once(out)
}

// WaterReasons lists the watering laws of the places whose week is in a state:
// "closed_all" when no lot may be watered at any time, "not_cleared" when some
// time cannot be told. Days and hours that are closed are for the table of the
// page, since they go by house numbers.
func (z ZoneLaw) WaterReasons(state string) []message.Message {
	return z.told(func(p PlaceLaw) []message.Message {
		if p.Water.State != state {
			return nil
		}
		var out []message.Message
		for _, l := range p.Water.Laws {
			r := l.Record
			out = append(out, message.New("law.water_"+state).Name("law", r.Title).Name("citation", r.Citation).Date("checked", r.CheckedOn))
		}
		return once(out)
	})
}

// FlagReasons lists every flag of the week's answers, on any nutrient and for
// anybody.
func (z ZoneLaw) FlagReasons() []message.Message {
	return z.told(func(p PlaceLaw) []message.Message {
		var out []message.Message
		for _, letter := range law.Nutrients() {
			for _, week := range []law.PlaceWeek{p.Homeowner[letter], p.ForHire[letter]} {
				for _, a := range week.Days {
					for _, n := range a.Notices {
						out = append(out, saysNotice(n))
					}
				}
			}
		}
		return once(out)
	})
}

func saysNotice(n law.Notice) message.Message {
	says := saysRecord("flag."+string(n.Flag), n.Record)
	if n.Record == nil {
		says = says.Name("jurisdiction", n.Name)
	}
	return says
}

// ConditionReasons lists what must be kept while a nutrient is spread.
func (z ZoneLaw) ConditionReasons(letter string) []message.Message {
	return z.told(func(p PlaceLaw) []message.Message { return z.Conditions(p.Conditions[letter]) })
}

// Conditions lists what must be kept at a place.
func (z ZoneLaw) Conditions(all []law.Condition) []message.Message {
	var out []message.Message
	for _, c := range all {
		text := ""
		if c.Rule != nil {
			text = c.Rule.AsWritten
		}
		says := saysRecord(conditionID(c), c.Record,
			message.In("value", message.Figure(c.Value)), message.In("second", message.Figure(c.Second)), message.In("words", message.Texts(message.Comma, c.Words...)),
			message.In("rule", message.Text(law.Pinpoint(c.Record, c.Rule))), message.In("text", message.Text(text)), message.In("limits", z.limits(c)))
		if duty, ok := strings.CutPrefix(c.Kind, "duty:"); ok {
			says = says.Word("duty", "law_duty."+duty)
		}
		out = append(out, says)
	}
	return once(out)
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

// conditionID is the phrase of a condition: "duty:sign_24h" is said by
// "condition.duty.sign_24h". A rule about heavy rain may name no
// depth, and may mean a depth reached or one passed.
func conditionID(c law.Condition) string {
	switch {
	case c.Kind == "rain" && math.IsNaN(c.Value):
		return "condition.rain_unstated"
	case c.Kind == "rain" && slices.Contains(c.Words, ">"):
		return "condition.rain_above"
	}
	kind := c.Kind
	if strings.HasSuffix(kind, ":") {
		kind += "plain" // advice that names no duty
	}
	return "condition." + strings.ReplaceAll(kind, ":", ".")
}

// NextReasons lists the next opening or closing after the week.
func (z ZoneLaw) NextReasons(letter string) []message.Message {
	return z.told(func(p PlaceLaw) []message.Message { return Next(p.Homeowner[letter]) })
}

// Next says when a place next opens or closes after a week. A day that is not cleared
// is not called open.
func Next(week law.PlaceWeek) []message.Message {
	change := week.Next
	if change == nil {
		return nil
	}
	code := "law.next_closes"
	if change.Opens {
		code = "law.next_opens"
	}
	if !change.Clear {
		code += "_unclear"
	}
	return []message.Message{message.New(code).Date("date", change.Date).Date("last", change.Date.AddDays(-1))}
}
