package main

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"

	"ligule/templates"
)

// overlay reads a file from over if it is there, else from under.
type overlay struct{ over, under fs.FS }

// Open implements fs.FS.
func (o overlay) Open(name string) (fs.File, error) {
	f, err := o.over.Open(name)
	if errors.Is(err, fs.ErrNotExist) {
		return o.under.Open(name)
	}
	return f, err
}

// templateFiles returns the program's own templates, each replaced by the
// workspace's file of the same name if there is one.
func templateFiles(dir string) (fs.FS, error) {
	folder := filepath.Join(dir, "templates")
	st, err := os.Stat(folder)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return templates.FS, nil
	case err != nil:
		return nil, err
	case !st.IsDir():
		return nil, errors.New(folder + " is a file; templates are a folder")
	}
	return overlay{os.DirFS(folder), templates.FS}, nil
}
