package bulletin

import (
	"slices"
	"strconv"

	"ligule/internal/advice"
	"ligule/internal/civil"
	"ligule/internal/message"
	"ligule/internal/pest"
	"ligule/internal/quantity"
	"ligule/internal/stage"
)

// PestFigures are the figures behind the grades of one grass.
type PestFigures struct {
	Diseases []DiseaseFigures `json:"diseases,omitempty"`
	Risks    []RiskRow        `json:"risks,omitempty"`
	Seasons  []SeasonFigure   `json:"seasons,omitempty"`
	Stages   []StageFigures   `json:"stages,omitempty"`
	Notes    []PestNote       `json:"notes,omitempty"`
}

// PestRow heads what is told of one pest.
type PestRow struct {
	ID   string        `json:"id"`
	Name string        `json:"name"`
	Word *message.Said `json:"word"` // its grade
	Host *message.Said `json:"host"` // how much the grass suffers from it
}

// DiseaseFigures are a week's score and its limits, each 0 to 1; nil where it
// cannot be said.
type DiseaseFigures struct {
	PestRow
	Score      *message.Said `json:"score,omitempty"`
	Observed   *message.Said `json:"observed,omitempty"`
	Ahead      *message.Said `json:"ahead,omitempty"`
	Watch      *message.Said `json:"watch"`                 // from which score on it is at watch
	Act        *message.Said `json:"act"`                   // and at act
	Percentile *message.Said `json:"percentile,omitempty"`  // of the score among those of the same week of other years
	Withheld   *message.Said `json:"withheld,omitempty"`    // why no more is said
	Estimated  bool          `json:"estimated,omitempty"`   // the humidity is
	NoForecast bool          `json:"no_forecast,omitempty"` // there is none on file
}

// RiskRow holds the risk of a disease day by day.
type RiskRow struct {
	PestRow
	Days []DayRisk `json:"days"`
}

// DayRisk is the risk of one day, 0 to 1; nil where it cannot be said.
type DayRisk struct {
	Date     civil.Date    `json:"date"`
	Forecast bool          `json:"forecast,omitempty"`
	Risk     *message.Said `json:"risk,omitempty"`
}

// SeasonFigure is a season of a disease that follows the soil.
type SeasonFigure struct {
	PestRow
	Season *message.Said `json:"season"`
	State  *message.Said `json:"state"`
}

// StageFigures are how far a weed or an insect has come.
type StageFigures struct {
	PestRow
	Of          string        `json:"of,omitempty"`    // species
	Stage       string        `json:"stage,omitempty"` // title; "" where it cannot be said
	Since       *message.Said `json:"since,omitempty"`
	Sum         *message.Said `json:"sum,omitempty"` // of warmth since the season began
	Generations *message.Said `json:"generations,omitempty"`
	Next        string        `json:"next,omitempty"` // title of the next stage; "" where the forecast brings none
	NextOn      *message.Said `json:"next_on,omitempty"`
	Lacks       *message.Said `json:"lacks,omitempty"` // what is missing, or why nothing is said
}

// PestNote is what is on record of a pest.
type PestNote struct {
	PestRow
	Texts []*message.Said `json:"texts"`
}

// pestFigures tells the figures of pests in the order in which they are told.
func pestFigures(all []*advice.Pest) PestFigures {
	var out PestFigures
	for _, p := range sortedPests(all) {
		out.add(p)
	}
	return out
}

func (out *PestFigures) add(p *advice.Pest) {
	row := PestRow{ID: p.ID(), Name: p.Name(), Word: say("pests.grade." + grade(p)), Host: say("pests.host." + strconv.Itoa(p.Found.Host))}
	switch {
	case p.Kind == advice.Disease:
		out.addDisease(p, row)
	case p.Found.Invalid != pest.InvalidPageOnly:
		out.Stages = append(out.Stages, stageFigures(p, row))
	}
	if texts := onRecord(p); len(texts) > 0 {
		out.Notes = append(out.Notes, PestNote{row, message.SayAll(texts)})
	}
}

func just(v message.Value) *message.Said { return message.Say(message.Just(v)) }

func (out *PestFigures) addDisease(p *advice.Pest, row PestRow) {
	f, d := &p.Found, p.Disease
	for i, w := range f.Windows {
		out.Seasons = append(out.Seasons, SeasonFigure{row, text(d.Windows[i].Title), message.Say(seasonState(w))})
	}
	if len(d.Model.Terms) == 0 {
		return
	}
	watch, act := d.Limits.On(f.Host)
	df := DiseaseFigures{
		PestRow: row, Score: just(score(f.Score)), Observed: just(score(f.Observed)), Ahead: just(score(f.Ahead)),
		Watch: just(score(watch)), Act: just(score(act)), Percentile: just(message.One(f.Percentile, quantity.Percent, 0, 0)),
		Estimated: f.HumidityEstimated, NoForecast: !f.HasForecast,
	}
	if !mayAct(p) {
		df.Act = say("pests.why.never")
	}
	switch {
	case f.Invalid != "":
		df.Withheld = message.Say(invalid(p))
	case len(f.Lacks) > 0:
		df.Withheld = message.Say(lacks(f.Lacks))
	}
	out.Diseases = append(out.Diseases, df)
	if len(f.Days) == 0 {
		return
	}
	risks := RiskRow{PestRow: row}
	for _, day := range f.Days {
		risks.Days = append(risks.Days, DayRisk{day.Date, day.Forecast, just(score(day.Risk))})
	}
	out.Risks = append(out.Risks, risks)
}

// seasonState says where a season stands.
func seasonState(w pest.WindowState) message.Message {
	switch {
	case w.State == "":
		return message.New("pests.season_state.unknown")
	case w.Since.IsZero():
		return message.New("pests.season_state.before")
	}
	return message.New("pests.season_state."+w.State).YearDay("date", w.Since)
}

func stageFigures(p *advice.Pest, row PestRow) StageFigures {
	f, at := &p.Found, &p.Progress
	s := StageFigures{PestRow: row, Of: at.Of}
	if f.Invalid != "" {
		s.Lacks = message.Say(invalid(p))
		return s
	}
	if len(at.Lacks) > 0 {
		s.Lacks = message.Say(lacks(at.Lacks))
	}
	s.Stage, s.Since, s.Generations = at.Stage.Title, just(message.Date(at.Since)), just(message.Number(at.Generations, 1))
	if at.Method != "" {
		s.Sum = just(stage.Sum(at.DegreeDaysC, at.Method))
	}
	if at.Next > 0 {
		s.Next, s.NextOn = at.NextStage.Title, just(message.YearDay(at.NextOn))
	}
	return s
}

// onRecord tells what reports and treatments say, and the treatment gate of a
// disease.
func onRecord(p *advice.Pest) []message.Message {
	f := &p.Found
	var out []message.Message
	if f.Reported {
		out = append(out, message.New("pests.why.reported").Said("looked", p.Looked))
	}
	if f.History {
		out = append(out, message.New("pests.why.history"))
	}
	for _, l := range p.Lawns {
		if until := l.Found.ProtectedUntil; until >= l.Last.Date {
			out = append(out, message.New("pests.why.treated").Said("at", at(l.Last.Place, "reported", l.Last.Date)).Date("date", until))
		}
		if d := l.Decision; d != nil {
			out = append(out, answered(l))
			for _, r := range slices.Concat(d.Reasons, d.Steps) {
				out = append(out, reason(r))
			}
		}
	}
	return out
}
