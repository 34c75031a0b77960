package publish

import (
	"slices"
	"strings"

	"ligule/internal/bulletin"
	"ligule/internal/civil"
	"ligule/internal/law"
)

// jurisdictionView is one body of local government with its laws.
type jurisdictionView struct {
	ID, Name, Level string
	Address         string
	Parent          *linkView
	Depth           int // below the top
	Coverage        string
	CheckedOn       civil.Date
	AsOf            civil.Date
	Week            weekView
	State           stateView  // of nitrogen at home, this week, by its law and those above it
	Strip           *stripView // the year's closed days; nil if nothing closes a day
	Records         []lawRecordView
	Watering        []waterRecordView // its own watering laws
	WaterWeek       waterView         // this week, by its watering law and those above it
	Places          []inPlaceView     // places of zones under it
	Legislation     []legislation     // for machines: the real ones among its laws
}

// inPlaceView is a place under a jurisdiction, with its closed seasons ahead.
type inPlaceView struct {
	Zone    linkView
	Place   string
	From    civil.Date
	Through civil.Date
	Seasons []seasonView
}

// seasonView is a run of closed days.
type seasonView struct {
	First, Last civil.Date
	Laws        []string
}

// lawRecordView is a law in full.
type lawRecordView struct {
	recordView
	SourceKind, Level, AppliesIn, Status string
	Adopted, From, To                    civil.Date
	Binding                              string // what it does to laws below it
	Threshold                            string
	NotFertilizer                        string
	Enforcement, Penalty                 string
	Rules                                []lawRuleView
	Declarations                         []string
}

// closedYearDays is how far ahead closed seasons are listed.
const closedYearDays = 365

// jurisdictions lists them with every body under its parent, in the order of
// the author's list.
func (v viewer) jurisdictions(iss *bulletin.Region) []jurisdictionView {
	var out []jurisdictionView
	var under func(parent string, depth int)
	under = func(parent string, depth int) {
		for _, j := range v.ws.Places {
			if j.Parent == parent && depth < len(v.ws.Places) {
				out = append(out, v.jurisdiction(j, depth, iss))
				under(j.ID, depth+1)
			}
		}
	}
	under("", 0)
	return out
}

func (v viewer) jurisdiction(j law.Jurisdiction, depth int, iss *bulletin.Region) jurisdictionView {
	jv := jurisdictionView{
		ID: j.ID, Name: j.Name, Level: v.word("law_level", j.Level), Address: "/local-rules/" + j.ID + "/",
		Depth: depth, CheckedOn: j.CheckedOn, AsOf: iss.Date, Week: newWeekView(iss),
	}
	if j.Coverage != "" {
		jv.Coverage = v.say("law_coverage."+j.Coverage, "date", longDate(j.CheckedOn))
	}
	for _, p := range v.ws.Places {
		if p.ID == j.Parent {
			jv.Parent = &linkView{p.Name, "/local-rules/" + p.ID + "/"}
		}
	}
	for _, r := range v.ws.Ordinances {
		if r.Jurisdiction == j.ID {
			jv.Records = append(jv.Records, v.lawRecord(r, iss.Date))
		}
	}
	for _, r := range v.ws.Watering {
		if r.Jurisdiction == j.ID {
			jv.Watering = append(jv.Watering, v.waterRecordInFull(r, iss.Date))
		}
	}
	for _, z := range iss.Zones {
		for _, p := range z.Law.Places {
			if slices.Contains(p.Place.Chain, j.ID) {
				jv.Places = append(jv.Places, v.inPlace(z, p.Place, iss.Date))
			}
		}
	}
	jv.Legislation = v.legislation(j, iss.Date)
	if v.ws.Law != nil {
		v.askJurisdiction(&jv, law.Place{Name: j.Name, Chain: v.chain(j.ID)}, iss)
	}
	return jv
}

// askJurisdiction asks what holds in a jurisdiction by its own law and those
// above it; what towns and districts within it add is shown on their pages.
func (v viewer) askJurisdiction(jv *jurisdictionView, place law.Place, iss *bulletin.Region) {
	monday := iss.Week.Monday()
	week := v.ws.Law.Week(law.Question{Place: place, Actor: law.Homeowner, AsOf: iss.Date, Product: law.ProductOf("N")}, monday)
	jv.State = v.lawState(week)
	if s, ok := v.stripOf(place, iss.Date); ok {
		jv.Strip = &s
	}
	if len(jv.Watering) > 0 {
		jv.WaterWeek = v.watering(v.ws.Law.WaterWeek(place, "public", monday, iss.Date), iss.Date)
	}
}

func (v viewer) inPlace(z *bulletin.Zone, p law.Place, from civil.Date) inPlaceView {
	iv := inPlaceView{
		Zone: linkView{z.Name, "/zones/" + z.ID + "/"}, Place: p.Name, From: from, Through: from.AddDays(closedYearDays),
	}
	for _, s := range v.seasons(p, asked{law.Homeowner, "N"}, iv.From, iv.Through, from) {
		sv := seasonView{First: s.First, Last: s.Last}
		if s.Last >= iv.Through.AddDays(yearAhead) {
			sv.Last = 0
		}
		for _, l := range s.Laws {
			if cite := v.say("law_strip.law", "law", l.Record.Title, "citation", ruleCitation(l)); !slices.Contains(sv.Laws, cite) {
				sv.Laws = append(sv.Laws, cite)
			}
		}
		iv.Seasons = append(iv.Seasons, sv)
	}
	return iv
}

func (v viewer) lawRecord(r *law.Record, asOf civil.Date) lawRecordView {
	lv := lawRecordView{
		recordView: v.record(r, asOf), SourceKind: v.word("law_source", r.SourceKind), Level: v.word("law_level", r.Level),
		AppliesIn: v.word("law_applies", r.AppliesIn), Status: v.word("law_status", r.Status),
		Adopted: r.AdoptedOn, From: r.EffectiveFrom, To: r.EffectiveTo, Enforcement: r.Enforcement, Penalty: r.Penalty,
		NotFertilizer: v.list("law_product", r.Definitions.NotFertilizer),
		Threshold:     v.say("law_limit.threshold", "n", trimmed(r.Definitions.NThresholdPct), "p", trimmed(r.Definitions.P2O5ThresholdPct)),
	}
	if r.RelationDown != "" {
		lv.Binding = v.say("law_relation."+r.RelationDown, "topics", v.list("law_topic", r.PreemptTopics))
	}
	for _, d := range r.Declarations {
		id := "law_when.declared_open"
		last := d.AssumeUntil
		if !d.To.IsZero() {
			id, last = "law_when.declared_span", d.To
		}
		lv.Declarations = append(lv.Declarations, v.say(id, "name", strings.ReplaceAll(d.Name, "_", " "), "first", longDate(d.From), "last", longDate(last), "citation", d.Citation))
	}
	for i := range r.Rules {
		lv.Rules = append(lv.Rules, v.lawRule(&r.Rules[i]))
	}
	return lv
}
