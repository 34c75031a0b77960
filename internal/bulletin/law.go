package bulletin

import (
	"slices"
	"strconv"

	"ligule/internal/advice"
	"ligule/internal/law"
	"ligule/internal/message"
	"ligule/internal/reference"
	"ligule/internal/watering"
	"ligule/internal/workspace"
)

// Law is the local law of a zone for the week: of nitrogen spread by who lives
// there, where nothing else is said.
type Law struct {
	Alarm   bool            `json:"alarm,omitempty"` // closed or not cleared somewhere: stands above the author's note
	Shut    bool            `json:"shut,omitempty"`  // closed somewhere
	Part    bool            `json:"part,omitempty"`  // closed, but not everywhere all week
	Closed  []*message.Said `json:"closed,omitempty"`
	Unknown []*message.Said `json:"unknown,omitempty"` // why a place is not cleared
	Dry     []string        `json:"dry,omitempty"`     // places at which watering is closed all week
	Acting  []reference.Law `json:"acting,omitempty"`  // laws that close, or leave uncleared
	Varies  bool            `json:"varies,omitempty"`  // places differ for somebody: each is shown
	Places  []PlaceLaw      `json:"places,omitempty"`
	Next    []*message.Said `json:"next,omitempty"`  // the next opening or closing after the week
	Flags   []*message.Said `json:"flags,omitempty"` // stale, unverified, …
}

// PlaceLaw is the law of one place.
type PlaceLaw struct {
	ID         string             `json:"id"` // of its heading
	Name       string             `json:"name"`
	Homeowner  reference.LawState `json:"homeowner"`            // nitrogen
	ForHire    reference.LawState `json:"for_hire"`             // nitrogen
	Phosphorus reference.LawState `json:"phosphorus"`           // homeowner
	Home       PlaceReasons       `json:"home"`                 // nitrogen
	Hire       PlaceReasons       `json:"hire"`                 // nitrogen
	Same       bool               `json:"same,omitempty"`       // what is said to who does it at home holds for hire, word for word
	Exceptions []*message.Said    `json:"exceptions,omitempty"` // the laws that close phosphorus, each with its exceptions
	Records    []reference.Law    `json:"records,omitempty"`    // that speak, upper first
	Watering   reference.Watering `json:"watering"`             // with water of the public supply
	Clashes    []*message.Said    `json:"clashes,omitempty"`    // what cannot be kept together
	Pesticides []*message.Said    `json:"pesticides,omitempty"` // each law that bars some to who lives there, with its days
}

// PlaceReasons is what the law of one place says to one person. The place is not
// named.
type PlaceReasons struct {
	Closed     []*message.Said `json:"closed,omitempty"` // each closing law with its days
	Unknown    []*message.Said `json:"unknown,omitempty"`
	Conditions []*message.Said `json:"conditions,omitempty"` // limits and duties
	Next       []*message.Said `json:"next,omitempty"`
	Besides    bool            `json:"besides,omitempty"` // the conditions of another, shown above, hold here too
}

// zoneLaw says what the law says.
func zoneLaw(ws *workspace.Workspace, z advice.ZoneLaw) Law {
	l := lawStates(ws, z)
	for i, p := range z.Places {
		l.Places[i].explain(ws, z, p)
	}
	return l
}

// lawStates says how the law stands, without what it says to whom at each place.
func lawStates(ws *workspace.Workspace, z advice.ZoneLaw) Law {
	const n = "N"
	l := Law{
		Varies: varies(z.Places),
		Closed: message.SayAll(z.ClosureReasons(n)), Unknown: message.SayAll(z.UnclearReasons(n)),
		Next: message.SayAll(z.NextReasons(n)), Flags: message.SayAll(z.FlagReasons()),
	}
	for i, p := range z.Places {
		l.Places = append(l.Places, placeLaw(ws, z, p, "place-"+strconv.Itoa(i+1)))
		for _, r := range acting(p.Homeowner[n]) {
			if !slices.ContainsFunc(l.Acting, func(o reference.Law) bool { return o.ID == r.ID }) {
				l.Acting = append(l.Acting, reference.LawOf(r, z.AsOf))
			}
		}
	}
	l.sumUp()
	return l
}

// sumUp says of the places together what goes by their states.
func (l *Law) sumUp() {
	shut, whole := 0, 0
	for _, p := range l.Places {
		if p.Watering.State.Shut() {
			l.Dry = append(l.Dry, p.Name)
		}
		if p.Homeowner.Closed() {
			shut++
		}
		if p.Homeowner.ID == "closed_all" {
			whole++
		}
		l.Alarm = l.Alarm || p.Homeowner.Unclear()
	}
	l.Part = 0 < shut && whole < len(l.Places)
	l.Shut = shut > 0 || len(l.Closed) > 0
	// A zone without any place has no law on record, which clears nothing.
	l.Alarm = l.Alarm || l.Shut || len(l.Unknown)+len(l.Dry) > 0 || len(l.Places) == 0
}

func placeLaw(ws *workspace.Workspace, z advice.ZoneLaw, p advice.PlaceLaw, id string) PlaceLaw {
	out := PlaceLaw{
		ID: id, Name: p.Place.Name,
		Homeowner: reference.LawStateOf(p.Homeowner["N"]), ForHire: reference.LawStateOf(p.ForHire["N"]), Phosphorus: reference.LawStateOf(p.Homeowner["P"]),
		Watering: reference.WateringOf(ws, p.Water, z.AsOf),
	}
	for _, x := range p.Barred {
		for _, m := range z.Closures(x.Home) {
			says := message.New("law_place.barred")
			if x.Class != "" {
				says = message.New("law_place.barred_class").Name("class", x.Class)
			}
			out.Pesticides = append(out.Pesticides, message.Say(says.Word("use", "use."+x.Use).Said("says", m).Raised()))
		}
	}
	for _, c := range p.Clashes {
		out.Clashes = append(out.Clashes, message.Say(advice.SaysClash(c).Raised()))
	}
	for _, r := range ws.Law.RecordsOf(p.Place, z.Monday, z.Monday.AddDays(6)) {
		out.Records = append(out.Records, reference.LawOf(r, z.AsOf))
	}
	return out
}

// explain puts to the law of a place what it says to whom.
func (out *PlaceLaw) explain(ws *workspace.Workspace, z advice.ZoneLaw, p advice.PlaceLaw) {
	const n = "N"
	hire := ws.Law.WeekConditions(law.Question{Place: p.Place, Actor: law.ForHire, AsOf: z.AsOf, Product: law.ProductOf(n)}, z.Monday)
	out.Exceptions = exceptions(p.Homeowner["P"])
	reasons := func(week law.PlaceWeek, conditions []law.Condition) PlaceReasons {
		return PlaceReasons{Closed: raised(z.Closures(week)), Unknown: raised(advice.Unclear(week)), Conditions: raised(z.Conditions(conditions)), Next: raised(advice.Next(week))}
	}
	out.Home, out.Hire = reasons(p.Homeowner[n], p.Conditions[n]), reasons(p.ForHire[n], hire)
	out.Same = out.Homeowner.ID == out.ForHire.ID && out.Home.alike(out.Hire, out.Homeowner.Shut())
	if !out.Homeowner.Shut() {
		out.Hire.shorten(out.Home.Conditions)
	}
}

func raised(all []message.Message) []*message.Said {
	var out []*message.Said
	for _, m := range all {
		out = append(out, message.Say(m.Raised()))
	}
	return out
}

// alike reports whether what is shown to two persons is the same. Where all is
// closed, conditions are not.
func (r PlaceReasons) alike(o PlaceReasons, shut bool) bool {
	same := func(x, y []*message.Said) bool { return slices.EqualFunc(x, y, (*message.Said).Equal) }
	return same(r.Closed, o.Closed) && same(r.Unknown, o.Unknown) && same(r.Next, o.Next) && (shut || same(r.Conditions, o.Conditions))
}

// shorten leaves out the conditions that are shown of another.
func (r *PlaceReasons) shorten(shown []*message.Said) {
	own := slices.DeleteFunc(slices.Clone(r.Conditions), func(s *message.Said) bool { return slices.ContainsFunc(shown, s.Equal) })
	r.Besides = len(own) < len(r.Conditions)
	r.Conditions = own
}

// varies reports whether the places of a zone have different answers for anybody
// who is answered here.
func varies(places []advice.PlaceLaw) bool {
	var home, hire, phosphorus []law.PlaceWeek
	for _, p := range places {
		home, hire, phosphorus = append(home, p.Homeowner["N"]), append(hire, p.ForHire["N"]), append(phosphorus, p.Homeowner["P"])
	}
	return law.VariesByPlace(home) || law.VariesByPlace(hire) || law.VariesByPlace(phosphorus)
}

// exceptions lists the laws that close something in the week, each with what
// would lift it there.
func exceptions(w law.PlaceWeek) []*message.Said {
	var out []message.Message
	for _, day := range w.Days {
		for _, h := range day.Closed() {
			if h.Record == nil || h.Rule == nil {
				continue
			}
			line := message.New("law_place.closed_by")
			if len(h.Rule.Unless) > 0 {
				line = message.New("law_place.closed_unless").With("facts", message.WordsOr(message.Comma, "law_fact", h.Rule.Unless...))
			}
			advice.Gather(&out, line.Name("law", h.Record.Title).Name("rule", law.Pinpoint(h.Record, h.Rule)), message.Message.Equal)
		}
	}
	return message.SayAll(out)
}

// acting lists the laws that close a week at a place, or leave it uncleared.
func acting(w law.PlaceWeek) []*law.Record {
	var out []*law.Record
	add := func(r *law.Record) {
		if r != nil && !slices.Contains(out, r) {
			out = append(out, r)
		}
	}
	for _, day := range w.Days {
		for _, h := range day.Closed() {
			add(h.Record)
		}
		if day.Verdict != law.NotCleared {
			continue
		}
		for _, h := range day.Hits {
			if h.Verdict == law.NotCleared {
				add(h.Record)
			}
		}
		for _, n := range day.Notices {
			add(n.Record)
		}
	}
	return out
}

// tellWatering puts to answers what watering law adds: to feeding whether it may
// be watered in on any day, since what is spread often must be, and to watering
// its days and hours.
func tellWatering(z advice.ZoneLaw, grasses []*Grass) {
	in, limits := wateringIn(z), wateringLimits(z)
	for _, g := range grasses {
		for _, a := range g.Answers {
			if a.Verdict != string(advice.Do) {
				continue
			}
			if len(advice.LawLetters(a.Uses)) > 0 {
				a.Conditions = append(a.Conditions, message.SayAll(in)...)
			}
			if slices.Contains(a.Uses, advice.WaterUse) {
				a.Conditions = append(a.Conditions, message.SayAll(limits)...)
			}
		}
	}
}

// wateringIn lists, for advice to feed, whether what is spread may be watered in
// whatever the day: once for places of which the same is to be said.
func wateringIn(z advice.ZoneLaw) []message.Message {
	return byPlace(z, func(w watering.Week) []message.Message {
		in := reference.WaterIn(w)
		if w.State == "" || in.IsZero() {
			return nil
		}
		return []message.Message{in}
	})
}

// wateringLimits lists, for advice to water, what the watering laws leave of it.
func wateringLimits(z advice.ZoneLaw) []message.Message {
	return byPlace(z, func(w watering.Week) []message.Message {
		if w.State == "" || w.State == watering.Open.String() {
			return nil
		}
		var laws []*watering.Record
		for _, l := range w.Laws {
			laws = append(laws, l.Record)
		}
		out := []message.Message{message.New("water_rule."+w.State).With("laws", reference.CitedLaws(laws))}
		if c := w.MaxDepthIn; c != nil {
			out = append(out, message.New("water_rule.depth").With("inches", message.Figure(c.Value)).Name("law", c.Record.Called()))
		}
		return out
	})
}

// byPlace says what each place has to be told, once for places of which all the
// same is said.
func byPlace(z advice.ZoneLaw, says func(w watering.Week) []message.Message) []message.Message {
	type told struct {
		says   []message.Message
		places []string
	}
	var all []told
	for _, p := range z.Places {
		lines := says(p.Water)
		t := advice.Gather(&all, told{says: lines}, func(a, b told) bool { return slices.EqualFunc(a.says, b.says, message.Message.Equal) })
		t.places = append(t.places, p.Place.Name)
	}
	var out []message.Message
	for _, t := range all {
		for _, m := range t.says {
			out = append(out, advice.At(z.Where(t.places), m))
		}
	}
	return out
}
