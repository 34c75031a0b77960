package stage

import (
	"math"
	"slices"

	"ligule/internal/diag"
	"ligule/internal/herbicide"
	"ligule/internal/pest"
	"ligule/internal/quantity"
)

// Weed is one weed, or a group that is dealt with alike.
type Weed struct {
	Account
	Kind   string // "grass", "sedge" or "broadleaf"
	Summer bool   // a weed of summer: it asks for more light, and frost closes its treatment
	Treat  []WeedTreatment

	// For uses before emergence: rain or irrigation that washes them in, and within
	// how many days; nothing is known where there are none.
	WaterIn       pest.Figure
	WaterInWithin pest.Cited[int]
	WaterInSays   string
	Second        pest.Cited[pest.DayRange] // to the second application of a split; zero: none told

	OverseedSays  string // what it means for seed
	AfterwardSays string // what to expect, and why not to spray again
}

// WeedTreatment is one way to treat a weed.
type WeedTreatment struct {
	Before      bool               // before the weed comes up
	Ingredients []string           // active ingredients, of the herbicide file
	Stages      []string           // ids of the stages it fits
	When        pest.Cited[string] // in words
}

// WeedOption is an active ingredient that fits stage and grass.
type WeedOption struct {
	Treatment  *WeedTreatment
	Name       string // of the active ingredient, as the weed's file has it
	Ingredient *herbicide.Ingredient
	Tolerance  herbicide.Tolerance
}

// Options returns the active ingredients that fit the stage and that the grass
// bears, in the order of the file; nil where there are none.
func (w *Weed) Options(h *herbicide.Book, stage, grass string) []WeedOption {
	var out []WeedOption
	for i := range w.Treat {
		t := &w.Treat[i]
		if !slices.Contains(t.Stages, stage) {
			continue
		}
		for _, name := range t.Ingredients {
			a, ok := h.Ingredient(name)
			if !ok {
				continue
			}
			if tol := a.On(grass); tol != herbicide.ToleranceNone {
				out = append(out, WeedOption{t, name, a, tol})
			}
		}
	}
	return out
}

// Unknown returns the active ingredients that the herbicide file does not have,
// or that are named for a use they are not for.
func (w *Weed) Unknown(h *herbicide.Book) []string {
	var out []string
	for _, t := range w.Treat {
		for _, name := range t.Ingredients {
			if a, ok := h.Ingredient(name); !ok || t.Before && !a.Pre || !t.Before && !a.Post {
				out = append(out, name)
			}
		}
	}
	return out
}

// ReadWeed reads the weed file of the id, over what weeds and those of its kind say
// alike. All mistakes go to the table's list; what is returned then is not for use. That publications, grasses and active
// ingredients exist is for the caller to see, from Cites, Hosts and Unknown.
func ReadWeed(id string, t *diag.Table, defaults *diag.Table) *Weed {
	file := &pest.File{Table: t, Defaults: defaults.Table("weed", false)}
	kind := t.One("kind", "grass", "sedge", "broadleaf")
	if kind != "" {
		file.Prose(file.Default(kind, ""), "life_cycle", "look", "cultural", "worth", "caution", "afterward", "overseeding")
	}
	w := &Weed{Kind: kind, Account: readAccount(id, file), WaterIn: pest.Figure{Value: math.NaN(), Of: quantity.Depth}}
	w.Summer = t.Bool("summer")
	w.OverseedSays = t.OptText("overseeding")
	w.AfterwardSays = t.Text("afterward")
	before := false
	for _, tr := range t.Tables("treat") {
		one := WeedTreatment{Before: tr.One("use", "before emergence", "after emergence") == "before emergence"}
		before = before || one.Before
		file.Figures("treat", tr, func(f *pest.Figures) {
			one.When = pest.Cited[string]{Value: f.Text("when"), Cite: f.Cite}
			f.Holds("ingredients")
			one.Ingredients = f.Texts("ingredients", true)
			one.Stages = w.readStages(f.Table)
		})
		w.Treat = append(w.Treat, one)
	}
	if before || t.Has("watering_in") {
		if sub := t.TableOver("watering_in", file.Default("watering_in", "")); sub != nil {
			file.Figures("watering_in", sub, w.readWateringIn)
		}
	}
	t.Close()
	w.Cites = file.Cites
	return w
}

func (w *Weed) readWateringIn(f *pest.Figures) {
	w.WaterIn = f.Need("water", quantity.Depth, 1, 50)
	w.WaterInWithin = f.Days("within", 30)
	w.Second = f.DayRange("second", 120)
	w.WaterInSays = f.Text("says")
}
