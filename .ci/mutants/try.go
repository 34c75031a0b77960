package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"time"
)

// try builds and runs the tests with the mutant in place, and returns which
// test killed it; "" if it survived. An error means that it could not be tried.
func (m *mutant) try(root string, limit time.Duration) (killer string, err error) {
	dir, err := os.MkdirTemp("", "mutant-")
	if err != nil {
		return "", err
	}
	defer os.RemoveAll(dir)
	overlay, err := m.overlay(root, dir)
	if err != nil {
		return "", err
	}
	for _, pkg := range m.tests() {
		binary := filepath.Join(dir, "test")
		build := exec.Command("go", "test", "-c", "-vet=off", "-ldflags=-s -w", "-overlay", overlay, "-o", binary, "./"+pkg)
		build.Dir = root
		if said, err := build.CombinedOutput(); err != nil {
			return "", fmt.Errorf("%s does not build with it: %s", pkg, said)
		}
		rounds := [][]string{{}}
		if m.first != "" && pkg == m.pkg {
			rounds = [][]string{{"-test.run", m.first}, {"-test.skip", m.first}}
		}
		for _, args := range rounds {
			if killer, err := fails(binary, filepath.Join(root, pkg), args, limit); killer != "" || err != nil {
				return killer, err
			}
		}
	}
	return "", nil
}

// overlay writes the broken file and what lays it over the true one.
func (m *mutant) overlay(root, dir string) (string, error) {
	broken := bytes.Join([][]byte{m.text[:m.offset], []byte(m.changed), m.text[m.offset+len(m.old):]}, nil)
	file := filepath.Join(dir, filepath.Base(m.file))
	if err := os.WriteFile(file, broken, 0o644); err != nil {
		return "", err
	}
	text, err := json.Marshal(map[string]map[string]string{"Replace": {filepath.Join(root, m.file): file}})
	if err != nil {
		return "", err
	}
	name := filepath.Join(dir, "overlay.json")
	return name, os.WriteFile(name, text, 0o644)
}

var failed = regexp.MustCompile(`(?m)^--- FAIL: (\S+)`)

// fails runs the tests of a package and returns the first that fails, or what
// else ended them.
func fails(binary, dir string, args []string, limit time.Duration) (string, error) {
	cmd := exec.Command(binary, append(args, "-test.failfast", "-test.timeout", limit.String())...)
	cmd.Dir = dir
	// The same inputs each time; and what a property test learns from a mutant
	// must neither be kept in the tree nor be worked down to its simplest form.
	cmd.Env = append(os.Environ(), "RAPID_SEED=1", "RAPID_NOFAILFILE=true", "RAPID_SHRINKTIME=0s")
	said, err := cmd.CombinedOutput()
	if err == nil {
		return "", nil
	}
	if _, ended := errors.AsType[*exec.ExitError](err); !ended {
		return "", err
	}
	if name := failed.FindSubmatch(said); name != nil {
		return string(name[1]), nil
	}
	first, _, _ := strings.Cut(strings.TrimSpace(string(said)), "\n")
	return first, nil
}
