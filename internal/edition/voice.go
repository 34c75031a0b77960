package edition

import (
	"reflect"
	"slices"
	"strings"
	"sync"

	"ligule/internal/message"
	"ligule/internal/voice"
)

// Voice finds the words of everything that a value holds to be said: every
// [message.Said] in it, wherever it stands. What comes to no words is taken out,
// so that nothing is printed of it. The value is a pointer; it is filled in place.
// Like everything that can be written down it holds no ring of pointers.
func Voice(value any, v voice.Voice) {
	x := reflect.ValueOf(value)
	walker{v}.walk(x, planOf(x.Type()))
}

// walker goes where a plan leads.
type walker struct{ voice voice.Voice }

func (w walker) walk(x reflect.Value, p *plan) {
	switch p.what {
	case sentence:
		if s, ok := x.Addr().Interface().(**message.Said); ok && *s != nil && !w.say(*s) {
			*s = nil
		}
	case sentences:
		if all, ok := x.Addr().Convert(reflect.TypeFor[*[]*message.Said]()).Interface().(*[]*message.Said); ok {
			*all = w.sayAll(*all)
		}
	case pointer:
		if !x.IsNil() {
			w.walk(x.Elem(), p.of)
		}
	case elements:
		for i := range x.Len() {
			w.walk(x.Index(i), p.of)
		}
	case fields:
		for _, f := range p.fields {
			w.walk(x.Field(f.at), f.plan)
		}
	}
}

// say finds the words, once.
func (w walker) say(s *message.Said) bool {
	if s.Words == "" {
		s.Words = w.voice.Say(s.Message)
	}
	return s.Words != ""
}

// sayAll leaves out what comes to no words.
func (w walker) sayAll(all []*message.Said) []*message.Said {
	said := 0
	for _, s := range all {
		if s != nil && w.say(s) {
			said++
		}
	}
	switch said {
	case 0:
		return nil
	case len(all):
		return all
	}
	return slices.DeleteFunc(slices.Clone(all), func(s *message.Said) bool { return s.String() == "" })
}

// plan is where in the values of a type anything stands that is to be said. It
// is made once for each type.
type plan struct {
	what   what
	of     *plan   // of a pointer's target, or of an element
	fields []field // of a struct
}

type field struct {
	at   int
	plan *plan
}

// what is what a walk meets.
type what uint8

const (
	nothing what = iota
	sentence
	sentences
	pointer
	elements // of a slice or an array
	fields   // of a struct
)

// plans holds the plans that are made, by type.
var plans sync.Map

func planOf(t reflect.Type) *plan {
	if made, ok := plans.Load(t); ok {
		if p, ok := made.(*plan); ok {
			return p
		}
	}
	p := planner{}.plan(t)
	plans.Store(t, p)
	return p
}

// planner holds plans by type, also those at work, of types within themselves.
type planner map[reflect.Type]*plan

func (made planner) plan(t reflect.Type) *plan {
	if p, ok := made[t]; ok {
		return p
	}
	p := &plan{}
	made[t] = p
	switch said := reflect.TypeFor[*message.Said](); {
	case t == said:
		p.what = sentence
	case t.Kind() == reflect.Slice && t.Elem() == said:
		p.what = sentences
	case t.Kind() == reflect.Pointer:
		made.of(p, pointer, t)
	case t.Kind() == reflect.Slice || t.Kind() == reflect.Array:
		made.of(p, elements, t)
	case t.Kind() == reflect.Struct && ours(t):
		p.what = fields
		for i := range t.NumField() {
			if f := t.Field(i); f.IsExported() {
				if of := made.plan(f.Type); of.what != nothing {
					p.fields = append(p.fields, field{i, of})
				}
			}
		}
		if p.fields == nil {
			p.what = nothing
		}
	}
	return p
}

// of plans what a type points to or consists of.
func (made planner) of(p *plan, w what, t reflect.Type) {
	p.what = w
	if p.of = made.plan(t.Elem()); p.of.what == nothing {
		p.what = nothing
	}
}

// ours reports whether a type may hold anything to be said: one of the bulletin's
// own packages, or one without a name.
func ours(t reflect.Type) bool {
	path := t.PkgPath()
	return path == "" || strings.HasSuffix(path, "/bulletin") || strings.HasSuffix(path, "/reference")
}
