package season

import (
	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/turf"
)

// WindowKind is what a window of the calendar is about.
type WindowKind string

// The kinds of window.
const (
	DormancyWindow       WindowKind = "dormancy"
	GreenUpWindow        WindowKind = "green-up"
	FeedingWindow        WindowKind = "feeding"
	SlowdownWindow       WindowKind = "slowdown"
	WinterizingWindow    WindowKind = "winterizing" // potassium before winter, where a soil test asks for it
	SpringPreEmergent    WindowKind = "pre-emergent-spring"
	AutumnPreEmergent    WindowKind = "pre-emergent-autumn"
	PostEmergentWindow   WindowKind = "weed-post-emergent"
	DiseaseWindow        WindowKind = "disease-prevention"
	SeedingWindow        WindowKind = "seeding"
	SoddingWindow        WindowKind = "sodding"
	OverseedingWindow    WindowKind = "overseeding"
	AerationWindow       WindowKind = "aeration"
	DethatchingWindow    WindowKind = "dethatching"
	ScalpingWindow       WindowKind = "scalping"
	GrubPreventionWindow WindowKind = "grub-prevention"
	DrainageWindow       WindowKind = "drainage"
)

// WindowKinds lists the kinds as files name them.
func WindowKinds() []string {
	return words(DormancyWindow, GreenUpWindow, FeedingWindow, SlowdownWindow, WinterizingWindow,
		SpringPreEmergent, AutumnPreEmergent, PostEmergentWindow, DiseaseWindow, SeedingWindow, SoddingWindow,
		OverseedingWindow, AerationWindow, DethatchingWindow, ScalpingWindow, GrubPreventionWindow, DrainageWindow)
}

func words[T ~string](list ...T) []string {
	out := make([]string, len(list))
	for i, w := range list {
		out[i] = string(w)
	}
	return out
}

// Use is what the work of a window puts on the lawn.
type Use string

// The uses, as rules name them.
const (
	Fungicide   Use = "fungicide"
	Herbicide   Use = "herbicide"
	Insecticide Use = "insecticide"
	Iron        Use = "iron"
	Nitrogen    Use = "nitrogen"
	Phosphorus  Use = "phosphorus"
	Potassium   Use = "potassium"
	Seed        Use = "seed"
	Water       Use = "water"
)

// Uses lists the uses as files name them.
func Uses() []string {
	return words(Fungicide, Herbicide, Insecticide, Iron, Nitrogen, Phosphorus, Potassium, Seed, Water)
}

// needs is what work of a kind cannot be done without; a kind that is not here may
// use nothing.
var needs = map[WindowKind]Use{
	FeedingWindow: Nitrogen, WinterizingWindow: Potassium,
	SpringPreEmergent: Herbicide, AutumnPreEmergent: Herbicide, PostEmergentWindow: Herbicide,
	DiseaseWindow: Fungicide, GrubPreventionWindow: Insecticide,
	SeedingWindow: Seed, OverseedingWindow: Seed, SoddingWindow: Water,
}

// Edge is an end of a window: so many days after an event, or before it.
type Edge struct {
	Event      Event
	OffsetDays int
}

// PrintedWindow is a window as a handbook prints it.
type PrintedWindow struct {
	Window civil.Window
	Place  string // the place it was printed for, in words
	Cite   turf.Cite
}

// Window is a window of the calendar.
type Window struct {
	ID     string
	Kind   WindowKind
	Title  string
	Uses   []Use
	Opens  Edge
	Closes Edge // the window's last day is the day before
	// Printed speaks where too few years are on file, and is compared with
	// what is computed; nil where no handbook gives one.
	Printed       *PrintedWindow
	ToleranceDays int
	Cite          turf.Cite
	Pos           diag.Pos // of its block for the climate, where it has one
}

// Calendar is the calendar of a grass in a climate.
type Calendar struct {
	Climate, Grass string
	Windows        []Window
}

// Cites lists the sources of the calendar, for the caller to see that they
// exist.
func (c *Calendar) Cites() []turf.Cite {
	var cites []turf.Cite
	for _, w := range c.Windows {
		cites = append(cites, w.Cite)
		if w.Printed != nil {
			cites = append(cites, w.Printed.Cite)
		}
	}
	return cites
}

// Window finds a window by id.
func (c *Calendar) Window(id string) (Window, bool) {
	for _, w := range c.Windows {
		if w.ID == id {
			return w, true
		}
	}
	return Window{}, false
}

// In returns the years of the events that make the window of a year: the
// window opens in the year, and closes with the first event of that kind after
// it in the order of the halves of the year, or of the dates where both ends
// are dates.
func (w Window) In(year int) (opens, closes int) {
	open, closed := w.Opens.Event, w.Closes.Event
	wraps := !open.spring() && closed.spring()
	if open.spring() == closed.spring() && open.Kind == OnDate && closed.Kind == OnDate {
		wraps = closed.On.Less(open.On)
	}
	if wraps {
		return year, year + 1
	}
	return year, year
}
