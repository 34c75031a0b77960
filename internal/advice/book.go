package advice

import (
	"slices"

	"ligule/internal/disease"
	"ligule/internal/herbicide"
	"ligule/internal/homeuse"
	"ligule/internal/stage"
)

// Book is all that an advisory knows of pests, each list in the order of ids.
type Book struct {
	Diseases    []*disease.Disease
	Weeds       []*stage.Weed
	Insects     []*stage.Insect
	Herbicides  *herbicide.Book
	Ingredients *homeuse.Book // who may use what
}

// Disease finds a disease by id.
func (b *Book) Disease(id string) (*disease.Disease, bool) {
	return find(b.Diseases, func(d *disease.Disease) bool { return d.ID == id })
}

// Weed finds a weed by id.
func (b *Book) Weed(id string) (*stage.Weed, bool) {
	return find(b.Weeds, func(w *stage.Weed) bool { return w.ID == id })
}

// Insect finds an insect by id.
func (b *Book) Insect(id string) (*stage.Insect, bool) {
	return find(b.Insects, func(i *stage.Insect) bool { return i.ID == id })
}

// IDs returns the ids of all diseases, weeds and insects: what a report may
// find and a treatment may be meant for.
func (b *Book) IDs() []string {
	var ids []string
	for _, d := range b.Diseases {
		ids = append(ids, d.ID)
	}
	for _, w := range b.Weeds {
		ids = append(ids, w.ID)
	}
	for _, i := range b.Insects {
		ids = append(ids, i.ID)
	}
	return ids
}

func find[T any](list []*T, is func(*T) bool) (*T, bool) {
	i := slices.IndexFunc(list, is)
	if i < 0 {
		return nil, false
	}
	return list[i], true
}
