package workspace

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
)

// ReplaceFile writes a file whole or not at all: write's output goes to a
// temporary file beside it, which is flushed to the disk and then renamed. If
// anything fails, the file of before stands untouched and the temporary one is
// removed.
func ReplaceFile(path string, write func(io.Writer) error) (err error) {
	dir := filepath.Dir(path)
	f, err := os.CreateTemp(dir, filepath.Base(path)+".*.tmp")
	if err != nil {
		return fmt.Errorf("writing %s: %w", path, err)
	}
	defer func() {
		if err != nil {
			err = errors.Join(fmt.Errorf("writing %s: %w", path, err), ignoreMissing(os.Remove(f.Name())))
		}
	}()
	if err = errors.Join(write(f), f.Chmod(modeOf(path)), f.Sync(), f.Close()); err != nil {
		return err
	}
	if err = os.Rename(f.Name(), path); err != nil {
		return err
	}
	// The name itself is on the disk only once the folder is. Some systems
	// cannot flush a folder; the file is whole there all the same.
	if d, openErr := os.Open(dir); openErr == nil {
		_ = d.Sync()
		_ = d.Close()
	}
	return nil
}

// modeOf returns the permissions of the file to be replaced, or the usual ones.
func modeOf(path string) os.FileMode {
	if info, err := os.Stat(path); err == nil {
		return info.Mode().Perm()
	}
	return 0o644
}

func ignoreMissing(err error) error {
	if errors.Is(err, os.ErrNotExist) {
		return nil
	}
	return err
}
