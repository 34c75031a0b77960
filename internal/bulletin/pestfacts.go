package bulletin

import (
	"ligule/internal/advice"
	"ligule/internal/civil"
	"ligule/internal/pest"
)

// PestFacts are what the grade of a pest rests on, by the codes of the files.
type PestFacts struct {
	Invalid    string       `json:"invalid,omitempty"` // why no model says anything of it
	Score      Num          `json:"score"`             // week score, 0 to 1, and its two parts
	Observed   Num          `json:"observed"`
	Ahead      Num          `json:"ahead"`
	Forecast   bool         `json:"forecast,omitempty"`  // one was on file
	Percentile Num          `json:"percentile"`          // of the score, among those of the same week of other years
	Years      int          `json:"years,omitempty"`     // earlier ones with the week on record
	Up         int          `json:"up,omitempty"`        // and at watch or more
	Hidden     bool         `json:"hidden,omitempty"`    // nothing of it shows
	Estimated  bool         `json:"estimated,omitempty"` // the humidity is
	Seasons    []SeasonFact `json:"seasons,omitempty"`   // of a disease that follows the soil
	Stage      *StageFact   `json:"stage,omitempty"`     // of a weed or an insect that is timed here
	Lacks      []string     `json:"lacks,omitempty"`     // what weather is missing
	Reported   bool         `json:"reported,omitempty"`  // a confirmed report stands
	History    bool         `json:"history,omitempty"`   // found in the same season of the last two years
}

// SeasonFact is where a season of a disease stands.
type SeasonFact = pest.WindowState

// StageFact is how far a weed or an insect has come.
type StageFact struct {
	ID     string     `json:"id"`
	Since  civil.Date `json:"since,omitzero"`
	SumC   Num        `json:"sum_c"`          // degree-days since the season began
	Next   string     `json:"next,omitempty"` // id of the next stage; "" where the forecast brings none
	NextOn civil.Date `json:"next_on,omitzero"`
}

func pestFacts(p *advice.Pest) PestFacts {
	f := &p.Found
	out := PestFacts{
		Invalid: f.Invalid, Score: Num(f.Score), Observed: Num(f.Observed), Ahead: Num(f.Ahead), Forecast: f.HasForecast, Percentile: Num(f.Percentile),
		Years: f.Usual.Years, Up: f.Usual.Up, Hidden: f.Hidden, Estimated: f.HumidityEstimated, Lacks: f.Lacks, Reported: f.Reported, History: f.History,
		Seasons: f.Windows,
	}
	if g := &p.Progress; p.Kind != advice.Disease && f.Invalid == "" {
		out.Stage = &StageFact{ID: g.Stage.ID, Since: g.Since, SumC: Num(g.DegreeDaysC)}
		if g.Next > 0 {
			out.Stage.Next, out.Stage.NextOn = g.NextStage.ID, g.NextOn
		}
	}
	return out
}
