package workspace

import (
	"errors"
	"os"
	"path/filepath"
)

// WriteWhole writes a file so that at any moment either the old or the new one
// is there, whole: into a temporary file beside it, synced, then renamed.
func WriteWhole(name string, data []byte) (err error) {
	f, err := os.CreateTemp(filepath.Dir(name), "."+filepath.Base(name)+"-*.tmp")
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			err = errors.Join(err, f.Close(), os.Remove(f.Name()))
		}
	}()
	if _, err = f.Write(data); err != nil {
		return err
	}
	if err = f.Chmod(0o644); err != nil {
		return err
	}
	if err = f.Sync(); err != nil {
		return err
	}
	if err = f.Close(); err != nil {
		return err
	}
	return os.Rename(f.Name(), name)
}
