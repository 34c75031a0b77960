package publish

import (
	"fmt"
	"io/fs"
	"slices"
	"strings"
)

// Site is a printed site in memory: every file that a press makes.
type Site struct {
	Files []File // sorted by path, each path once
}

// File is one file of a site.
type File struct {
	Path  string // slash-separated, relative to the site's root
	Body  []byte
	Entry bool // an entry point: written after everything that it leads to
}

// Find returns the file at a path.
func (s *Site) Find(path string) (File, bool) {
	i, ok := slices.BinarySearchFunc(s.Files, path, func(f File, p string) int { return strings.Compare(f.Path, p) })
	if !ok {
		return File{}, false
	}
	return s.Files[i], true
}

// newSite sorts files into a site. Two files with one path, or a path that
// leaves the site, are mistakes in the templates or in the code that names
// pages, and an error.
func newSite(files []File) (*Site, error) {
	slices.SortFunc(files, func(a, b File) int { return strings.Compare(a.Path, b.Path) })
	for i, f := range files {
		if !fs.ValidPath(f.Path) || f.Path == "." || strings.ContainsAny(f.Path, "\n\r\\") {
			return nil, fmt.Errorf("publish: %q cannot be the path of a file", f.Path)
		}
		if i > 0 && files[i-1].Path == f.Path {
			return nil, fmt.Errorf("publish: two pages have the address %q", f.Path)
		}
	}
	return &Site{Files: files}, nil
}
