package diag

import (
	"cmp"
	"errors"
	"maps"
	"math"
	"reflect"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/BurntSushi/toml"
	"github.com/pelletier/go-toml/v2/unstable"

	"ligule/internal/civil"
	"ligule/internal/quantity"
)

// Table is one table of a TOML file, read key by key. Each reading method
// marks its key as known, checks the value and records a problem, with the
// line, when it does not fit; it then returns a zero value, so that reading
// goes on and the author sees every mistake at once. Close reports the keys
// that nobody asked for.
type Table struct {
	doc    *document
	path   string // "" for the file's root, else "rule[0].when."
	values map[string]any
	known  map[string]bool   // keys that were asked for
	taken  map[string]bool   // keys that were read from here
	subs   map[string]*Table // that were read, each once
	base   *Table            // has what the table leaves out; nil: nothing has
	from   []string          // the keys that base may have; nil: any
}

func newTable(doc *document, path string, values map[string]any) *Table {
	return &Table{doc: doc, path: path, values: values, known: map[string]bool{}, taken: map[string]bool{}, subs: map[string]*Table{}}
}

// document is what all tables of a file share.
type document struct {
	file  string
	shift int // lines above the TOML text in its file
	at    map[string]place
	list  *List
}

// place is a line and a column, counted from 1.
type place struct{ line, col int }

// ReadTOML parses a file. A syntax error is recorded with its line, and ok is
// false.
func ReadTOML(file string, text []byte, list *List) (root *Table, ok bool) {
	return ReadTOMLAt(file, text, 0, list)
}

// ReadTOMLAt is ReadTOML for TOML that stands inside another file, shift lines
// below its top.
func ReadTOMLAt(file string, text []byte, shift int, list *List) (root *Table, ok bool) {
	if !utf8.Valid(text) {
		NotUTF8(file, text, shift, list)
		return nil, false
	}
	values := map[string]any{}
	if _, err := toml.Decode(string(text), &values); err != nil {
		p := Problem{Pos: Pos{File: file}, What: err.Error()}
		if pe, is := errors.AsType[toml.ParseError](err); is {
			p.Line, p.Col, p.Key = pe.Position.Line+shift, pe.Position.Col, pe.LastKey
			if strings.Contains(pe.Message, `but got '\n' instead`) {
				p.Line-- // the decoder has already stepped over the end of the line at fault
			}
			p.What = cmp.Or(pe.Message, strings.TrimPrefix(pe.Error(), "toml: "))
		}
		p.Remedy = remedyOfSyntax(p.What)
		p.What = "not valid TOML: " + p.What
		list.Add(p)
		return nil, false
	}
	return newTable(&document{file: file, shift: shift, at: positions(text), list: list}, "", values), true
}

// NotUTF8 records that a text, shift lines below the top of its file, is no UTF-8,
// with the line of the first bytes that are none.
func NotUTF8(file string, text []byte, shift int, list *List) {
	line := shift + 1
	for len(text) > 0 {
		r, size := utf8.DecodeRune(text)
		if r == utf8.RuneError && size == 1 {
			break
		}
		if r == '\n' {
			line++
		}
		text = text[size:]
	}
	list.Errorf(Pos{File: file, Line: line}, "save it as UTF-8", "the file is not UTF-8 text")
}

// remedyOfSyntax says what would do about a message of the decoder.
func remedyOfSyntax(message string) string {
	for _, r := range []struct{ has, remedy string }{
		{"invalid datetime", `write a day of the calendar as 2026-11-25, and in quotes what is none`},
		{"expected value but found", `put a text in straight quotes, as "clay"; what is so or not is true or false`},
		{"cannot contain newlines", "close the quote on its line"},
		{"already been defined", "keep one of them"},
		{"to end with a newline", `put a text in quotes, as "0.5 lb", and a decimal point for a comma; one key a line`},
		{"expected '.' or '='", "write key = value; a key has no spaces"},
		{"array terminator", "put commas between the entries of a list, and ] at its end"},
		{"to end table name", "close the name with ]"},
		{"invalid escape", "write a backslash twice"},
	} {
		if strings.Contains(message, r.has) {
			return r.remedy
		}
	}
	return "look at this line and the one above it"
}

// positions maps each key, with array elements counted from 0
// ("rule[1].when.state"), to where it stands. The decoder that yields the
// values keeps positions by dotted name only, which inside arrays of tables
// is the wrong line; hence a second parser.
func positions(text []byte) map[string]place {
	at := map[string]place{}
	counts := map[string]int{}
	var p unstable.Parser
	p.Reset(text)
	lines := []int{0} // where each begins
	for i, c := range text {
		if c == '\n' {
			lines = append(lines, i+1)
		}
	}
	placeOf := func(r unstable.Range) place {
		line, begins := slices.BinarySearch(lines, int(r.Offset))
		if begins {
			line++
		}
		return place{line, int(r.Offset) - lines[line-1] + 1}
	}
	start := func(n *unstable.Node) place { return placeOf(p.Range(n.Data)) }
	// resolve joins the parts of a key, entering the latest element of each
	// array of tables on the way.
	resolve := func(base string, it unstable.Iterator, array bool) (string, place) {
		path, pos := base, place{}
		for first := true; it.Next(); first = false {
			n := it.Node()
			if first {
				pos = start(n)
			}
			if path != "" {
				path += "."
			}
			path += string(n.Data)
			if it.IsLast() && array {
				counts[path]++
			}
			if c := counts[path]; c > 0 {
				path = Element(path, c-1)
			}
			if _, seen := at[path]; !seen {
				at[path] = start(n)
			}
		}
		return path, pos
	}
	var value func(path string, n *unstable.Node)
	value = func(path string, n *unstable.Node) {
		switch n.Kind {
		case unstable.InlineTable:
			for it := n.Children(); it.Next(); {
				kv := it.Node()
				sub, pos := resolve(path, kv.Key(), false)
				at[sub] = pos
				value(sub, kv.Value())
			}
		case unstable.Array:
			i := 0
			for it := n.Children(); it.Next(); i++ {
				el := it.Node()
				sub := Element(path, i)
				if el.Raw.Length > 0 {
					at[sub] = placeOf(el.Raw)
				} else if pos, ok := at[path]; ok {
					at[sub] = pos
				}
				value(sub, el)
			}
		}
	}
	table := ""
	for p.NextExpression() {
		e := p.Expression()
		switch e.Kind {
		case unstable.Table:
			table, _ = resolve("", e.Key(), false)
		case unstable.ArrayTable:
			table, _ = resolve("", e.Key(), true)
		case unstable.KeyValue:
			path, pos := resolve(table, e.Key(), false)
			at[path] = pos
			value(path, e.Value())
		}
	}
	return at
}

// File returns the file's name.
func (t *Table) File() string { return t.doc.file }

// Over lays the table over another, often one of another file: what the table
// does not write is read from there, and mistakes in it have their place there. A
// key that it writes replaces the other's whole. Where keys are named, only they
// are taken.
func (t *Table) Over(base *Table, keys ...string) { t.base, t.from = base, keys }

// Base is the table that this one lies over, or nil.
func (t *Table) Base() *Table { return t.base }

// Alone is the table without the one that it lies over.
func (t *Table) Alone() *Table {
	alone := *t
	alone.base = nil
	return &alone
}

// Writes reports whether the table itself has the key.
func (t *Table) Writes(key string) bool {
	_, ok := t.values[key]
	return ok
}

// Repeats reports whether the table writes of a key what it would have taken.
func (t *Table) Repeats(key string) bool {
	return t.Writes(key) && t.base != nil && t.base.Has(key) && reflect.DeepEqual(t.values[key], t.base.values[key])
}

// TellRepeats records each of the keys that the table writes as it would have taken
// it.
func (t *Table) TellRepeats(keys ...string) {
	for _, key := range keys {
		if t.Repeats(key) {
			t.base.Raw(key) // it is taken, if in vain
			t.Errorf(key, "leave it out", "%q repeats the default", key)
		}
	}
}

// Like lays the table over the default that it names, like = "leaf", if it does: one
// of the tables of defaults, which may be nil. It is false where there is no such
// default: then the table is not to be read.
func (t *Table) Like(of string, defaults *Table) bool {
	name := t.OptText("like")
	if name == "" {
		return true
	}
	if slices.Contains(defaults.Keys(), name) {
		t.Over(defaults.Table(name, false))
		return t.base != nil
	}
	t.Errorf("like", DidYouMean(name, defaults.Keys()), "there is no default %s %q", of, name)
	return false
}

// Written returns the first of the keys that the table writes itself, or the first:
// where a mistake in all of them together has its place.
func (t *Table) Written(keys ...string) string {
	return keys[max(0, slices.IndexFunc(keys, t.Writes))]
}

// holder is the table that has the key, or would have it.
func (t *Table) holder(key string) *Table {
	if i := strings.IndexAny(key, "[."); i > 0 {
		key = key[:i]
	}
	if key == "" || t.base == nil || t.Writes(key) || len(t.from) > 0 && !slices.Contains(t.from, key) || !t.base.Has(key) {
		return t
	}
	return t.base.holder(key)
}

// ask notes that a key is asked for, and returns its holder.
func (t *Table) ask(key string) *Table {
	h := t.holder(key)
	h.taken[key] = true
	for o := t; o != nil; o = o.base {
		o.known[key] = true
	}
	return h
}

// sub returns a table of this one.
func (t *Table) sub(key string, values map[string]any) *Table {
	s := t.subs[key]
	if s == nil {
		s = newTable(t.doc, t.path+key+".", values)
		t.subs[key] = s
	}
	return s
}

// Pos returns the place of a key, or of the table itself when the key is
// absent or "".
func (t *Table) Pos(key string) Pos {
	if h := t.holder(key); h != t {
		return h.Pos(key)
	}
	pos := Pos{File: t.doc.file, Key: t.path + key}
	if key == "" {
		pos.Key = strings.TrimSuffix(t.path, ".")
	}
	for path := pos.Key; ; {
		if at, ok := t.doc.at[path]; ok && at.line > 0 {
			pos.Line, pos.Col = at.line+t.doc.shift, at.col
			return pos
		}
		i := strings.LastIndexAny(path, ".[")
		if i < 0 { // what the file's root lacks is told at its top
			pos.Line = t.doc.shift + 1
			return pos
		}
		path = path[:i]
	}
}

// Errorf records an error at a key of the table ("" for the table itself).
func (t *Table) Errorf(key, remedy, what string, args ...any) {
	t.doc.list.Errorf(t.Pos(key), remedy, what, args...)
}

// Element is the key of an element of a list.
func Element(key string, i int) string { return key + "[" + strconv.Itoa(i) + "]" }

// Warnf records a warning at a key of the table.
func (t *Table) Warnf(key, remedy, what string, args ...any) {
	t.doc.list.Warnf(t.Pos(key), remedy, what, args...)
}

// Has reports whether the key is there, in the table or the one that it lies over.
func (t *Table) Has(key string) bool { return t.holder(key).Writes(key) }

// Keys returns the keys that the table writes, in the order in which they stand. A
// nil table has none.
func (t *Table) Keys() []string {
	if t == nil {
		return nil
	}
	at := make(map[string]Pos, len(t.values))
	for key := range t.values {
		at[key] = t.Pos(key)
	}
	return slices.SortedFunc(maps.Keys(at), func(a, b string) int {
		return cmp.Or(cmp.Compare(at[a].Line, at[b].Line), cmp.Compare(at[a].Col, at[b].Col), cmp.Compare(a, b))
	})
}

// Where keeps where a table and its keys stand, for mistakes that only show once
// all files are read.
type Where struct {
	Pos Pos // of the table
	at  map[string]Pos
}

// PosOf returns the place of a key, or of the table where it is absent.
func (w Where) PosOf(key string) Pos {
	if p, ok := w.at[key]; ok {
		return p
	}
	return w.Pos
}

// Where returns where the table and its keys stand. The first line is that of a
// file's root.
func (t *Table) Where() Where {
	w := Where{Pos: t.Pos(""), at: map[string]Pos{}}
	w.Pos.Line = max(1, w.Pos.Line)
	for _, k := range t.Keys() {
		w.at[k] = t.Pos(k)
	}
	return w
}

// Raw returns a value as decoded, for keys that may hold several types.
func (t *Table) Raw(key string) (any, bool) {
	v, ok := t.ask(key).values[key]
	return v, ok
}

// need records a required key that is absent.
func (t *Table) need(key, sample string) {
	if !t.Has(key) {
		t.Errorf(key, "add "+key+" = "+sample, "missing")
	}
}

// get returns the value of a key if it has the type, and records a problem if
// it has another, or if it is required and absent.
func get[T any](t *Table, key string, required bool, kind, sample string) (T, bool) {
	var zero T
	v, ok := t.Raw(key)
	if !ok {
		if required {
			t.need(key, sample)
		}
		return zero, false
	}
	x, ok := v.(T)
	if !ok {
		t.Errorf(key, "write "+sample, "this is %s, not %s", kindOf(v), kind)
		return zero, false
	}
	return x, true
}

func kindOf(v any) string {
	switch v := v.(type) {
	case string:
		return "the text " + quote(v)
	case bool:
		return "true or false"
	case int64:
		return "the number " + strconv.FormatInt(v, 10)
	case float64:
		return "the number " + strconv.FormatFloat(v, 'g', -1, 64)
	case time.Time:
		return "a date or time"
	case map[string]any:
		return "a table"
	}
	return "a list"
}

// Text reads a required text; empty text is a mistake.
func (t *Table) Text(key string) string {
	s, ok := get[string](t, key, true, "text", `"…"`)
	if ok && strings.TrimSpace(s) == "" {
		t.Errorf(key, "write something between the quotes", "empty")
	}
	return s
}

// OptText reads a text that may be absent.
func (t *Table) OptText(key string) string {
	s, _ := get[string](t, key, false, "text", `"…"`)
	return s
}

// ids are lower-case words joined by hyphens: safe as a file name and in an
// address.
var idForm = regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*$`)

// IsID reports whether s is made of lower-case words joined by hyphens.
func IsID(s string) bool { return len(s) <= 64 && idForm.MatchString(s) }

// ID reads a required id.
func (t *Table) ID(key string) string {
	s, ok := get[string](t, key, true, "an id", `"lower-case-words"`)
	if ok && !IsID(s) {
		t.Errorf(key, "an id is lower-case words joined by hyphens", "%q is not an id", s)
		return ""
	}
	return s
}

// One reads a required text that must be one of the words given.
func (t *Table) One(key string, words ...string) string {
	return t.oneOf(key, true, words)
}

// OptOne is One for a key that may be absent.
func (t *Table) OptOne(key string, words ...string) string {
	return t.oneOf(key, false, words)
}

func (t *Table) oneOf(key string, required bool, words []string) string {
	s, ok := get[string](t, key, required, "one of the words "+strings.Join(words, ", "), quote(strings.Join(words, `" or "`)))
	if ok && !slices.Contains(words, s) {
		t.Errorf(key, DidYouMean(s, words), "unknown value %q", s)
		return ""
	}
	return s
}

// Texts reads a list of texts; required says whether it must be there (it may
// be empty all the same).
func (t *Table) Texts(key string, required bool) []string {
	list, ok := get[[]any](t, key, required, "a list of texts", `["…"]`)
	if !ok {
		return nil
	}
	out := make([]string, 0, len(list))
	for i, v := range list {
		s, ok := v.(string)
		if !ok {
			t.Errorf(Element(key, i), `write "…"`, "this is %s, not text", kindOf(v))
			continue
		}
		out = append(out, s)
	}
	return out
}

// Words reads a list of words, each one of those known and each once.
func (t *Table) Words(key string, required bool, known ...string) []string {
	list := t.Texts(key, required)
	for i, s := range list {
		if !slices.Contains(known, s) {
			t.Errorf(Element(key, i), DidYouMean(s, known), "unknown value %q", s)
		}
		if slices.Contains(list[:i], s) {
			t.Errorf(Element(key, i), "remove it", "%q stands twice", s)
		}
	}
	return list
}

// Bool reads true or false; absent is false.
func (t *Table) Bool(key string) bool {
	b, _ := get[bool](t, key, false, "true or false", "true or false")
	return b
}

// Int reads a required whole number.
func (t *Table) Int(key string) int {
	n, _ := get[int64](t, key, true, "a whole number", "1")
	return int(n)
}

// OptInt reads a whole number that may be absent.
func (t *Table) OptInt(key string) (int, bool) {
	n, ok := get[int64](t, key, false, "a whole number", "1")
	return int(n), ok
}

// Number reads a required plain number.
func (t *Table) Number(key string) float64 {
	t.need(key, "0.5")
	x, _ := t.OptNumber(key)
	return x
}

// OptNumber reads a plain number that may be absent. Not-a-number and infinity
// are mistakes.
func (t *Table) OptNumber(key string) (float64, bool) {
	v, ok := t.Raw(key)
	if !ok {
		return 0, false
	}
	switch x := v.(type) {
	case int64:
		return float64(x), true
	case float64:
		if math.IsNaN(x) || math.IsInf(x, 0) {
			t.Errorf(key, "write a plain number", "%s is not a usable number", strconv.FormatFloat(x, 'g', -1, 64))
			return 0, false
		}
		return x, true
	}
	t.Errorf(key, "write a plain number without quotes", "this is %s, not a number", kindOf(v))
	return 0, false
}

// Date reads a required date (2026-11-25, without quotes).
func (t *Table) Date(key string) civil.Date {
	t.need(key, "2026-11-25")
	d, _ := t.OptDate(key)
	return d
}

// OptDate reads a date that may be absent.
func (t *Table) OptDate(key string) (civil.Date, bool) {
	v, ok := t.Raw(key)
	if !ok {
		return 0, false
	}
	// The decoder gives a local date as midnight in a location of this name;
	// its day is what was written, whatever zone the machine is in.
	if at, is := v.(time.Time); is && at.Location().String() == "date-local" {
		d, err := civil.NewDate(at.Year(), int(at.Month()), at.Day())
		if err == nil {
			return d, true
		}
	}
	t.Errorf(key, "write a date as 2026-11-25, without quotes and time", "this is %s, not a date", kindOf(v))
	return 0, false
}

// MonthDay reads a required "MM-DD".
func (t *Table) MonthDay(key string) civil.MonthDay {
	s, ok := get[string](t, key, true, "a month and day", `"11-15"`)
	md, err := civil.ParseMonthDay(s)
	if ok && err != nil {
		t.Errorf(key, `write a month and day as "11-15"`, "%v", err)
	}
	return md
}

// Quantity reads a required quantity with its unit and returns it in d.Unit().
func (t *Table) Quantity(key string, d quantity.Dimension) float64 {
	t.need(key, quote("1 "+d.Unit()))
	x, _ := t.OptQuantity(key, d)
	return x
}

// OptQuantity reads a quantity that may be absent.
func (t *Table) OptQuantity(key string, d quantity.Dimension) (float64, bool) {
	s, ok := get[string](t, key, false, "a "+d.String()+" with its unit", `"1 `+d.Unit()+`"`)
	if !ok {
		return 0, false
	}
	x, err := quantity.Parse(s, d)
	if err != nil {
		what, remedy, _ := strings.Cut(err.Error(), "; ")
		t.Errorf(key, remedy, "%s", what)
		return 0, false
	}
	return x, true
}

// Table reads a sub-table. A missing one is recorded if required; the table
// returned is then nil. A nil table has none, and asks for none.
func (t *Table) Table(key string, required bool) *Table {
	if t == nil {
		return nil
	}
	m, ok := get[map[string]any](t, key, required, "a table", "["+t.path+key+"]")
	if !ok {
		return nil
	}
	return t.holder(key).sub(key, m)
}

// TableOver reads a sub-table that lies over another, which may be nil; it may be
// absent if the other is there.
func (t *Table) TableOver(key string, base *Table) *Table {
	sub := t.Table(key, base == nil)
	if base == nil {
		return sub
	}
	if sub == nil {
		sub = t.sub(key, map[string]any{})
	}
	sub.Over(base)
	return sub
}

// Tables reads an array of tables, which may be absent.
func (t *Table) Tables(key string) []*Table {
	v, ok := t.Raw(key)
	if !ok {
		return nil
	}
	var out []*Table
	add := func(i int, m map[string]any) { out = append(out, t.holder(key).sub(Element(key, i), m)) }
	switch list := v.(type) {
	case []map[string]any:
		for i, m := range list {
			add(i, m)
		}
	case []any:
		for i, el := range list {
			if m, is := el.(map[string]any); is {
				add(i, m)
			} else {
				t.Errorf(Element(key, i), "write a table", "this is %s, not a table", kindOf(el))
			}
		}
	default:
		t.Errorf(key, "write [["+t.path+key+"]]", "this is %s, not a list of tables", kindOf(v))
	}
	return out
}

// Close records every key that was not read. A nil table has none.
func (t *Table) Close() {
	if t == nil {
		return
	}
	known := slices.Collect(maps.Keys(t.known))
	for _, k := range t.Keys() {
		if !t.known[k] {
			t.Errorf(k, DidYouMean(k, known), "unknown key")
		}
	}
}

// CloseTaken records every key, of the table and of all that was read in it, that
// was not read through a table that lies over it, nor by itself. A nil table has
// none.
func (t *Table) CloseTaken() {
	if t == nil {
		return
	}
	known := slices.Collect(maps.Keys(t.known))
	for _, k := range t.Keys() {
		switch near := nearest(k, known); {
		case t.taken[k]:
		case t.known[k]:
			t.Errorf(k, "leave it out", "nothing takes it: all write their own")
		case near != "":
			t.Errorf(k, "did you mean "+quote(near)+"?", "nothing takes it")
		default:
			t.Errorf(k, "leave it out", "nothing takes it")
		}
	}
	for _, k := range slices.Sorted(maps.Keys(t.subs)) {
		t.subs[k].CloseTaken()
	}
}
