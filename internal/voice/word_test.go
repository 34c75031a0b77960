package voice

import (
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ligule/internal/diag"
	"ligule/internal/message"
)

// A code that the book does not list is said as its author wrote it.
func TestCodesThatTheBookLacks(t *testing.T) {
	text, err := os.ReadFile("../../data/phrases.toml")
	require.NoError(t, err)
	var list diag.List
	root, ok := diag.ReadTOML("phrases.toml", text, &list)
	require.True(t, ok, list.Error())
	v := Voice{Book: ReadBook(root)}
	assert.Equal(t, "treated manure", v.Value(message.WordOr("law_product", "manipulated_manure")))
	assert.Equal(t, "worm castings", v.Value(message.WordOr("law_product", "worm_castings")))
	assert.Equal(t, "lime, worm castings", v.Value(message.WordsOr(message.Comma, "law_product", "lime", "worm_castings")))
	assert.Equal(t, "«law_product.worm_castings»", v.Value(message.Word("law_product.worm_castings")), "a word that must be there is missed aloud")
	assert.False(t, message.WordOr("a", "x_y").Equal(message.Word("a.x_y")))
}
