// Mutants breaks the program on purpose, in one place at a time, and sees
// whether a test notices. A break that every test lets pass is a limit or a gate
// that nothing holds.
//
//	go run ./.ci/mutants                        all of the list
//	go run ./.ci/mutants --packages advice,law  those of some packages
//	go run ./.ci/mutants --changed HEAD~20      those of packages that changed since a commit
//	go run ./.ci/mutants --sample 10            always the same ten
//	go run ./.ci/mutants --only frozen-at-zero  one of them, or some with commas between
//	go run ./.ci/mutants --list                 tries nothing: what is listed, and what is stale
//
// The list is one file a package in .ci/mutants/list. What is selected in
// several ways is tried once; --most keeps it, the sample apart, to a number
// chosen by id. Nothing in the tree is changed: a mutant is laid over its file
// while the tests are built, so that one that is interrupted leaves nothing
// behind.
package main

import (
	"cmp"
	"errors"
	"flag"
	"fmt"
	"hash/fnv"
	"io"
	"os"
	"os/exec"
	"path"
	"runtime"
	"slices"
	"strings"
	"sync"
	"time"

	"golang.org/x/sync/errgroup"

	"ligule/internal/diag"
)

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

// listFolder holds the list, from the root of the checkout.
const listFolder = ".ci/mutants/list"

// options are what was asked for on the command line.
type options struct {
	packages, only     string
	changed            string
	sample, most, jobs int
	limit              time.Duration
	list               bool
}

// run returns the exit code: 0 if every mutant tried was killed, 1 if one
// survived or the list is at fault, 2 for wrong usage.
func run(args []string, stdout, stderr io.Writer) int {
	var o options
	flags := flag.NewFlagSet("mutants", flag.ContinueOnError)
	flags.SetOutput(stderr)
	flags.StringVar(&o.packages, "packages", "", "packages to try, by name, with commas between")
	flags.StringVar(&o.only, "only", "", "mutants to try, by id, with commas between")
	flags.StringVar(&o.changed, "changed", "", "try the packages that changed since this commit, and those whose list did")
	flags.IntVar(&o.sample, "sample", 0, "try so many of the whole list, always the same")
	flags.IntVar(&o.most, "most", 0, "try no more than so many of what is selected, the sample apart; 0 is no limit")
	flags.IntVar(&o.jobs, "jobs", runtime.NumCPU(), "mutants at a time")
	flags.DurationVar(&o.limit, "limit", 5*time.Minute, "time that the tests of a package may take; a mutant that never ends is killed by it")
	flags.BoolVar(&o.list, "list", false, "tell what is listed and what is stale, and try nothing")
	if err := flags.Parse(args); err != nil {
		return 2
	}
	if flags.NArg() > 0 || o.jobs < 1 || o.sample < 0 || o.most < 0 {
		fmt.Fprintln(stderr, "mutants: see --help")
		return 2
	}
	if err := check(o, stdout); err != nil {
		fmt.Fprintln(stderr, "mutants:", err)
		return 1
	}
	return 0
}

func check(o options, out io.Writer) error {
	root, err := output("", "git", "rev-parse", "--show-toplevel")
	if err != nil {
		return err
	}
	root = strings.TrimSpace(root)
	var list diag.List
	all := readList(root, &list)
	if err := list.Err(); err != nil {
		return fmt.Errorf("the list is at fault:\n%w", err)
	}
	if o.list {
		tell(all, out)
		return nil
	}
	chosen, err := choose(root, all, o, out)
	if err != nil {
		return err
	}
	if len(chosen) == 0 {
		fmt.Fprintln(out, "no mutant is selected")
		return nil
	}
	return try(root, chosen, o, out)
}

// tell prints how many mutants each package has.
func tell(all []*mutant, out io.Writer) {
	count := map[string]int{}
	var packages []string
	for _, m := range all {
		if count[m.pkg]++; count[m.pkg] == 1 {
			packages = append(packages, m.pkg)
		}
	}
	for _, p := range packages {
		fmt.Fprintf(out, "%4d  %s\n", count[p], p)
	}
	fmt.Fprintf(out, "%4d  in all, none of them stale\n", len(all))
}

// choose returns what is selected in any of the ways, or all if none was asked
// for, no more than o.most of it; and besides the sample.
func choose(root string, all []*mutant, o options, out io.Writer) ([]*mutant, error) {
	selected, err := selects(root, all, o)
	if err != nil {
		return nil, err
	}
	chosen := slices.DeleteFunc(slices.Clone(all), func(m *mutant) bool { return !selected(m) })
	if o.most > 0 && len(chosen) > o.most {
		fmt.Fprintf(out, "%d of the %d selected are tried\n", o.most, len(chosen))
		chosen = sample(chosen, o.most)
	}
	fixed := sample(all, o.sample)
	return slices.DeleteFunc(slices.Clone(all), func(m *mutant) bool { return !slices.Contains(chosen, m) && !slices.Contains(fixed, m) }), nil
}

// selects returns what tells whether a mutant is selected, the sample apart.
func selects(root string, all []*mutant, o options) (func(*mutant) bool, error) {
	if o.packages == "" && o.only == "" && o.changed == "" {
		return func(*mutant) bool { return o.sample == 0 }, nil
	}
	wanted := func(m *mutant, name string) bool { return m.pkg == name || path.Base(m.pkg) == name }
	packages, ids := words(o.packages), words(o.only)
	for _, w := range packages {
		if !slices.ContainsFunc(all, func(m *mutant) bool { return wanted(m, w) }) {
			return nil, fmt.Errorf("there is no mutant of a package %q", w)
		}
	}
	for _, id := range ids {
		if !slices.ContainsFunc(all, func(m *mutant) bool { return m.id == id }) {
			return nil, fmt.Errorf("there is no mutant %q", id)
		}
	}
	var changed []string
	if o.changed != "" {
		var err error
		if changed, err = changedSince(root, o.changed); err != nil {
			return nil, err
		}
	}
	return func(m *mutant) bool {
		return slices.ContainsFunc(packages, func(name string) bool { return wanted(m, name) }) || slices.Contains(ids, m.id) ||
			slices.Contains(changed, m.pkg) || slices.Contains(changed, m.pos.File)
	}, nil
}

// words are those of an option, between commas.
func words(s string) []string {
	if s == "" {
		return nil
	}
	return strings.Split(s, ",")
}

// changedSince lists the folders in which a Go file differs from a commit, and
// the lists that do, with what is not committed yet.
func changedSince(root, base string) ([]string, error) {
	of := []string{"--", "*.go", listFolder}
	tracked, err := output(root, "git", append([]string{"diff", "--name-only", base}, of...)...)
	if err != nil {
		return nil, err
	}
	untracked, err := output(root, "git", append([]string{"ls-files", "--others", "--exclude-standard"}, of...)...)
	if err != nil {
		return nil, err
	}
	var out []string
	for _, file := range strings.Fields(tracked + untracked) {
		if path.Ext(file) == ".go" {
			file = path.Dir(file)
		}
		out = append(out, file)
	}
	return out, nil
}

// sample returns n mutants, those whose ids have the smallest hashes, in the
// order of the list: the same ones on every machine, spread over all packages.
func sample(all []*mutant, n int) []*mutant {
	hash := func(m *mutant) uint64 {
		h := fnv.New64a()
		h.Write([]byte(m.id))
		return h.Sum64()
	}
	byHash := slices.Clone(all)
	slices.SortFunc(byHash, func(a, b *mutant) int { return cmp.Or(cmp.Compare(hash(a), hash(b)), cmp.Compare(a.id, b.id)) })
	byHash = byHash[:min(n, len(byHash))]
	return slices.DeleteFunc(slices.Clone(all), func(m *mutant) bool { return !slices.Contains(byHash, m) })
}

// try applies each mutant and says how it fared.
func try(root string, chosen []*mutant, o options, out io.Writer) error {
	var packages []string
	for _, m := range chosen {
		packages = append(packages, m.tests()...)
	}
	slices.Sort(packages)
	packages = slices.Compact(packages)
	// A test that fails anyway would kill every mutant.
	args := []string{"test"}
	for _, p := range packages {
		args = append(args, "./"+p)
	}
	if said, err := output(root, "go", args...); err != nil {
		return fmt.Errorf("the tests fail without any mutant:\n%s%w", said, err)
	}
	var mu sync.Mutex
	var survivors, broken int
	start := time.Now()
	var g errgroup.Group
	g.SetLimit(o.jobs)
	for _, m := range chosen {
		g.Go(func() error {
			began := time.Now()
			killer, err := m.try(root, o.limit)
			took := time.Since(began).Round(100 * time.Millisecond)
			mu.Lock()
			defer mu.Unlock()
			switch {
			case err != nil:
				broken++
				fmt.Fprintf(out, "BROKEN    %s: %v\n", m.id, err)
			case killer == "":
				survivors++
				fmt.Fprintf(out, "SURVIVED  %s: %s (%s:%d; %s)\n", m.id, m.breaks, m.pos.File, m.pos.Line, took)
			default:
				fmt.Fprintf(out, "killed    %s by %s (%s)\n", m.id, killer, took)
			}
			return nil
		})
	}
	_ = g.Wait() // no function of it fails
	fmt.Fprintf(out, "%d mutants: %d killed, %d survived, %d cannot be tried; %s\n",
		len(chosen), len(chosen)-survivors-broken, survivors, broken, time.Since(start).Round(time.Second))
	if survivors+broken > 0 {
		return errors.New("write a test that notices, or mend the list")
	}
	return nil
}

// output runs a command in a folder and returns what it printed.
func output(dir, name string, args ...string) (string, error) {
	cmd := exec.Command(name, args...)
	cmd.Dir = dir
	said, err := cmd.Output()
	if exit, ok := errors.AsType[*exec.ExitError](err); ok && len(exit.Stderr) > 0 {
		err = fmt.Errorf("%s: %w: %s", name, err, strings.TrimSpace(string(exit.Stderr)))
	}
	return string(said), err
}
