package publish

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"slices"
	"strings"
)

// Report counts what a Write did to the folder. The manifest is not counted.
type Report struct{ Written, Unchanged, Removed int }

// Write brings a folder up to the site and touches nothing that needs no
// change. Whatever interrupts it, each file is either the old or the new one,
// whole; entry points change last, pages that are gone go after that, and the
// next Write finishes the work.
//
// A list of what it printed, the manifest, stays in the folder: only what is on
// it is ever removed, and never a page of an issue. Write fails rather than
// follow a symbolic link out of the folder.
func Write(site *Site, dir string) (Report, error) {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return Report{}, fmt.Errorf("publish: %w", err)
	}
	// A root refuses every path that leaves it, links included.
	root, err := os.OpenRoot(dir)
	if err != nil {
		return Report{}, fmt.Errorf("publish: %w", err)
	}
	defer root.Close()
	report, err := writer{root, realDisk()}.write(site)
	if err != nil {
		return report, fmt.Errorf("publish: %w", err)
	}
	return report, nil
}

// disk are the operations that change a folder. A test makes any of them fail.
type disk struct {
	create func(root *os.Root, name string, body []byte) error // a new file, on disk when it returns
	rename func(root *os.Root, from, to string) error
	remove func(root *os.Root, name string) error
	settle func(root *os.Root, dir string) error // what was done in the folder is on disk when it returns
}

func realDisk() disk {
	return disk{
		create: create,
		rename: func(root *os.Root, from, to string) error { return root.Rename(from, to) },
		remove: func(root *os.Root, name string) error { return root.Remove(name) },
		settle: settle,
	}
}

func create(root *os.Root, name string, body []byte) error {
	f, err := root.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_TRUNC, 0o644)
	if err != nil {
		return err
	}
	if _, err = f.Write(body); err == nil {
		err = f.Sync()
	}
	return errors.Join(err, f.Close())
}

// writer writes one site into one folder.
type writer struct {
	root *os.Root
	disk disk
}

func (p writer) write(site *Site) (Report, error) {
	old, err := p.readManifest()
	if err != nil {
		return Report{}, err
	}
	left := []string{manifestName}
	if !old.whole {
		left = append(left, old.paths...)
	}
	if err := p.sweep(left); err != nil {
		return Report{}, err
	}
	var report Report
	var changed []File
	var paths []string
	for _, f := range site.Files {
		paths = append(paths, f.Path)
		same, err := p.holds(f)
		if err != nil {
			return report, err
		}
		if same {
			report.Unchanged++
		} else {
			changed = append(changed, f)
		}
	}
	var orphans []string
	for _, name := range old.paths {
		if _, printed := site.Find(name); printed {
			continue
		}
		if isPermanent(name) {
			paths = append(paths, name)
		} else {
			orphans = append(orphans, name)
		}
	}
	// While the work goes on the manifest lists what was and what will be.
	if len(changed)+len(orphans) > 0 {
		if err := p.writeManifest(manifest{paths: append(slices.Clone(paths), orphans...)}); err != nil {
			return report, err
		}
	}
	if err := p.replace(changed, &report); err != nil {
		return report, err
	}
	for _, name := range orphans {
		if err := p.drop(name, &report); err != nil {
			return report, err
		}
	}
	return report, p.writeManifest(manifest{whole: true, paths: paths})
}

// holds reports whether the folder has the file as it shall be.
func (p writer) holds(f File) (bool, error) {
	body, err := p.root.ReadFile(f.Path)
	if errors.Is(err, fs.ErrNotExist) {
		return false, nil
	}
	return err == nil && bytes.Equal(body, f.Body), err
}

// replace writes files: what is linked to before what links to it, the front
// page last.
func (p writer) replace(files []File, report *Report) error {
	slices.SortStableFunc(files, func(a, b File) int {
		return cmp.Or(
			cmp.Compare(rank(a), rank(b)),
			-cmp.Compare(strings.Count(a.Path, "/"), strings.Count(b.Path, "/")),
			strings.Compare(a.Path, b.Path),
		)
	})
	touched := map[string]bool{}
	for i, f := range files {
		if f.Entry && (i == 0 || !files[i-1].Entry) {
			// Nothing may lead to a page that a power cut could still undo.
			if err := p.settle(touched); err != nil {
				return err
			}
		}
		if err := p.place(f.Path, f.Body); err != nil {
			return err
		}
		touched[path.Dir(f.Path)] = true
		report.Written++
	}
	return p.settle(touched)
}

func rank(f File) int {
	switch {
	case f.Path == "index.html":
		return 2
	case f.Entry:
		return 1
	}
	return 0
}

// place writes one file whole: beside its place first, then into it.
func (p writer) place(name string, body []byte) error {
	if err := p.root.MkdirAll(path.Dir(name), 0o755); err != nil {
		return err
	}
	beside := temporary(name)
	if err := p.disk.create(p.root, beside, body); err != nil {
		return err
	}
	return p.disk.rename(p.root, beside, name)
}

// temporary is where a file is written before it takes its place.
func temporary(name string) string {
	return path.Join(path.Dir(name), ".ligule-"+path.Base(name)+".tmp")
}

// settle makes sure that renames have reached the disk.
func (p writer) settle(dirs map[string]bool) error {
	for name := range dirs {
		if err := p.disk.settle(p.root, name); err != nil {
			return err
		}
	}
	clear(dirs)
	return nil
}

func settle(root *os.Root, dir string) error {
	d, err := root.Open(dir)
	if err != nil {
		return err
	}
	err = d.Sync()
	// Some file systems cannot sync a folder and need no such thing.
	if errors.Is(err, errors.ErrUnsupported) || errors.Is(err, fs.ErrInvalid) {
		err = nil
	}
	return errors.Join(err, d.Close())
}

// drop removes a file that is no longer printed, and the folders that this
// leaves empty. What has become a link or a folder is not ours any more.
func (p writer) drop(name string, report *Report) error {
	info, err := p.root.Lstat(name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return err
	case !info.Mode().IsRegular():
		return nil
	}
	if err := p.disk.remove(p.root, name); err != nil {
		return err
	}
	report.Removed++
	for dir := path.Dir(name); dir != "."; dir = path.Dir(dir) {
		// A folder that still holds something refuses, which is as it should be.
		if p.root.Remove(dir) != nil {
			break
		}
	}
	return nil
}

// sweep removes what an interrupted press left beside the places of files.
func (p writer) sweep(paths []string) error {
	for _, name := range paths {
		if err := p.root.Remove(temporary(name)); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return err
		}
	}
	return nil
}
