package replay

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"ligule/internal/bulletin"
	"ligule/internal/civil"
	"ligule/internal/workspace"
)

// Page is a replay with everything put into words and figures, for a template.
type Page struct {
	Years       string // "2016 to 2025"
	First, Last string // weeks
	Weeks       int
	Zones       []PageZone
	Scouting    PageScouting
}

// PageZone is a zone of a Page.
type PageZone struct {
	ID, Name, Station string
	Weather           Weather
	Years             []PageLawYear
	Law               []PageLaw
	Grasses           []PageGrass
}

// PageLawYear is how many weeks of a year law closed.
type PageLawYear struct {
	Year, Weeks                 int
	Nitrogen, Phosphorus, Water Closing
}

// PageLaw is a record of law with all the places for which it spoke.
type PageLaw struct {
	Title, Places, From, To, Checked string
	Watering                         bool
}

// PageGrass is a grass of a zone.
type PageGrass struct {
	ID, Name, Zone string
	Windows        []PageWindow
	Topics         []PageTopic
	Silent         []string
	States         []PageState
	Runs           []PageRuns
}

// PageWindow is a window of the calendar.
type PageWindow struct {
	Title        string
	Opened, Over PageSpread
	Years        []PageWindowYear
}

// PageSpread is early, usual and late dates of so many years, of the years that
// were run.
type PageSpread struct {
	Early, Usual, Late string
	Years, Of          int
}

// PageWindowYear is a window in a year. Phase says why it was never open.
type PageWindowYear struct {
	Year           int
	Before         bool
	Opened, Over   string // issue dates
	Opens, Closes  string // as told
	OpensBy, EndBy string // codes
	Phase          bulletin.Phase
	Wavered        int
}

// PageTopic is the rules of a topic.
type PageTopic struct {
	Name  string
	Rules []PageRule
}

// PageRule is a rule with what its advice came to.
type PageRule struct {
	ID, Pest        string
	Weeks, Answered int
	Verdicts        []PageCount // those that it came to, by the printed word
	Stopped         int
	Years           string // how many years of how many
	ByYear          []string
}

// PageCount is a word with a number.
type PageCount struct {
	Word  string
	Weeks int
}

// PageState is a state with the weeks of a year in it.
type PageState struct {
	State              string // "" cannot be told
	Least, Usual, Most string
}

// PageRuns is the course of a year.
type PageRuns struct {
	Year int
	Runs []StateRun
}

// PageScouting is how warnings met scouting.
type PageScouting struct {
	Reports, None, Pairs, Events, Needed, Reported int
	Rows                                           []PageTally
	Brier                                          []PageScore
}

// PageTally is a disease, or all of them with Name "".
type PageTally struct {
	Name              string
	Act, Watch        PageLevel
	Unclear, Ungraded int
}

// PageLevel is one grade taken for a warning.
type PageLevel struct {
	Hits, FalseAlarms, Misses, Correct, Unlooked int
	Scores                                       []PageScore
}

// PageScore is a score; Value is "" where it cannot be told.
type PageScore struct{ Code, Name, Value, Interval string }

// PageOf puts a replay into words and figures.
func PageOf(ws *workspace.Workspace, r *Replay) Page {
	p := Page{Years: years(r.First, r.Last), Weeks: len(r.Weeks), Scouting: pageScouting(&r.Scouting)}
	if n := len(r.Weeks); n > 0 {
		p.First, p.Last = r.Weeks[0].Week.String(), r.Weeks[n-1].Week.String()
	}
	for _, z := range r.Zones {
		p.Zones = append(p.Zones, pageZone(ws, r, z))
	}
	return p
}

func pageZone(ws *workspace.Workspace, r *Replay, z *Zone) PageZone {
	out := PageZone{ID: z.ID, Name: z.Name, Station: z.Station, Weather: z.Weather}
	for _, y := range z.Years {
		out.Years = append(out.Years, PageLawYear(y))
	}
	for i, l := range z.Law {
		if slices.ContainsFunc(z.Law[:i], func(k Law) bool { return k.ID == l.ID && k.Watering == l.Watering }) {
			continue
		}
		var places []string
		for _, k := range z.Law[i:] {
			if k.ID == l.ID && k.Watering == l.Watering {
				places = append(places, k.Place)
			}
		}
		out.Law = append(out.Law, PageLaw{Title: l.Title, Places: strings.Join(places, ", "), From: longDate(l.From), To: longDate(l.To), Checked: longDate(l.Checked), Watering: l.Watering})
	}
	for _, g := range z.Grasses {
		out.Grasses = append(out.Grasses, pageGrass(ws, r, z, g))
	}
	return out
}

func pageGrass(ws *workspace.Workspace, r *Replay, z *Zone, g *Grass) PageGrass {
	years := len(r.years())
	out := PageGrass{ID: g.ID, Name: g.Name, Zone: z.Name, Silent: g.Silent}
	for _, w := range g.Windows {
		pw := PageWindow{Title: w.Title, Opened: pageSpread(w.Opened, years), Over: pageSpread(w.Over, years)}
		for _, y := range w.Years {
			pw.Years = append(pw.Years, PageWindowYear{
				Year: y.Year, Before: y.Before, Phase: y.Phase, Wavered: y.Wavered,
				Opened: longDate(y.Opened.Date), Opens: dayOf(y.Opened.Told), OpensBy: y.Opened.Basis,
				Over: longDate(y.Over.Date), Closes: dayOf(y.Over.Told), EndBy: y.Over.Basis,
			})
		}
		out.Windows = append(out.Windows, pw)
	}
	for _, rule := range g.Rules {
		name := ws.Voice().Word("topic." + rule.Topic)
		if n := len(out.Topics); n == 0 || out.Topics[n-1].Name != name {
			out.Topics = append(out.Topics, PageTopic{Name: name})
		}
		t := &out.Topics[len(out.Topics)-1]
		t.Rules = append(t.Rules, pageRule(ws, r, rule))
	}
	out.States = pageStates(g)
	var last int
	for _, s := range g.States {
		if s.Week.Year != last {
			last = s.Week.Year
			out.Runs = append(out.Runs, PageRuns{last, g.Runs(last)})
		}
	}
	return out
}

func pageSpread(s Spread, of int) PageSpread {
	if s.Years == 0 {
		return PageSpread{Of: of}
	}
	return PageSpread{recurring(s.Early()), recurring(s.Usual()), recurring(s.Late()), s.Years, of}
}

func pageRule(ws *workspace.Workspace, r *Replay, rule *Rule) PageRule {
	total := rule.Total()
	out := PageRule{
		ID: rule.ID, Pest: r.names[rule.Pest], Weeks: total.Weeks, Answered: total.Answered, Stopped: total.Stopped,
		Years: fmt.Sprintf("%d of %d", len(rule.Years), len(r.years())),
	}
	for _, c := range []struct {
		verdict string
		weeks   int
	}{{"do", total.Do}, {"wait", total.Wait}, {"skip", total.Skip}, {"look", total.Look}, {"closed", total.Closed}} {
		if c.weeks > 0 {
			out.Verdicts = append(out.Verdicts, PageCount{ws.Voice().Word("verdict." + c.verdict), c.weeks})
		}
	}
	for _, y := range rule.Years {
		text := fmt.Sprintf("%d: %d (W%02d)", y.Year, y.Weeks, y.First.Num)
		if y.First != y.Last {
			text = fmt.Sprintf("%d: %d (W%02d–W%02d)", y.Year, y.Weeks, y.First.Num, y.Last.Num)
		}
		out.ByYear = append(out.ByYear, text)
	}
	return out
}

// pageStates counts the weeks of a year in each state: fewest, median, most.
func pageStates(g *Grass) []PageState {
	var out []PageState
	all := g.StateYears()
	var years []int
	for _, s := range all {
		if n := len(years); n == 0 || years[n-1] != s.Year {
			years = append(years, s.Year)
		}
	}
	for _, state := range stateOrder() {
		weeks := make([]int, len(years))
		for _, s := range all {
			if s.State == state {
				weeks[slices.Index(years, s.Year)] = s.Weeks
			}
		}
		slices.Sort(weeks)
		if n := len(weeks); n > 0 && weeks[n-1] > 0 {
			usual := strconv.Itoa(weeks[n/2])
			if n%2 == 0 && (weeks[n/2-1]+weeks[n/2])%2 != 0 {
				usual = strconv.Itoa(weeks[n/2-1]) + " to " + strconv.Itoa(weeks[n/2])
			} else if n%2 == 0 {
				usual = strconv.Itoa((weeks[n/2-1] + weeks[n/2]) / 2)
			}
			out = append(out, PageState{state, strconv.Itoa(weeks[0]), usual, strconv.Itoa(weeks[n-1])})
		}
	}
	return out
}

func pageScouting(v *Verification) PageScouting {
	out := PageScouting{Reports: v.Reports, None: v.None, Pairs: v.All.Pairs(), Events: v.All.Events(), Needed: LeastEvents, Reported: v.All.Reported, Brier: pageScores(v.Brier)}
	for _, t := range append(slices.Clip(v.By), v.All) {
		out.Rows = append(out.Rows, PageTally{Name: t.Name, Unclear: t.Unclear, Ungraded: t.Ungraded,
			Act: pageLevel(t.Act, t.ActUnlooked), Watch: pageLevel(t.Watch, t.ActUnlooked+t.WatchUnlooked)})
	}
	return out
}

func pageLevel(l Level, unlooked int) PageLevel {
	return PageLevel{l.Hits, l.FalseAlarms, l.Misses, l.Correct, unlooked, pageScores(l.Scores)}
}

func pageScores(scores []Score) []PageScore {
	var out []PageScore
	for _, s := range scores {
		ps := PageScore{Code: s.Code, Name: s.Name}
		if !math.IsNaN(s.Value) {
			ps.Value = strconv.FormatFloat(s.Value, 'f', 2, 64)
			if !math.IsNaN(s.Low) {
				ps.Interval = fmt.Sprintf("%.2f to %.2f", s.Low, s.High)
			}
		}
		out = append(out, ps)
	}
	return out
}

// Dates stay on one line.

// recurring prints a day of any year: "Mar 17".
func recurring(md civil.MonthDay) string { return md.Format("Jan\u00a02") }

// longDate prints "Mar 17, 2024", nothing for no date.
func longDate(d civil.Date) string { return d.Format("Jan\u00a02, 2006") }

// dayOf prints "Mar 17", nothing for no date.
func dayOf(d civil.Date) string { return d.Format("Jan\u00a02") }
