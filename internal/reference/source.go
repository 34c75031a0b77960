package reference

import (
	"regexp"
	"strings"

	"ligule/internal/message"
	"ligule/internal/turf"
	"ligule/internal/workspace"
)

// Source is where a figure or a sentence comes from, in a word beside it.
type Source struct {
	ID       string        `json:"id,omitempty"` // in the bibliography; "" if it is no publication
	Label    *message.Said `json:"label,omitempty"`
	Standing *message.Said `json:"standing,omitempty"` // how well established; nil where the label says it
}

// SourceOf finds a source in the bibliography; what is none has a phrase.
func SourceOf(ws *workspace.Workspace, id string, standing turf.Standing) Source {
	if string(standing) == id || standing == "practice" && id == "common practice" {
		standing = ""
	}
	var s Source
	if known, ok := ws.Source(id); ok {
		s.ID, s.Label = known.ID, message.Say(shortName(known))
	} else {
		s.Label = value(message.WordOr("source", id))
	}
	if standing != "" {
		s.Standing = value(message.WordOr("source.standing", string(standing)))
	}
	return s
}

// Equal reports whether two are the same.
func (s Source) Equal(o Source) bool {
	return s.ID == o.ID && s.Standing.Equal(o.Standing) && s.Label.Equal(o.Label)
}

// shortName is a source as cited in running text: "Gelernter and Stowell 2005".
func shortName(s workspace.Source) message.Message {
	name := message.Text(s.Authors)
	switch people := surnames(s.Authors); len(people) {
	case 0:
	case 1:
		name = message.Text(people[0])
	case 2:
		name = message.Of(message.New("source.two").Name("first", people[0]).Name("second", people[1]))
	default:
		name = message.Of(message.New("source.many").Name("first", people[0]))
	}
	if s.Year == "" || s.Year == "undated" {
		return message.Just(name)
	}
	return message.Just(message.List(message.Sentences, name, message.Text(s.Year)))
}

// surnames takes "Gelernter, W., Stowell, L." apart. A text of another form,
// such as the name of an office, yields none.
func surnames(authors string) []string {
	parts := strings.Split(authors, ", ")
	if len(parts)%2 != 0 {
		return nil
	}
	var names []string
	for i := 0; i < len(parts); i += 2 {
		if !initials.MatchString(parts[i+1]) {
			return nil
		}
		names = append(names, parts[i])
	}
	return names
}

// initials matches "W.", "J.B." and "J.-P.".
var initials = regexp.MustCompile(`^(\p{Lu}\.[- ]?)+$`)
