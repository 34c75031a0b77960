// Package diag holds an author's mistakes: where in which file each is, what
// was found and what would do. It collects all mistakes of a run, so that the
// author mends them in one go. It also reads TOML strictly, key by key, so that
// no key is ignored and every mistake has a line. It does not know what the
// files mean.
package diag

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"sync"
)

// Pos is a place in a file. Line and Col count from 1; 0 means unknown.
type Pos struct {
	File string // relative to the workspace, with forward slashes
	Line int
	Col  int
	Key  string // the author's own key, such as rule[2].when.growth_state; may be empty
}

// Severity tells a mistake that stops the work from one that does not.
type Severity uint8

// An Error must be mended before anything is printed; a Warning need not.
const (
	Error Severity = iota
	Warning
)

// Problem is one mistake: what was found, and what would do.
type Problem struct {
	Pos
	Severity Severity
	What     string // lower case, no full stop
	Remedy   string // what would do; may be empty
}

// String returns "file:line: key: what; remedy".
func (p Problem) String() string {
	var b strings.Builder
	b.WriteString(p.File)
	if p.Line > 0 {
		fmt.Fprintf(&b, ":%d", p.Line)
	}
	b.WriteString(": ")
	if p.Key != "" {
		b.WriteString(p.Key + ": ")
	}
	if p.Severity == Warning {
		b.WriteString("warning: ")
	}
	b.WriteString(p.What)
	if p.Remedy != "" {
		b.WriteString("; " + p.Remedy)
	}
	return b.String()
}

// List collects the problems of a run. The zero value is ready; it may be
// used from several goroutines, since All sorts.
type List struct {
	mu       sync.Mutex
	problems []Problem
}

// Add records a problem.
func (l *List) Add(p Problem) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.problems = append(l.problems, p)
}

// Errorf records an error at a place. The remedy may be empty.
func (l *List) Errorf(pos Pos, remedy, what string, args ...any) {
	l.Add(Problem{Pos: pos, What: fmt.Sprintf(what, args...), Remedy: remedy})
}

// Warnf records a warning at a place. The remedy may be empty.
func (l *List) Warnf(pos Pos, remedy, what string, args ...any) {
	l.Add(Problem{Pos: pos, Severity: Warning, What: fmt.Sprintf(what, args...), Remedy: remedy})
}

// All returns the problems, each once, sorted by file, line, column and text.
func (l *List) All() []Problem {
	l.mu.Lock()
	defer l.mu.Unlock()
	all := slices.Clone(l.problems)
	slices.SortFunc(all, func(a, b Problem) int {
		return cmp.Or(cmp.Compare(a.File, b.File), cmp.Compare(a.Line, b.Line),
			cmp.Compare(a.Col, b.Col), cmp.Compare(a.Key, b.Key), cmp.Compare(a.What, b.What))
	})
	return slices.Compact(all)
}

// Errors counts the problems that are not warnings.
func (l *List) Errors() int {
	return len(slices.DeleteFunc(l.All(), func(p Problem) bool { return p.Severity != Error }))
}

// Err returns the list as an error if it holds any error, else nil.
func (l *List) Err() error {
	if l.Errors() == 0 {
		return nil
	}
	return l
}

// Error returns all problems, one a line.
func (l *List) Error() string {
	var lines []string
	for _, p := range l.All() {
		lines = append(lines, p.String())
	}
	return strings.Join(lines, "\n")
}
