package homeuse

import (
	"slices"

	"ligule/internal/message"
)

// Names lists names as they are offered, each with what limits it.
func Names(offered []Answer) message.Value {
	var names []message.Value
	for _, a := range offered {
		names = append(names, a.named())
	}
	return message.List(message.Comma, names...)
}

func (a Answer) named() message.Value {
	if a.Says == "" {
		return message.Text(a.Name)
	}
	return message.Of(message.New("home.limited").Name("name", a.Name).Name("says", a.Says))
}

// Named is the name of one of the choice as it is offered.
func (c Choice) Named(name string) message.Value {
	for _, a := range c.Offered {
		if a.Name == name {
			return a.named()
		}
	}
	return message.Text(name)
}

// Says tells what goes with a choice as a whole: whose job the rest is, which
// lists are old, and which ingredients states limit.
func (c Choice) Says() []message.Message {
	var out []message.Message
	switch {
	case c.Licensed && len(c.Offered) == 0:
		out = append(out, message.New("home.only"))
	case c.Licensed:
		out = append(out, message.New("home.more"))
	}
	var locals []Local
	for _, a := range c.Offered {
		for _, l := range a.In {
			if l.Class != "" && !slices.ContainsFunc(locals, func(o Local) bool { return o.Class == l.Class && o.Rule == l.Rule }) {
				locals = append(locals, l)
			}
		}
	}
	for _, l := range locals {
		var names []string
		for _, a := range c.Offered {
			if a.Class == l.Class {
				names = append(names, a.Name)
			}
		}
		out = append(out, message.New("home.local").With("places", message.Texts(message.And, l.In...)).Name("law", l.Law).Name("rule", l.Rule).With("names", message.Texts(message.Comma, names...)))
	}
	for _, of := range []struct {
		code string
		is   func(Answer) bool
	}{{"home.old", func(a Answer) bool { return a.Old }}, {"home.states", func(a Answer) bool { return a.Local }}} {
		var names []string
		for _, a := range c.Offered {
			if of.is(a) {
				names = append(names, a.Name)
			}
		}
		if len(names) > 0 {
			out = append(out, message.New(of.code).With("names", message.Texts(message.Comma, names...)))
		}
	}
	return out
}
