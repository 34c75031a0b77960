package publish

import (
	"slices"
	"strconv"
	"strings"

	"ligule/internal/bulletin"
	"ligule/internal/civil"
	"ligule/internal/law"
	"ligule/internal/message"
)

// waterView is what the watering laws of a place say of a week: a table of days
// and hours, since the answer goes by house numbers.
type waterView struct {
	Place  string
	Source string    // the water it is about
	State  stateView // "" if the place was not asked about watering
	Groups []string  // the columns: lots that have the same days and hours
	Rows   []waterRow
	Laws   []waterLawView // that speak
	Soon   []waterLawView // that take effect soon
	Caps   []string
	In     string // whether watering in is exempt; "" if nothing is closed
	Exempt []string
	Unread []string // jurisdictions without a watering law on record
}

type waterRow struct {
	Date  civil.Date
	Cells []waterCell
}

// waterCell is one day of one group of lots.
type waterCell struct {
	ID    string // the mildest verdict of the day
	Parts []waterPart
}

// waterPart is a verdict with the hours at which it holds, "" for all day.
type waterPart struct{ Word, Hours string }

// waterLawView is a watering law as a place's page shows it.
type waterLawView struct {
	recordView
	Stages []string // what is declared on which days of the week
	Flags  []string
}

// watering words a week. A place that was not asked gives an empty view.
func (v viewer) watering(w law.WaterWeek, asOf civil.Date) waterView {
	wv := waterView{Place: w.Place.Name}
	if w.State == "" {
		return wv
	}
	wv.Source = v.word("water_source", w.Source)
	wv.State = stateView{w.State, v.must("water_state", w.State)}
	for _, id := range w.Unread {
		wv.Unread = append(wv.Unread, v.jurisdictionName(id))
	}
	letters := slices.ContainsFunc(w.Groups, func(g law.WaterGroup) bool { return !slices.Equal(g.Digits, g.Letters) })
	for _, g := range w.Groups {
		wv.Groups = append(wv.Groups, v.waterGroup(g, letters))
	}
	for i := range 7 {
		if len(w.Groups) == 0 {
			break
		}
		row := waterRow{Date: w.Monday.AddDays(i)}
		for _, g := range w.Groups {
			row.Cells = append(row.Cells, v.waterDay(g.Days[i]))
		}
		wv.Rows = append(wv.Rows, row)
	}
	for _, l := range w.Laws {
		wv.Laws = append(wv.Laws, v.waterLaw(l, w.Monday, asOf))
	}
	for _, l := range w.Soon {
		wv.Soon = append(wv.Soon, v.waterLaw(l, w.Monday, asOf))
	}
	if c := w.MaxDepthIn; c != nil {
		wv.Caps = append(wv.Caps, v.say("water_cap.depth", "inches", trimmed(c.Value), "law", waterTitle(c.Record), "citation", c.Record.Citation))
	}
	if c := w.MaxMinutes; c != nil {
		wv.Caps = append(wv.Caps, v.say("water_cap.minutes", "minutes", trimmed(c.Value), "law", waterTitle(c.Record), "citation", c.Record.Citation))
	}
	wv.In = underName(v.waterIn(w, w.Place.Name), w.Place.Name)
	for _, f := range w.Exempt {
		if f.What != "water_in" { // said by itself
			wv.Exempt = append(wv.Exempt, v.waterFree(f))
		}
	}
	return wv
}

// jurisdictionName is the name of a jurisdiction of the list; another id is
// printed as it stands.
func (v viewer) jurisdictionName(id string) string {
	for _, j := range v.ws.Places {
		if j.ID == id {
			return j.Name
		}
	}
	return id
}

// waterGroup names the lots of a column. letters says that some law of the
// place puts numbers that end in a letter elsewhere than their digit.
func (v viewer) waterGroup(g law.WaterGroup, letters bool) string {
	name := v.say("water_group."+g.Group, "digits", digits(g.Digits))
	if g.Group == "all" || g.Group == "nonresidential" {
		return name
	}
	if letters && len(g.Digits) > 0 {
		switch {
		case len(g.Letters) == 0:
			name = v.say("water_group.without_letter", "group", name)
		case len(g.Letters) == 10:
			name = v.say("water_group.any_letter", "group", name)
		case !slices.Equal(g.Digits, g.Letters):
			name = v.say("water_group.some_letters", "group", name, "digits", digits(g.Letters))
		}
	}
	if g.NoNumber && g.Group != "no_number" {
		name = v.say("water_group.or_no_number", "group", name)
	}
	if g.Nonresidential {
		name = v.say("water_group.not_homes", "group", name)
	}
	return name
}

func digits(list []int) string {
	out := make([]string, len(list))
	for i, d := range list {
		out[i] = strconv.Itoa(d)
	}
	return strings.Join(out, ", ")
}

// waterDay words one day: the hours of each verdict short of closed, mildest
// first; what is not named is closed.
func (v viewer) waterDay(d law.WaterDay) waterCell {
	cell := waterCell{ID: d.Verdict.String()}
	for verdict := law.WaterOpen; verdict < law.WaterClosed; verdict++ {
		if hours := d.At(verdict); len(hours) > 0 {
			cell.Parts = append(cell.Parts, waterPart{v.must("water_day", verdict.String()), v.hours(hours)})
		}
	}
	if len(cell.Parts) == 0 {
		cell.Parts = []waterPart{{Word: v.must("water_day", law.WaterClosed.String())}}
	}
	return cell
}

// hours prints spans of a day: "midnight to 9 am, 5 pm to midnight"; "" for
// the whole day.
func (v viewer) hours(spans []law.Hours) string {
	var out []string
	for _, h := range spans {
		if h.From == 0 && h.To == dayMinutes {
			return ""
		}
		out = append(out, v.say("water_day.span", "from", v.clockTime(h.From), "to", v.clockTime(h.To)))
	}
	return strings.Join(out, ", ")
}

const dayMinutes = 24 * 60

// clockTime prints minutes after midnight: "midnight", "9 am", "4:30 pm".
func (v viewer) clockTime(minute int) string {
	switch minute %= dayMinutes; minute {
	case 0:
		return v.must("clock", "midnight")
	case dayMinutes / 2:
		return v.must("clock", "noon")
	}
	hour, half := minute/60, "am"
	if hour >= 12 {
		half = "pm"
	}
	text := strconv.Itoa((hour+11)%12 + 1)
	if m := minute % 60; m > 0 {
		text += ":" + strconv.Itoa(m/10) + strconv.Itoa(m%10)
	}
	return v.say("clock."+half, "time", text)
}

func (v viewer) waterLaw(l law.WaterLaw, monday, asOf civil.Date) waterLawView {
	lv := waterLawView{recordView: v.waterRecord(l.Record, asOf)}
	for _, f := range l.Flags {
		lv.Flags = append(lv.Flags, v.say("water_flag."+string(f), "law", waterTitle(l.Record), "checked", longDate(l.Record.CheckedOn),
			"date", longDate(l.Record.EffectiveFrom), "months", strconv.Itoa(l.Record.ReviewMonths)))
	}
	if len(l.Record.Stages) == 0 {
		return lv
	}
	for i := 0; i < len(l.Stage); {
		j := i
		for j+1 < len(l.Stage) && l.Stage[j+1] == l.Stage[i] && l.StageKnown[j+1] == l.StageKnown[i] {
			j++
		}
		lv.Stages = append(lv.Stages, v.stage(l, i, v.weekDays(monday, i, j)))
		i = j + 1
	}
	return lv
}

func (v viewer) stage(l law.WaterLaw, day int, days string) string {
	switch s := l.Record.Stage(l.Stage[day]); {
	case !l.StageKnown[day]:
		return v.say("water_stage.unknown", "days", days)
	case s == nil:
		return v.say("water_stage.none", "days", days)
	default:
		return v.say("water_stage."+s.Force, "n", strconv.Itoa(s.N), "name", s.Name, "days", days)
	}
}

// weekDays words a run of days of a week by their offsets from Monday.
func (v viewer) weekDays(monday civil.Date, first, last int) string {
	switch {
	case first == 0 && last == 6:
		return v.must("days", "all_week")
	case first == last:
		return weekdayDate(monday.AddDays(first))
	}
	return v.say("days.through", "first", weekdayDate(monday.AddDays(first)), "last", weekdayDate(monday.AddDays(last)))
}

// waterRecord is a watering law as a record of law.
func (v viewer) waterRecord(r *law.WaterRecord, asOf civil.Date) recordView {
	return v.reviewed(recordView{
		ID: r.ID, Title: waterTitle(r), Citation: r.Citation, URL: r.SourceURL, Jurisdiction: v.jurisdictionName(r.Jurisdiction),
		Address: "/local-rules/" + r.Jurisdiction + "/", Check: v.say("law_check."+r.Verification, "date", longDate(r.CheckedOn)),
		CheckedOn: r.CheckedOn, NextReview: r.NextReview(), Stale: r.Stale(asOf), Unverified: r.Verification == "unverified", Fictional: r.Fictional,
	}, asOf)
}

// waterTitle is what a watering law is called: its title, or else its citation.
func waterTitle(r *law.WaterRecord) string {
	if r.Title == "" {
		return r.Citation
	}
	return r.Title
}

// waterIn says whether watering in what was spread is exempt; "" where nothing
// is closed, so that nothing need be.
func (v viewer) waterIn(w law.WaterWeek, place string) string {
	switch w.WaterIn.State {
	case "not_needed":
		return ""
	case "":
		return v.say("water_in.no_record", "place", place)
	case "exempt":
		return v.say("water_in.exempt", "place", place, "inches", trimmed(w.WaterIn.MaxIn), "hours", strconv.Itoa(w.WaterIn.Hours), "laws", cited(w.WaterIn.Laws))
	}
	return v.say("water_in."+w.WaterIn.State, "place", place, "laws", cited(w.WaterIn.Laws))
}

// cited names laws with their citations.
func cited(laws []*law.WaterRecord) string {
	out := make([]string, len(laws))
	for i, r := range laws {
		out[i] = r.Citation
		if r.Title != "" {
			out[i] = r.Title + ", " + r.Citation
		}
	}
	return strings.Join(out, "; ")
}

// waterFree words what every law that closes something frees, with each law's
// terms.
func (v viewer) waterFree(f law.WaterFree) string {
	var terms []string
	for _, g := range f.By {
		x := g.Exemption
		say := func(id string, slots ...string) {
			if t := v.say("water_exempt."+id, append(slots, "law", waterTitle(g.Record))...); !slices.Contains(terms, t) {
				terms = append(terms, t)
			}
		}
		if x.AnyDay != nil {
			say("any_day", "from", strconv.Itoa(x.AnyDay.From), "to", strconv.Itoa(x.AnyDay.To))
		}
		if x.AlternateDay != nil {
			say("alternate_day", "from", strconv.Itoa(x.AlternateDay.From), "to", strconv.Itoa(x.AlternateDay.To))
		}
	}
	what := v.word("water_exempt", f.What)
	if len(terms) == 0 {
		return v.say("water_exempt.plain", "what", what)
	}
	return v.say("water_exempt.with_terms", "what", what, "terms", strings.Join(terms, "; "))
}

// wateringIn lists, for advice to feed, whether what is spread may be watered in
// whatever the day: once for places of which the same is to be said.
func (v viewer) wateringIn(places []bulletin.PlaceLaw) []string {
	return v.byPlace(places, func(w law.WaterWeek, place string) []string {
		if w.State == "" {
			return nil
		}
		if line := v.waterIn(w, place); line != "" {
			return []string{line}
		}
		return nil
	})
}

// wateringLimits lists, for advice to water, what the watering laws leave of it.
func (v viewer) wateringLimits(places []bulletin.PlaceLaw) []string {
	return v.byPlace(places, func(w law.WaterWeek, place string) []string {
		if w.State == "" || w.State == law.WaterOpen.String() {
			return nil
		}
		var laws []*law.WaterRecord
		for _, l := range w.Laws {
			laws = append(laws, l.Record)
		}
		out := []string{v.say("water_rule."+w.State, "place", place, "laws", cited(laws))}
		if c := w.MaxDepthIn; c != nil {
			out = append(out, v.say("water_rule.depth", "place", place, "inches", trimmed(c.Value), "law", waterTitle(c.Record)))
		}
		return out
	})
}

// byPlace says what each place has to be told, once for places of which the
// same is said.
func (v viewer) byPlace(places []bulletin.PlaceLaw, say func(w law.WaterWeek, place string) []string) []string {
	type told struct {
		key    string
		week   law.WaterWeek
		places []string
	}
	var all []told
	for _, p := range places {
		key := strings.Join(say(p.Watering, ""), "\n")
		k := slices.IndexFunc(all, func(t told) bool { return t.key == key })
		if k < 0 {
			all = append(all, told{key: key, week: p.Watering})
			k = len(all) - 1
		}
		all[k].places = append(all[k].places, p.Place.Name)
	}
	var out []string
	for _, t := range all {
		where := v.Value(message.Texts(message.And, t.places...))
		if len(t.places) == len(places) && len(places) > 1 {
			where = v.must("law", "everywhere")
		}
		out = append(out, say(t.week, where)...)
	}
	return out
}
