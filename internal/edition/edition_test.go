package edition_test

import (
	"bytes"
	"os"
	"reflect"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/data"
	"ligule/internal/bulletin"
	"ligule/internal/civil"
	"ligule/internal/diag"
	"ligule/internal/edition"
	"ligule/internal/workspace"
)

// demonstration is the edition of a week of the demonstration.
func demonstration(t testing.TB, num int) *edition.Edition {
	t.Helper()
	ws, err := load()
	require.NoError(t, err)
	return edition.New(bulletin.Build(ws, civil.Week{Year: 2026, Num: num}), ws.Voice())
}

var load = sync.OnceValues(func() (*workspace.Workspace, error) {
	var list diag.List
	ws := workspace.Load(os.DirFS("../.."), data.Phrases, &list)
	return ws, list.Err()
})

func written(t testing.TB, e *edition.Edition) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, edition.Write(&b, e))
	return b.Bytes()
}

// An edition that was written and read is the same, in every value that it holds.
func TestAnEditionIsReadAsItWasWritten(t *testing.T) {
	for _, num := range []int{13, 29, 48} {
		e := demonstration(t, num)
		b := written(t, e)
		back, err := edition.Read(bytes.NewReader(b))
		require.NoError(t, err)
		// Nothing of it may be hidden from who writes it down: all is compared, even
		// what no other package can see.
		all := cmp.Exporter(func(reflect.Type) bool { return true })
		assert.Empty(t, cmp.Diff(e, back, all, cmpopts.EquateNaNs(), cmpopts.EquateEmpty()), "week %d", num)
		assert.True(t, bytes.Equal(b, written(t, back)), "week %d", num)
	}
}
