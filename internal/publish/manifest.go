package publish

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strings"

	"ligule/internal/civil"
)

// manifestName is the file in which a folder lists what was printed into it.
const manifestName = ".ligule-manifest"

// The first line of a manifest says whether the press that wrote it finished.
const (
	headWhole   = "# Printed by ligule, which removes nothing that is not listed here. Whole."
	headPartial = "# Printed by ligule, which removes nothing that is not listed here. Interrupted: press again."
)

// manifest is what a press left in a folder.
type manifest struct {
	whole bool
	paths []string
}

func (m manifest) bytes() []byte {
	head := headPartial
	if m.whole {
		head = headWhole
	}
	lines := slices.Compact(slices.Sorted(slices.Values(m.paths)))
	return []byte(strings.Join(append([]string{head}, lines...), "\n") + "\n")
}

// parseManifest reads what bytes writes. It takes nothing but paths within the
// folder: the list says what may be removed.
func parseManifest(text []byte) (manifest, error) {
	head, rest, _ := strings.Cut(string(text), "\n")
	m := manifest{whole: head == headWhole}
	if !m.whole && head != headPartial {
		return manifest{}, fmt.Errorf("%s was not written by this program; move it away to print here", manifestName)
	}
	for line := range strings.Lines(rest) {
		name := strings.TrimSuffix(line, "\n")
		if !fs.ValidPath(name) || name == "." || name == manifestName {
			return manifest{}, fmt.Errorf("%s lists %q, which is no page; nothing was changed", manifestName, name)
		}
		m.paths = append(m.paths, name)
	}
	return m, nil
}

func (p writer) readManifest() (manifest, error) {
	text, err := p.root.ReadFile(manifestName)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return manifest{whole: true}, nil
	case err != nil:
		return manifest{}, err
	}
	return parseManifest(text)
}

// writeManifest writes it if it differs.
func (p writer) writeManifest(m manifest) error {
	body := m.bytes()
	if old, err := p.root.ReadFile(manifestName); err == nil && bytes.Equal(old, body) {
		return nil
	}
	if err := p.place(manifestName, body); err != nil {
		return err
	}
	return p.settle(map[string]bool{".": true})
}

// isPermanent reports whether a path is of an issue, which stays forever.
func isPermanent(name string) bool {
	rest, ok := strings.CutPrefix(name, "issues/")
	week, _, inside := strings.Cut(rest, "/")
	_, err := civil.ParseWeek(week)
	return ok && inside && err == nil
}
