package replay

import (
	"slices"

	"ligule/internal/edition"
	"ligule/internal/message"
	"ligule/internal/workspace"
)

// Page is a replay as a template prints it.
type Page struct {
	Years       *message.Said
	First, Last string // weeks
	Weeks       int
	Zones       []PageZone
	Scouting    *Verification
	Following   bool // the days that followed stood in for forecasts
}

// PageZone is a zone of a Page.
type PageZone struct {
	*Zone
	Law     []PageLaw
	Grasses []PageGrass
}

// PageLaw is a record of law with all the places for which it spoke.
type PageLaw struct {
	Law
	Places *message.Said
}

// PageGrass is a grass of a zone.
type PageGrass struct {
	*Grass
	Zone   string // its name
	Years  []int  // that were run
	Topics []PageTopic
	States []PageState
}

// PageTopic is the rules of a topic.
type PageTopic struct {
	Name  *message.Said
	Rules []PageRule
}

// PageRule is a rule with what its advice came to.
type PageRule struct {
	*Rule
	PestName string
	Verdicts []PageCount // those that it came to, by the printed word
}

// PageCount is a word with a number.
type PageCount struct {
	Word  *message.Said
	Weeks int
}

// PageState is a state with the weeks of a year in it.
type PageState struct {
	State       *message.Said // nil cannot be told
	Least, Most int
	Usual       *message.Said
}

// PageOf puts a replay into the order of its page, and finds the words.
func PageOf(ws *workspace.Workspace, r *Replay) Page {
	p := Page{Years: just(between(r.First, r.Last)), Weeks: len(r.Weeks), Scouting: &r.Scouting, Following: r.Forecast == FollowingForecast}
	if n := len(r.Weeks); n > 0 {
		p.First, p.Last = r.Weeks[0].Week.String(), r.Weeks[n-1].Week.String()
	}
	for _, z := range r.Zones {
		zone := PageZone{Zone: z, Law: pageLaws(z.Law)}
		for _, g := range z.Grasses {
			zone.Grasses = append(zone.Grasses, PageGrass{g, z.Name, r.Years(), pageTopics(r, g), pageStates(g, r.Years())})
		}
		p.Zones = append(p.Zones, zone)
	}
	edition.Voice(&p, ws.Voice())
	return p
}

// between is a number, or the range from one to another.
func between(low, high int) message.Value {
	if low == high {
		return message.Count(low)
	}
	return message.List(message.Range, message.Count(low), message.Count(high))
}

func pageLaws(all []Law) []PageLaw {
	var out []PageLaw
	for i, l := range all {
		same := func(k Law) bool { return k.ID == l.ID && k.Watering == l.Watering }
		if slices.ContainsFunc(all[:i], same) {
			continue
		}
		var places []string
		for _, k := range all[i:] {
			if same(k) {
				places = append(places, k.Place)
			}
		}
		out = append(out, PageLaw{l, just(message.Texts(message.Comma, places...))})
	}
	return out
}

func pageTopics(r *Replay, g *Grass) []PageTopic {
	var out []PageTopic
	for i, rule := range g.Rules {
		if i == 0 || g.Rules[i-1].Topic != rule.Topic {
			out = append(out, PageTopic{Name: message.Say(message.New("topic." + rule.Topic))})
		}
		shown := PageRule{Rule: rule, PestName: r.names[rule.Pest]}
		total := rule.Total()
		for _, c := range []struct {
			verdict string
			weeks   int
		}{{"do", total.Do}, {"wait", total.Wait}, {"skip", total.Skip}, {"look", total.Look}, {"closed", total.Closed}} {
			if c.weeks > 0 {
				shown.Verdicts = append(shown.Verdicts, PageCount{message.Say(message.New("verdict." + c.verdict)), c.weeks})
			}
		}
		t := &out[len(out)-1]
		t.Rules = append(t.Rules, shown)
	}
	return out
}

// pageStates counts the weeks of a year in each state: fewest, median, most.
func pageStates(g *Grass, years []int) []PageState {
	var out []PageState
	for _, state := range stateOrder() {
		weeks := make([]int, len(years))
		for _, s := range g.StateYears() {
			if s.State == state {
				weeks[slices.Index(years, s.Year)] = s.Weeks
			}
		}
		slices.Sort(weeks)
		n := len(weeks)
		if n == 0 || weeks[n-1] == 0 {
			continue
		}
		low, high := weeks[(n-1)/2], weeks[n/2]
		if (low+high)%2 == 0 {
			low, high = (low+high)/2, (low+high)/2
		}
		out = append(out, PageState{stateWord(state), weeks[0], weeks[n-1], just(between(low, high))})
	}
	return out
}
