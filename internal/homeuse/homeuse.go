package homeuse

import (
	"slices"
	"strings"

	"ligule/internal/civil"
	"ligule/internal/pest"
	"ligule/internal/turf"
)

// Code is how far an active ingredient may be used on a home lawn.
type Code string

// The codes, each stricter than those before it.
const (
	Listed       Code = "H"  // an extension text lists it for home owners' lawns
	Limited      Code = "HL" // only some forms, sizes or uses
	Professional Code = "P"  // by professionals; no label for home owners is known
	Unsettled    Code = "U"  // not settled: behaves as Professional
	Barred       Code = "N"  // not on home lawns, whoever applies it
	Restricted   Code = "R"  // federal restricted use
)

var codes = []Code{Listed, Limited, Professional, Unsettled, Barred, Restricted}

// stricter returns the stricter of two.
func stricter(a, b Code) Code { return codes[max(slices.Index(codes, a), slices.Index(codes, b))] }

// Book holds every active ingredient that an advisory may come across.
type Book struct {
	Ingredients []Ingredient
	Classes     []Class
	Cites       []turf.Cite // of all of its file
}

// Status is a code with where it was read, and when that was written.
type Status struct {
	Home    Code
	Checked int    // year of the text read; 0: it has no date
	Says    string // printed beside the name of what is limited
	Cite    turf.Cite
}

// Ingredient is one active ingredient.
type Ingredient struct {
	Name  string // the ISO common name
	Kind  string // "herbicide", "fungicide" or "insecticide"
	Group string // of the committee on resistance of its kind; "none" for living agents
	Class string // whose cautions stand where it is offered; "" for none
	Status
	Forms  []Form
	NotOn  []string // grasses and kinds of grass on which it is barred
	States []State
	Limits []Limit
}

// Form is a form or a use with a status of its own: "bait", "mound drench".
type Form struct {
	Of string
	Status
}

// Class is a class of ingredients on which states have rules.
type Class struct {
	ID     string
	States []State
}

// State is a rule of a state. The law of a state makes a use stricter, never
// laxer.
type State struct {
	State string     // two letters
	From  civil.Date // zero: for as long as we know
	Packs string     // the packs that are free of it, to print; "" where none are
	Status
}

// Limit is the most of the active ingredient that may be put on a home lawn at a
// time in a form, g/m².
type Limit struct {
	Form string
	Most pest.Figure
}

// Ask is a question about one ingredient.
type Ask struct {
	Date   civil.Date
	States []string // of the lawns that are spoken of; empty: not told
	Grass  []string // the grass and its kind; empty: any
	Local  []Local  // what the local law of the lawns bars
}

// Local is what local law bars: all of a kind, or one class of it.
type Local struct {
	Kind, Class string   // "" for every class
	Code        Code     // what it leaves: Barred, or Professional where it binds who lives there alone
	In          []string // the only places that are under it; empty: all of them, all week
	Law         string
	Rule        string
}

// bars reports whether it is about an ingredient.
func (l *Local) bars(i *Ingredient) bool {
	return l.Kind == i.Kind && (l.Class == "" || l.Class == i.Class)
}

// Answer is what holds of an ingredient.
type Answer struct {
	Name  string // as it was asked for
	Class string
	Code  Code      // as it behaves: never Unsettled
	Says  string    // to print beside the name
	Old   bool      // the text that lists it is older than ten years, or has no date
	Local bool      // states have rules on it, and none was told
	In    []Local   // local law that bars it at some of the places, or on some days
	Cite  turf.Cite // of what decides
}

// Offered reports whether a home owner may be told of it.
func (a Answer) Offered() bool { return a.Code == Listed || a.Code == Limited }

// May reports whether somebody may put it on a home lawn: a home owner, or a
// licensed professional.
func (a Answer) May(licensed bool) bool { return a.Offered() || licensed && a.Code == Professional }

// freshYears is how long a list of what home owners may use is taken as it stands.
// Own design.
const freshYears = 10

// Answer says what holds of an ingredient: the strictest of its own status, of the
// rules of the states and of the grass. What is not on file, and what home owners
// may use by memory alone, is a professional's; a list older than ten years counts
// as limited.
func (b *Book) Answer(name string, ask Ask) Answer {
	i, status, ok := b.find(name)
	if !ok {
		return Answer{Name: name, Code: Professional}
	}
	out := Answer{Name: name, Class: i.Class, Code: status.Home, Says: status.Says, Cite: status.Cite}
	switch {
	case out.Code != Listed && out.Code != Limited:
	case !pest.OnRecord(status.Cite):
		out.Code = Professional
	case ask.Date.Year()-status.Checked > freshYears: // a text without a date is of the year 0
		out.Code, out.Old = Limited, true
	}
	if slices.ContainsFunc(ask.Grass, func(g string) bool { return slices.Contains(i.NotOn, g) }) {
		out.Code = stricter(out.Code, Barred)
	}
	for _, s := range b.rules(i) {
		switch {
		case len(ask.States) == 0:
			out.Local = true
		case !slices.Contains(ask.States, s.State) || s.From > ask.Date:
		case s.Packs != "": // of the size that home owners buy
			out.Code, out.Says = stricter(out.Code, Limited), s.Packs
		case stricter(out.Code, s.Home) != out.Code:
			out.Code, out.Says, out.Cite = s.Home, s.Says, s.Cite
		}
	}
	for _, l := range ask.Local {
		switch {
		case !l.bars(i):
		case len(l.In) > 0:
			out.In = append(out.In, l)
		default:
			out.Code = stricter(out.Code, l.Code)
		}
	}
	if out.Code == Unsettled {
		out.Code = Professional
	}
	return out
}

// rules are those of the states on an ingredient and on its class.
func (b *Book) rules(i *Ingredient) []State {
	out := slices.Clone(i.States)
	for _, c := range b.Classes {
		if c.ID == i.Class {
			out = append(out, c.States...)
		}
	}
	return out
}

// find returns an ingredient and the status of the form that is named, "indoxacarb
// bait".
func (b *Book) find(name string) (*Ingredient, Status, bool) {
	if b == nil {
		return nil, Status{}, false
	}
	for k := range b.Ingredients {
		i := &b.Ingredients[k]
		if name == i.Name {
			return i, i.Status, true
		}
		if form, ok := strings.CutPrefix(name, i.Name+" "); ok {
			for _, f := range i.Forms {
				if f.Of == form {
					return i, f.Status, true
				}
			}
		}
	}
	return nil, Status{}, false
}

// Has reports whether a name is on file.
func (b *Book) Has(name string) bool {
	_, _, ok := b.find(name)
	return ok
}

// Barred reports whether an ingredient is of one of some kinds, and of one of some
// classes if any are named.
func (b *Book) Barred(name string, kinds, classes []string) bool {
	i, _, ok := b.find(name)
	return ok && slices.Contains(kinds, i.Kind) && (len(classes) == 0 || slices.Contains(classes, i.Class))
}

// Choice is what of a list is named to a home owner.
type Choice struct {
	Offered  []Answer
	Licensed bool // a licensed professional has others
}

// Has reports whether a name is offered.
func (c Choice) Has(name string) bool {
	return slices.ContainsFunc(c.Offered, func(a Answer) bool { return a.Name == name })
}

// Choose sorts out a list.
func (b *Book) Choose(names []string, ask Ask) Choice {
	var out Choice
	for _, name := range names {
		switch a := b.Answer(name, ask); {
		case out.Has(name):
		case a.Offered():
			out.Offered = append(out.Offered, a)
		case a.May(true):
			out.Licensed = true
		}
	}
	return out
}
