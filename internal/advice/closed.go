package advice

import (
	"slices"

	"ligule/internal/civil"
	"ligule/internal/law"
	"ligule/internal/message"
)

// closedInPart is the phrase of what is closed at some places, or on some days.
const closedInPart = "gate.law.closed_part"

// InPart reports whether the law closes it at some places only, or on some days.
func (a *Answer) InPart() bool { return a.Lead.Say.Code == closedInPart }

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
