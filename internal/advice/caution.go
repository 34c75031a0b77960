package advice

import (
	"slices"

	"ligule/internal/diag"
	"ligule/internal/season"
)

// Caution is a warning that stands beside every advice of its kind. Which
// advice gets it follows from what the advice uses, so that no author can
// forget one.
type Caution struct {
	ID     string   `json:"id"`
	Short  string   `json:"short"`            // at most 90 characters, beside the advice
	Medium string   `json:"medium"`           // at most 330 characters, once a page
	Always bool     `json:"always,omitempty"` // stands on every page, whatever is advised
	Uses   []string `json:"uses,omitempty"`   // attached to an advice that uses any of these
	Topics []string `json:"topics,omitempty"` // or to any advice on these topics
	Class  string   `json:"class,omitempty"`  // or wherever an active ingredient of the class is offered
}

// maxShort and maxMedium keep cautions readable on a phone.
const (
	maxShort  = 90
	maxMedium = 330
)

// ReadCautions reads data/cautions.toml, in its order.
func ReadCautions(t *diag.Table) []Caution {
	var all []Caution
	seen := map[string]bool{}
	for _, c := range t.Tables("caution") {
		caution := Caution{
			ID: c.ID("id"), Short: c.Text("short"), Medium: c.Text("medium"),
			Uses: c.Texts("uses", false), Topics: c.Texts("topics", false), Class: c.OptText("class"), Always: c.Bool("always"),
		}
		c.Close()
		if seen[caution.ID] {
			c.Errorf("id", "give each caution its own id", "%q is used twice", caution.ID)
		}
		seen[caution.ID] = true
		if n := len([]rune(caution.Short)); n > maxShort {
			c.Errorf("short", "", "%d characters; at most %d fit beside an advice", n, maxShort)
		}
		if n := len([]rune(caution.Medium)); n > maxMedium {
			c.Errorf("medium", "", "%d characters; at most %d", n, maxMedium)
		}
		checkWords(c, "uses", caution.Uses, season.Uses())
		checkWords(c, "topics", caution.Topics, Words(Topics()))
		all = append(all, caution)
	}
	return all
}

func checkWords(t *diag.Table, key string, words, known []string) {
	for _, w := range words {
		if !slices.Contains(known, w) {
			t.Errorf(key, diag.DidYouMean(w, known), "unknown word %q", w)
		}
	}
}

// cautionsFor returns the ids of the cautions that an advice needs, in the
// order of the list.
func cautionsFor(all []Caution, topic Topic, uses, classes []string) []string {
	var ids []string
	for _, c := range all {
		if c.Class != "" && slices.Contains(classes, c.Class) || slices.Contains(c.Topics, string(topic)) || slices.ContainsFunc(uses, func(u string) bool { return slices.Contains(c.Uses, u) }) {
			ids = append(ids, c.ID)
		}
	}
	return ids
}
