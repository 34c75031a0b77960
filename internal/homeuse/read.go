package homeuse

import (
	"math"
	"regexp"
	"slices"

	"ligule/internal/diag"
	"ligule/internal/pest"
	"ligule/internal/quantity"
	"ligule/internal/turf"
)

// Read reads the file of ingredients. All mistakes go to the table's list; what is
// returned then is not for use. That publications exist is for the caller to see,
// from Cites.
func Read(t *diag.Table) *Book {
	b := &Book{}
	r := reader{book: b}
	for _, c := range t.Tables("class") {
		class := Class{ID: c.ID("id")}
		r.once(c, "id", class.ID)
		r.name = class.ID
		class.States = r.states(c)
		c.Close()
		b.Classes = append(b.Classes, class)
	}
	for _, i := range t.Tables("ingredient") {
		one := Ingredient{
			Name: i.Text("name"), Kind: i.One("kind", "herbicide", "fungicide", "insecticide"), Group: i.Text("group"), Class: i.OptText("class"),
			Status: r.status(i), NotOn: i.Texts("not_on", false), States: r.states(i),
		}
		r.once(i, "name", one.Name)
		for _, f := range i.Tables("form") {
			one.Forms = append(one.Forms, Form{f.Text("of"), r.status(f)})
			f.Close()
		}
		for _, l := range i.Tables("limit") {
			most := pest.Figure{Value: pest.OptWithin(l, "most", quantity.NitrogenRate, 0, 10), Of: quantity.NitrogenRate, Cite: r.cite(l)}
			if math.IsNaN(most.Value) && !l.Has("most") {
				l.Errorf("most", `add most = "1 lb/acre"`, "missing")
			}
			one.Limits = append(one.Limits, Limit{l.Text("form"), most})
			l.Close()
		}
		i.Close()
		b.Ingredients = append(b.Ingredients, one)
	}
	t.Close()
	return b
}

type reader struct {
	book *Book
	seen []string
	name string // of the table that is read
}

func (r *reader) once(t *diag.Table, key, name string) {
	if name != "" && slices.Contains(r.seen, key+name) {
		t.Errorf(key, "keep one of them", "%q stands twice", name)
	}
	r.seen = append(r.seen, key+name)
}

func (r *reader) cite(t *diag.Table) turf.Cite {
	c := turf.ReadCite(r.name, t)
	r.book.Cites = append(r.book.Cites, c)
	return c
}

// status reads home, checked and says with their source. What has no date leaves
// checked out.
func (r *reader) status(t *diag.Table) Status {
	if name := t.OptText("name"); name != "" {
		r.name = name
	}
	s := Status{Says: t.OptText("says"), Cite: r.cite(t)}
	var words []string
	for _, c := range codes {
		words = append(words, string(c))
	}
	s.Home = Code(t.One("home", words...))
	if year, ok := t.OptInt("checked"); ok {
		if s.Checked = year; year < 1990 || year > 2100 {
			t.Errorf("checked", "write the year of the text that was read", "%d is no such year", year)
		}
	}
	return s
}

var stateCode = regexp.MustCompile(`^[A-Z]{2}$`)

// IsState reports whether a word has the form of a state's code, "MD".
func IsState(code string) bool { return stateCode.MatchString(code) }

func (r *reader) states(t *diag.Table) []State {
	var out []State
	for _, s := range t.Tables("state") {
		one := State{State: s.Text("state"), Packs: s.OptText("free_packs"), Status: r.status(s)}
		one.From, _ = s.OptDate("from")
		if one.State != "" && !IsState(one.State) {
			s.Errorf("state", `write two letters, as "MD"`, "%q is no state", one.State)
		}
		s.Close()
		out = append(out, one)
	}
	return out
}
