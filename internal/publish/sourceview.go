package publish

import "ligule/internal/reference"

// sourceLink is a source as printed behind a figure.
type sourceLink struct {
	ID       string // in the bibliography; "" if it is no publication
	Label    string // "Gelernter and Stowell 2005", or "common practice"
	Standing string // how well established
}

// Address is its place in the bibliography.
func (s sourceLink) Address() string {
	if s.ID == "" {
		return ""
	}
	return "/methods/sources/#" + s.ID
}

func (v viewer) source(id, standing string) sourceLink {
	s := reference.SourceOf(v.ws, id, standing)
	return sourceLink{s.ID, v.Say(s.Label.Message), s.Standing}
}

// citeView is where figures come from.
type citeView struct {
	Section, Note string
	Source        sourceLink
}
