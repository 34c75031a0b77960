package advice

import (
	"slices"

	"ligule/internal/civil"
	"ligule/internal/law"
	"ligule/internal/message"
	"ligule/internal/season"
)

// closedInPart is the phrase of what is closed at some places, or on some days;
// closedAndWait is that of what there is no call for on the others either.
const (
	closedInPart  = "gate.law.closed_part"
	closedAndWait = "gate.law.closed_and_wait"
)

// InPart reports whether the law closes it at some places only, or on some days.
func (a *Answer) InPart() bool {
	return a.Lead.Say.Code == closedInPart || a.Lead.Say.Code == closedAndWait
}

// andWait says of a closure in part what is the answer where and when the law closes
// nothing: that it is open there would read as a call to do it. What is not cleared
// is not called open, and stays as it is, as does what is no closure in part.
func andWait(closed message.Message, verdict Verdict, says message.Message) message.Message {
	rest, _ := closed.Slot("rest")
	if closed.Code != closedInPart || rest.Equal(message.Word("closed_rest.not_cleared")) {
		return closed
	}
	parts, _ := closed.Slot("parts")
	use, _ := closed.Slot("use")
	return message.New(closedAndWait).With("use", use).With("parts", parts).With("verdict", message.Word("verdict."+string(verdict)).Lowered()).Said("say", says)
}

// putOff is what a rule puts off and to which days: what it says so itself, or the
// window that it asks about, once its first day is known. Nothing for a rule that
// says to do it now.
func (in *Input) putOff(r *Rule) (uses []string, from, to civil.Date) {
	const month = 30
	switch {
	case r.Verdict == Do:
	case r.Later != nil:
		year := in.IssueDate.Year()
		if r.Later.To.EndIn(year) < in.IssueDate {
			year++
		}
		return r.Later.Uses, max(r.Later.From.StartIn(year), in.IssueDate), r.Later.To.EndIn(year)
	case r.window() != nil:
		w, ok := in.window(r.window().kind)
		if ok && w.Phase == season.Ahead && w.Instance.Opens.When.Outcome == season.Dated {
			from = w.Instance.Opens.When.Date
			return Words(w.Window.Uses), from, from.AddDays(month)
		}
	}
	return nil, 0, 0
}

// closedLater says what the law closes, of any of what is used, in days to come.
func (z ZoneLaw) closedLater(uses []string, from, to civil.Date) []message.Message {
	var places []law.Place
	for _, p := range z.Places {
		places = append(places, p.Place)
	}
	var out []message.Message
	for _, p := range ClosedParts(places, from, to, func(i int) (seasons []law.Span) {
		for _, letter := range LawLetters(uses) {
			seasons = append(seasons, z.book.ClosedSeasons(places[i], law.Homeowner, letter, from, to, z.AsOf)...)
		}
		return seasons
	}) {
		out = append(out, p.Says())
	}
	return out
}

// ClosedPart is a closed season with the places of a zone that it closes.
type ClosedPart struct {
	First, Last civil.Date
	Excepted    bool          // every law that closes it knows exceptions
	Open        bool          // no end is on record
	Where       message.Value // as it stands within a sentence
	places      []string
}

// ClosedParts lists what the law closes of a stretch of days, by its first day and cut
// to no stretch, places with the same closed days together. seasons are the closed
// seasons of a place that touch the stretch.
func ClosedParts(places []law.Place, from, to civil.Date, seasons func(place int) []law.Span) []ClosedPart {
	var out []ClosedPart
	for i, place := range places {
		for _, s := range seasons(i) {
			part := ClosedPart{First: s.First, Last: s.Last, Open: s.Last >= to.AddDays(law.YearAhead)}
			part.Excepted = !slices.ContainsFunc(law.Runs([]law.Span{s}, from, to), func(r law.Run) bool { return !r.Excepted })
			p := Gather(&out, part, func(a, b ClosedPart) bool {
				return a.First == b.First && a.Last == b.Last && a.Excepted == b.Excepted
			})
			if !slices.Contains(p.places, place.Name) {
				p.places = append(p.places, place.Name)
			}
		}
	}
	slices.SortStableFunc(out, func(a, b ClosedPart) int { return int(a.First - b.First) })
	for i := range out {
		out[i].Where = Within(places, out[i].places)
	}
	return out
}

// Says is a closed season in words.
func (p ClosedPart) Says() message.Message {
	switch {
	case p.Open:
		return message.New("window_law.closed_on").With("places", p.Where).Date("first", p.First)
	case p.Excepted:
		return message.New("window_law.excepted").With("places", p.Where).Date("first", p.First).Date("last", p.Last)
	}
	return message.New("window_law.closed").With("places", p.Where).Date("first", p.First).Date("last", p.Last)
}

// Within names some places of a zone within a sentence.
func Within(places []law.Place, names []string) message.Value {
	if len(names) == len(places) && len(names) > 1 {
		return message.Word("law.everywhere").Lowered()
	}
	return message.Texts(message.Comma, names...)
}

// closedDays are the days of the week on which a place is closed for a use; clear
// is false where some other day is not cleared.
func (p PlaceLaw) closedDays(use string, monday civil.Date) (days []civil.Date, clear bool) {
	letter, nutrient := lawLetters[use]
	clear = true
	for i := range 7 {
		verdict := law.Open
		switch {
		case nutrient:
			verdict = p.Homeowner[letter].Days[i].Verdict
		case use != WaterUse:
			if p.Homeowner[use].Days[i].Verdict == law.Closed {
				verdict = law.Closed
			}
		case p.Water.State == "closed_all":
			verdict = law.Closed
		case p.Water.State == "not_cleared":
			verdict = law.NotCleared
		}
		switch verdict {
		case law.Closed:
			days = append(days, monday.AddDays(i))
		case law.NotCleared:
			clear = false
		}
	}
	return days, clear
}

// elsewhere is what is said of places that a closing leaves out: that they are open
// only of what somebody has looked up.
func elsewhere(use string) string {
	if slices.Contains(law.Pesticides(), use) {
		return "none_found"
	}
	return "elsewhere"
}

// closed says that the law closes a use, and where that is not everywhere all
// week, at which places and on which days, and what holds of the rest.
func (z ZoneLaw) closed(use string) message.Message {
	type part struct {
		days   []civil.Date
		places []string
	}
	var parts []part
	rest, whole := "", true
	for _, p := range z.Places {
		days, clear := p.closedDays(use, z.Monday)
		whole = whole && len(days) == 7
		switch {
		case !clear:
			rest = "not_cleared"
		case rest == "not_cleared" || len(days) == 7:
		case len(days) == 0:
			rest = elsewhere(use)
		case rest == "":
			rest = "other_days"
		}
		if len(days) == 0 {
			continue
		}
		i := slices.IndexFunc(parts, func(o part) bool { return slices.Equal(o.days, days) })
		if i < 0 {
			i = len(parts)
			parts = append(parts, part{days: days})
		}
		parts[i].places = append(parts[i].places, p.Place.Name)
	}
	if whole {
		return message.New("gate.law.closed").Word("use", "use."+use)
	}
	var says []message.Message
	for _, p := range parts {
		code := "closed_part.at"
		if len(p.places) == len(z.Places) {
			code = "closed_part.everywhere"
		}
		says = append(says, message.New(code).With("places", message.Texts(message.And, p.places...)).With("days", message.Days(p.days)))
	}
	return message.New(closedInPart).Word("use", "use."+use).With("parts", message.Messages(message.Semicolon, says...)).Word("rest", "closed_rest."+rest)
}
