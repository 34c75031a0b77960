package edition

import (
	"reflect"
	"strings"

	"ligule/internal/message"
	"ligule/internal/voice"
)

// Voice finds the words of everything that a value holds to be said: every
// [message.Said] in it, wherever it stands. What comes to no words is taken out,
// so that nothing is printed of it. The value is a pointer; it is filled in place.
func Voice(value any, v voice.Voice) {
	w := walker{v, map[reflect.Value]bool{}, map[reflect.Type]bool{}}
	w.walk(reflect.ValueOf(value))
}

// walker goes through values whose types are of the bulletin's own packages;
// nothing else holds anything to be said.
type walker struct {
	voice voice.Voice
	seen  map[reflect.Value]bool // pointers, which may be shared
	holds map[reflect.Type]bool  // whether a type can hold anything to be said
}

var saidType = reflect.TypeFor[*message.Said]()

func (w *walker) walk(x reflect.Value) {
	switch x.Kind() {
	case reflect.Pointer, reflect.Interface:
		if x.IsNil() || x.Kind() == reflect.Pointer && (w.seen[x] || !w.mayHold(x.Type())) {
			return
		}
		if x.Kind() == reflect.Pointer {
			w.seen[x] = true
		}
		w.walk(x.Elem())
	case reflect.Struct:
		for i := range x.NumField() {
			if f := x.Field(i); f.CanSet() && w.mayHold(f.Type()) {
				w.field(f)
			}
		}
	case reflect.Slice, reflect.Array:
		for i := range x.Len() {
			w.field(x.Index(i))
		}
	}
}

// field voices what stands in a place that can be written to.
func (w *walker) field(f reflect.Value) {
	switch {
	case f.Type() == saidType:
		if s, ok := f.Interface().(*message.Said); ok && s != nil && !w.say(s) {
			f.SetZero()
		}
	case f.Kind() == reflect.Slice && f.Type().Elem() == saidType:
		w.list(f)
	default:
		w.walk(f)
	}
}

// list voices a list of sentences, and leaves out those that come to nothing.
func (w *walker) list(f reflect.Value) {
	all, ok := f.Interface().([]*message.Said)
	if !ok {
		return
	}
	var kept []*message.Said
	for _, s := range all {
		if s != nil && w.say(s) {
			kept = append(kept, s)
		}
	}
	f.Set(reflect.ValueOf(kept).Convert(f.Type()))
}

// say finds the words, once.
func (w *walker) say(s *message.Said) bool {
	if s.Words == "" {
		s.Words = w.voice.Say(s.Message)
	}
	return s.Words != ""
}

// mayHold reports whether a type can hold anything to be said.
func (w *walker) mayHold(t reflect.Type) bool {
	if known, ok := w.holds[t]; ok {
		return known
	}
	w.holds[t] = false // of a type within itself, until it is known
	w.holds[t] = w.finds(t)
	return w.holds[t]
}

func (w *walker) finds(t reflect.Type) bool {
	switch t.Kind() {
	case reflect.Pointer:
		return t == saidType || w.mayHold(t.Elem())
	case reflect.Slice, reflect.Array:
		return w.mayHold(t.Elem())
	case reflect.Struct:
		if path := t.PkgPath(); path != "" && !strings.HasSuffix(path, "/bulletin") && !strings.HasSuffix(path, "/reference") {
			return false
		}
		for i := range t.NumField() {
			if f := t.Field(i); f.IsExported() && w.mayHold(f.Type) {
				return true
			}
		}
	}
	return false
}
