package voice

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/data"
	"ligule/internal/diag"
	"ligule/internal/message"
)

// Each join of the messages has its words in the book, save what is glued; an
// entry without words is left out, and one alone stands alone.
func TestLists(t *testing.T) {
	var list diag.List
	root, ok := diag.ReadTOML("data/phrases.toml", data.Phrases, &list)
	require.True(t, ok, list.Error())
	v := Voice{Book: ReadBook(root)}
	for join, want := range map[message.Join]string{
		message.And: "a and b", message.Or: "a or b", message.Comma: "a, b", message.Semicolon: "a; b",
		message.Sentences: "a b", message.Glued: "ab", message.Range: "a–b", message.Bracketed: "a (b)",
	} {
		assert.Equal(t, want, v.Value(message.Texts(join, "a", "b")), join)
		assert.Equal(t, "a", v.Value(message.Texts(join, "a", "")), join)
	}
	assert.Equal(t, "2026–27", v.Value(message.List(message.Range, message.Count(2026), message.Count(27))))
	assert.Equal(t, "a, b, c", v.Value(message.Texts(message.Comma, "a", "b", "c")))
}
