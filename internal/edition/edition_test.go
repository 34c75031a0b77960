package edition_test

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"reflect"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/data"
	"ligule/internal/bulletin"
	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/edition"
	"ligule/internal/message"
	"ligule/internal/workspace"
)

var load = sync.OnceValues(func() (*workspace.Workspace, error) {
	var list diag.List
	ws := workspace.Load(os.DirFS("../.."), data.Phrases, &list)
	return ws, list.Err()
})

// demonstration is the edition of a week of the demonstration.
func demonstration(t testing.TB, num int) *edition.Edition {
	t.Helper()
	ws, err := load()
	require.NoError(t, err)
	return edition.New(bulletin.Build(ws, civil.Week{Year: 2026, Num: num}), ws.Voice())
}

func written(t testing.TB, e *edition.Edition) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, edition.Write(&b, e))
	return b.Bytes()
}

// differ says where two values differ first; "" where they are the same. All is
// compared, even what no other package can see: nothing of an edition may be
// hidden from who writes it down. What is missing is the same as what is missing,
// and no list is the same as an empty one.
func differ(at string, a, b reflect.Value) string {
	if a.IsValid() != b.IsValid() {
		return at
	}
	switch a.Kind() {
	case reflect.Pointer, reflect.Interface:
		if a.IsNil() || b.IsNil() {
			return here(at, a.IsNil() == b.IsNil())
		}
		return differ(at, a.Elem(), b.Elem())
	case reflect.Struct:
		for i := range a.NumField() {
			if d := differ(at+"."+a.Type().Field(i).Name, a.Field(i), b.Field(i)); d != "" {
				return d
			}
		}
		return ""
	case reflect.Slice, reflect.Array:
		if a.Len() != b.Len() {
			return at
		}
		for i := range a.Len() {
			if d := differ(fmt.Sprintf("%s[%d]", at, i), a.Index(i), b.Index(i)); d != "" {
				return d
			}
		}
		return ""
	case reflect.Float64:
		return here(at, a.Float() == b.Float() || math.IsNaN(a.Float()) && math.IsNaN(b.Float()))
	default:
		return here(at, a.Comparable() && a.Equal(b))
	}
}

func here(at string, same bool) string {
	if same {
		return ""
	}
	return at
}

// An edition that was written and read is the same, in every value that it holds.
func TestAnEditionIsReadAsItWasWritten(t *testing.T) {
	weeks := []int{29}
	if os.Getenv("EVERY_CASE") != "" {
		weeks = []int{18, 29, 48}
	}
	for _, num := range weeks {
		e := demonstration(t, num)
		if len(weeks) == 1 { // a few zones for every change, all in the full run
			e.Region.Zones = e.Region.Zones[:3]
		}
		b := written(t, e)
		back, err := edition.Read(bytes.NewReader(b))
		require.NoError(t, err)
		assert.Empty(t, differ("", reflect.ValueOf(e), reflect.ValueOf(back)), "week %d", num)
		assert.True(t, bytes.Equal(b, written(t, back)), "week %d", num)
		// The comparison sees a difference, however deep.
		g := back.Region.Zones[0].Grasses[0]
		g.Values[0].Value.Words += "."
		assert.Equal(t, ".Region.Zones[0].Grasses[0].Values[0].Value.Words", differ("", reflect.ValueOf(e), reflect.ValueOf(back)))
	}
}

// Every sentence that an edition holds has its words.
func TestAnEditionHasItsWords(t *testing.T) {
	said := 0
	var walk func(at string, x reflect.Value)
	walk = func(at string, x reflect.Value) {
		if s, ok := reflect.TypeAssert[*message.Said](x); ok {
			if s != nil {
				said++
				assert.NotEmpty(t, s.Words, at)
			}
			return
		}
		switch x.Kind() {
		case reflect.Pointer:
			if !x.IsNil() {
				walk(at, x.Elem())
			}
		case reflect.Struct:
			for i := range x.NumField() {
				if f := x.Type().Field(i); f.IsExported() {
					walk(at+"."+f.Name, x.Field(i))
				}
			}
		case reflect.Slice:
			for i := range x.Len() {
				walk(fmt.Sprintf("%s[%d]", at, i), x.Index(i))
			}
		}
	}
	walk("", reflect.ValueOf(demonstration(t, 29)))
	assert.Greater(t, said, 1000)
}

const least = `{"schema":1,"language":"en-US","units":"us","region":{"week":"2026-W29","date":"2026-07-12","days":null,"zones":null,"topics":null,"cautions":null}}`

// What an edition is not read from is said.
func TestAnEditionIsReadStrictly(t *testing.T) {
	_, err := edition.Read(strings.NewReader(least))
	require.NoError(t, err)
	for _, c := range []struct{ from, to, want string }{
		{`"schema":1`, `"schema":2`, "form 2"},
		{`"schema":1`, `"schema":0`, "form 0"},
		{`"units":"us"`, `"units":"stones"`, "units"},
		{`"week":`, `"wek":`, "wek"},
		{`"2026-W29"`, `"2026-W54"`, "2026-W54"},
		{`"date":"2026-07-12"`, `"date":"2026-02-30"`, "2026-02-30"},
		{`{"week":"2026-W29","date":"2026-07-12","days":null,"zones":null,"topics":null,"cautions":null}`, "null", "no region"},
	} {
		text := strings.Replace(least, c.from, c.to, 1)
		require.NotEqual(t, least, text, c.from)
		_, err := edition.Read(strings.NewReader(text))
		assert.ErrorContains(t, err, c.want, text)
	}
	for _, text := range []string{"", "[]", least + "{}", least[:len(least)-1]} {
		_, err := edition.Read(strings.NewReader(text))
		assert.Error(t, err, text)
	}
}

// Whatever is read is written so that it is read the same.
func FuzzRead(f *testing.F) {
	f.Add([]byte(least))
	f.Add([]byte(strings.Replace(least, `"zones":null`, `"zones":[{"id":"z","name":"Z","grasses":[{"id":"g","line":{"message":{"text":"x"},"words":"x"},"growth":null}],"law":{},"ahead":{}}]`, 1)))
	f.Fuzz(func(t *testing.T, b []byte) {
		e, err := edition.Read(bytes.NewReader(b))
		if err != nil {
			return
		}
		first := written(t, e)
		back, err := edition.Read(bytes.NewReader(first))
		require.NoError(t, err, string(first))
		assert.Equal(t, string(first), string(written(t, back)))
	})
}
