package publish

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestSmoke(t *testing.T) {
	site := newWorld(t, nil).render(t)
	for _, f := range site.Files {
		t.Log(f.Path, len(f.Body))
	}
	assert.NotEmpty(t, site.Files)
}
