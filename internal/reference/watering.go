package reference

import (
	"slices"

	"ligule/internal/civil"
	"ligule/internal/law"
	"ligule/internal/message"
	"ligule/internal/watering"
	"ligule/internal/workspace"
)

// Watering is what the watering laws of a place say of a week: a table of days
// and hours, since the answer goes by house numbers.
type Watering struct {
	Place  string          `json:"place"`
	Source *message.Said   `json:"source,omitempty"` // the water it is about
	State  LawState        `json:"state,omitzero"`   // none if the place was not asked about watering
	Groups []*message.Said `json:"groups,omitempty"` // the columns: lots that have the same days and hours
	Rows   []WaterRow      `json:"rows,omitempty"`
	Laws   []WaterLaw      `json:"laws,omitempty"` // that speak
	Soon   []WaterLaw      `json:"soon,omitempty"` // that take effect soon
	Caps   []*message.Said `json:"caps,omitempty"`
	In     *message.Said   `json:"in,omitempty"` // whether watering in is exempt; nil if nothing is closed
	Exempt []*message.Said `json:"exempt,omitempty"`
	Unread []string        `json:"unread,omitempty"` // jurisdictions without a watering law on record
}

// WaterRow is a day.
type WaterRow struct {
	Date  civil.Date  `json:"date"`
	Cells []WaterCell `json:"cells"`
}

// WaterCell is one day of one group of lots.
type WaterCell struct {
	ID    string      `json:"id"` // the mildest verdict of the day
	Parts []WaterPart `json:"parts"`
}

// WaterPart is a verdict with the hours at which it holds, nil for all day.
type WaterPart struct {
	Word  *message.Said `json:"word"`
	Hours *message.Said `json:"hours,omitempty"`
}

// WaterLaw is a watering law in one week.
type WaterLaw struct {
	Law
	Stages []*message.Said `json:"stages,omitempty"` // what is declared on which days
	Flags  []*message.Said `json:"flags,omitempty"`
}

// WateringOf says a week. A place that was not asked gives an empty one.
func WateringOf(ws *workspace.Workspace, w watering.Week, asOf civil.Date) Watering {
	out := Watering{Place: w.Place.Name}
	if w.State == "" {
		return out
	}
	out.Source = value(message.WordOr("water_source", w.Source))
	out.State = LawState{w.State, say("water_state." + w.State)}
	for _, id := range w.Unread {
		out.Unread = append(out.Unread, jurisdictionName(ws, id))
	}
	letters := slices.ContainsFunc(w.Groups, func(g watering.Group) bool { return !slices.Equal(g.Digits, g.Letters) })
	out.Groups = message.SayEach(w.Groups, func(g watering.Group) message.Message { return waterGroup(g, letters) })
	for i := range 7 {
		if len(w.Groups) == 0 {
			break
		}
		row := WaterRow{Date: w.Monday.AddDays(i)}
		for _, g := range w.Groups {
			row.Cells = append(row.Cells, waterDay(g.Days[i]))
		}
		out.Rows = append(out.Rows, row)
	}
	for _, l := range w.Laws {
		out.Laws = append(out.Laws, waterLaw(ws, l, w.Monday, asOf))
	}
	for _, l := range w.Soon {
		out.Soon = append(out.Soon, waterLaw(ws, l, w.Monday, asOf))
	}
	if c := w.MaxDepthIn; c != nil {
		out.Caps = append(out.Caps, waterCap("depth", "inches", c.Value, c.Record))
	}
	if c := w.MaxMinutes; c != nil {
		out.Caps = append(out.Caps, waterCap("minutes", "minutes", c.Value, c.Record))
	}
	out.In = message.Say(WaterIn(w).Raised())
	for _, f := range w.Exempt {
		if f.What != "water_in" { // said by itself
			out.Exempt = append(out.Exempt, waterFree(f))
		}
	}
	return out
}

// waterCap says a cap of a law: code and slot name what it is counted in.
func waterCap(code, slot string, most float64, r *watering.Record) *message.Said {
	return message.Say(message.New("water_cap."+code).With(slot, message.Figure(most)).Name("law", r.Called()).Name("citation", r.Citation))
}

// waterGroup names the lots of a column. letters says that some law of the
// place puts numbers that end in a letter elsewhere than their digit.
func waterGroup(g watering.Group, letters bool) message.Message {
	name := groupOf(g.Group, g.Digits)
	if g.Group == "all" || g.Group == "nonresidential" {
		return name
	}
	wrap := func(code string) message.Message { return message.New("water_group."+code).Said("group", name) }
	if letters && len(g.Digits) > 0 {
		switch {
		case len(g.Letters) == 0:
			name = wrap("without_letter")
		case len(g.Letters) == 10:
			name = wrap("any_letter")
		case !slices.Equal(g.Digits, g.Letters):
			name = wrap("some_letters").With("digits", counts(g.Letters))
		}
	}
	if g.NoNumber && g.Group != "no_number" {
		name = wrap("or_no_number")
	}
	if g.Nonresidential {
		name = wrap("not_homes")
	}
	return name
}

// groupOf names a group of lots.
func groupOf(group string, digits []int) message.Message {
	return message.New("water_group."+group).With("digits", counts(digits))
}

func counts(list []int) message.Value { return message.Each(message.Comma, list, message.Count) }

// waterDay says one day: the hours of each verdict short of closed, mildest
// first; what is not named is closed.
func waterDay(d watering.Day) WaterCell {
	cell := WaterCell{ID: d.Verdict.String()}
	for verdict := watering.Open; verdict < watering.Closed; verdict++ {
		if hours := d.At(verdict); len(hours) > 0 {
			cell.Parts = append(cell.Parts, WaterPart{say("water_day." + verdict.String()), message.Say(clockHours(hours))})
		}
	}
	if len(cell.Parts) == 0 {
		cell.Parts = []WaterPart{{Word: say("water_day." + watering.Closed.String())}}
	}
	return cell
}

const dayMinutes = 24 * 60

// clockHours are spans of a day: "midnight to 9 am, 5 pm to midnight"; nothing
// for the whole day.
func clockHours(spans []watering.Hours) message.Message {
	var out []message.Message
	for _, h := range spans {
		if h.From == 0 && h.To == dayMinutes {
			return message.Message{}
		}
		out = append(out, between("water_day.span", h))
	}
	return message.Just(message.Messages(message.Comma, out...))
}

func between(code string, h watering.Hours) message.Message {
	return message.New(code).With("from", message.Clock(h.From)).With("to", message.Clock(h.To))
}

func waterLaw(ws *workspace.Workspace, l watering.Law, monday, asOf civil.Date) WaterLaw {
	r := l.Record
	out := WaterLaw{Law: WaterLawOf(ws, r, asOf)}
	out.Flags = message.SayEach(l.Flags, func(f law.Flag) message.Message {
		return message.New("water_flag."+string(f)).Name("law", r.Called()).
			Date("checked", r.CheckedOn).Date("date", r.EffectiveFrom).Count("months", r.ReviewMonths)
	})
	if len(r.Stages) == 0 {
		return out
	}
	for i := 0; i < len(l.Stage); {
		days := []civil.Date{monday.AddDays(i)}
		j := i
		for j+1 < len(l.Stage) && l.Stage[j+1] == l.Stage[i] && l.StageKnown[j+1] == l.StageKnown[i] {
			j++
			days = append(days, monday.AddDays(j))
		}
		out.Stages = append(out.Stages, declared(l, i, days))
		i = j + 1
	}
	return out
}

// declared says which stage of shortage is declared on days.
func declared(l watering.Law, day int, days []civil.Date) *message.Said {
	m := message.New("water_stage.none")
	switch s := l.Record.Stage(l.Stage[day]); {
	case !l.StageKnown[day]:
		m = message.New("water_stage.unknown")
	case s != nil:
		m = message.New("water_stage."+s.Force).Count("n", s.N).Name("name", s.Name)
	}
	return message.Say(m.With("days", message.Days(days)))
}

// WaterIn says whether watering in what was spread is exempt; nothing where
// nothing is closed, so that nothing need be.
func WaterIn(w watering.Week) message.Message {
	switch w.WaterIn.State {
	case "not_needed":
		return message.Message{}
	case "":
		return message.New("water_in.no_record")
	case "exempt":
		return message.New("water_in.exempt").With("inches", message.Figure(w.WaterIn.MaxIn)).Count("hours", w.WaterIn.Hours).With("laws", CitedLaws(w.WaterIn.Laws))
	}
	return message.New("water_in."+w.WaterIn.State).With("laws", CitedLaws(w.WaterIn.Laws))
}

// CitedLaws names watering laws with their citations.
func CitedLaws(laws []*watering.Record) message.Value {
	return message.Each(message.Semicolon, laws, func(r *watering.Record) message.Value {
		if r.Title == "" {
			return message.Text(r.Citation)
		}
		return message.Texts(message.Comma, r.Title, r.Citation)
	})
}

// waterFree says what every law that closes something frees, with each law's
// terms.
func waterFree(f watering.Freed) *message.Said {
	var terms []message.Message
	for _, g := range f.By {
		for _, m := range plantingTerms("water_exempt", g.Exemption) {
			if m = m.Name("law", g.Record.Called()); !message.Contains(terms, m) {
				terms = append(terms, m)
			}
		}
	}
	return exempt(f.What, terms)
}

// plantingTerms says which days after planting are free.
func plantingTerms(table string, x *watering.Exemption) []message.Message {
	var out []message.Message
	if x.AnyDay != nil {
		out = append(out, daysAfter(table+".any_day", x.AnyDay))
	}
	if x.AlternateDay != nil {
		out = append(out, daysAfter(table+".alternate_day", x.AlternateDay))
	}
	return out
}

// daysAfter fills a phrase with the days after planting.
func daysAfter(code string, d *law.DayRange) message.Message {
	return message.New(code).Count("from", d.From).Count("to", d.To)
}

// exempt says what is exempt on which terms.
func exempt(what string, terms []message.Message) *message.Said {
	says := message.New("water_exempt.plain").With("what", message.WordOr("water_exempt", what))
	if len(terms) > 0 {
		says = says.With("terms", message.Messages(message.Semicolon, terms...))
		says.Code = "water_exempt.with_terms"
	}
	return message.Say(says)
}
