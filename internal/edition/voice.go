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
	walker{v}.walk(reflect.ValueOf(value).Elem())
}

// walker goes wherever anything stands that is to be said.
type walker struct{ voice voice.Voice }

func (w walker) walk(x reflect.Value) {
	t := x.Type()
	if !speaks(t) {
		return
	}
	switch {
	case t == saidType:
		if s, ok := x.Addr().Interface().(**message.Said); ok && *s != nil && !w.say(*s) {
			*s = nil
		}
	case t.Kind() == reflect.Slice && t.Elem() == saidType:
		if all, ok := x.Addr().Convert(reflect.TypeFor[*[]*message.Said]()).Interface().(*[]*message.Said); ok {
			*all = w.sayAll(*all)
		}
	case t.Kind() == reflect.Pointer:
		if !x.IsNil() {
			w.walk(x.Elem())
		}
	case t.Kind() == reflect.Struct:
		for i := range x.NumField() {
			if f := x.Field(i); f.CanSet() { // an exported one
				w.walk(f)
			}
		}
	case t.Kind() == reflect.Map: // of pointers
		for at := x.MapRange(); at.Next(); {
			w.walk(at.Value())
		}
	default: // a slice or an array
		for i := range x.Len() {
			w.walk(x.Index(i))
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
	all = slices.DeleteFunc(slices.Clone(all), func(s *message.Said) bool { return s == nil || !w.say(s) })
	if len(all) == 0 {
		return nil
	}
	return all
}

var saidType = reflect.TypeFor[*message.Said]()

// speaking holds of each type whether its values may hold anything to be said.
var speaking sync.Map

func speaks(t reflect.Type) bool {
	if known, ok := speaking.Load(t); ok {
		return known == true
	}
	speaking.Store(t, true) // until it is known, of a type within itself
	says := t == saidType
	switch t.Kind() {
	case reflect.Pointer, reflect.Map, reflect.Slice, reflect.Array:
		says = says || speaks(t.Elem())
	case reflect.Struct:
		for i := range t.NumField() {
			f := t.Field(i)
			says = says || ours(t) && f.IsExported() && speaks(f.Type)
		}
	}
	speaking.Store(t, says)
	return says
}

// ours reports whether a type may hold anything to be said: one of the packages
// that tell, or one without a name.
func ours(t reflect.Type) bool {
	path := t.PkgPath()
	return slices.Contains([]string{"", "bulletin", "reference", "replay"}, path[strings.LastIndexByte(path, '/')+1:])
}
