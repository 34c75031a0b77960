package advice

import (
	"ligule/internal/pest"
)

// Pest is what one disease, weed or insect comes to on the grass of a reading.
// A grade is a reason to look, never an order to treat.
type Pest struct {
	Kind    Topic         // Disease, Weed or Insect
	Disease *pest.Disease // one of these three
	Weed    *pest.Weed
	Insect  *pest.Insect

	Found    pest.Assessment
	Progress pest.Progress  // of weeds and insects
	Decision *pest.Decision // of a disease: what its treatment gate says of the place last reported; nil where none was
}

// ID is the id of its data file.
func (p *Pest) ID() string { return p.Found.ID }

// Name is its common name.
func (p *Pest) Name() string {
	switch p.Kind {
	case Disease:
		return p.Disease.Name
	case Weed:
		return p.Weed.Name
	}
	return p.Insect.Name
}

// pests assesses all that the grass is a host of, diseases first, then weeds
// and insects, each by id.
func (in *Input) pests() []*Pest {
	if in.Pests == nil || in.Felt == nil {
		return nil
	}
	look := &pest.Input{
		Felt: in.Felt, Daily: in.Daily, Grass: in.Grass, Issue: in.IssueDate,
		Reports: in.Reports, Treatments: in.Treatments, Forecasts: in.Forecasts,
	}
	var out []*Pest
	for _, d := range in.Pests.Diseases {
		if rank, _ := d.Host(in.Grass.ID); rank > pest.NoHost {
			out = append(out, &Pest{Kind: Disease, Disease: d, Found: d.Assess(look)})
		}
	}
	for _, w := range in.Pests.Weeds {
		if rank, _ := w.Host(in.Grass.ID); rank > pest.NoHost {
			out = append(out, &Pest{Kind: Weed, Weed: w, Found: w.Assess(look), Progress: w.Progress(look)})
		}
	}
	for _, i := range in.Pests.Insects {
		if rank, _ := i.Host(in.Grass.ID); rank > pest.NoHost {
			out = append(out, &Pest{Kind: Insect, Insect: i, Found: i.Assess(look), Progress: i.Progress(look)})
		}
	}
	return out
}
