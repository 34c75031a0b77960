// Command ligule prints a regional lawn-care advisory: from weather, grass
// figures, rules and local law to a static site, feeds and a newsletter.
package main

import (
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"runtime/debug"
	"time"
)

// Exit codes: all is well; the author has something to mend; called wrongly.
const (
	exitOK     = 0
	exitAuthor = 1
	exitUsage  = 2
)

// world is what a command may know of the world outside its workspace.
type world struct {
	stdout, stderr io.Writer
	now            func() time.Time // read by check alone
}

// command is one of ligule's commands.
type command struct {
	name    string
	summary string
	run     func(w world, args []string) error
}

func commands() []command {
	return []command{
		{"press", "print the site into public/", press},
		{"check", "say everything that is wrong or stale", check},
		{"import", "add weather from a file to a station's record", importWeather},
		{"explain", "show the working behind a zone's and grass's answers", explain},
		{"replay", "run past years again, each week as of its date", replayYears},
		{"indicators", "list what rules may ask about", listIndicators},
	}
}

// heapGrowthPct is by how much the memory may grow between two collections. A
// command runs for seconds and keeps most of what it makes.
const heapGrowthPct = 300

func main() {
	debug.SetGCPercent(heapGrowthPct)
	os.Exit(run(world{os.Stdout, os.Stderr, time.Now}, os.Args[1:]))
}

func run(w world, args []string) int {
	if len(args) == 0 {
		usage(w.stderr)
		return exitUsage
	}
	switch args[0] {
	case "help", "-h", "-help", "--help":
		usage(w.stdout)
		return exitOK
	}
	for _, c := range commands() {
		if c.name == args[0] {
			return exitCode(w, c.name, c.run(w, args[1:]))
		}
	}
	fmt.Fprintf(w.stderr, "ligule: there is no command %q\n", args[0])
	usage(w.stderr)
	return exitUsage
}

func usage(out io.Writer) {
	fmt.Fprint(out, "usage: ligule COMMAND [options]\n\n")
	for _, c := range commands() {
		fmt.Fprintf(out, "  %-11s %s\n", c.name, c.summary)
	}
	fmt.Fprint(out, "\nEach command takes --help, and --in DIR for a workspace elsewhere.\n")
}

// wrongUse is an error in how a command was called.
type wrongUse struct{ text string }

func (e wrongUse) Error() string { return e.text }

func misuse(format string, args ...any) error { return wrongUse{fmt.Sprintf(format, args...)} }

// said is an error whose text the author has already been shown.
var errSaid = errors.New("already said")

func exitCode(w world, name string, err error) int {
	wrong, isWrong := errors.AsType[wrongUse](err)
	switch {
	case err == nil || errors.Is(err, flag.ErrHelp):
		return exitOK
	case errors.Is(err, errSaid):
		return exitAuthor
	case isWrong:
		fmt.Fprintf(w.stderr, "ligule %s: %s\nSee ligule %s --help.\n", name, wrong.text, name)
		return exitUsage
	}
	fmt.Fprintf(w.stderr, "ligule %s: %v\n", name, err)
	return exitAuthor
}

// flags makes a command's flag set. help stands above the list of options.
func flags(w world, name, help string) (*flag.FlagSet, *string) {
	fs := flag.NewFlagSet(name, flag.ContinueOnError)
	fs.SetOutput(io.Discard)
	fs.Usage = func() {
		fmt.Fprintf(w.stdout, "usage: ligule %s\n\nOptions:\n", help)
		fs.SetOutput(w.stdout)
		fs.PrintDefaults()
		fs.SetOutput(io.Discard)
	}
	return fs, fs.String("in", ".", "the workspace `folder`")
}

// parse reads the options, wherever they stand among the arguments, and
// returns the other arguments.
func parse(fs *flag.FlagSet, args []string) ([]string, error) {
	var rest []string
	for {
		if err := fs.Parse(args); err != nil {
			if errors.Is(err, flag.ErrHelp) {
				return nil, err
			}
			return nil, misuse("%v", err)
		}
		args = fs.Args()
		if len(args) == 0 {
			return rest, nil
		}
		rest = append(rest, args[0])
		args = args[1:]
	}
}

// parseAlone reads the options of a command that takes nothing else.
func parseAlone(fs *flag.FlagSet, args []string) error {
	rest, err := parse(fs, args)
	if err == nil && len(rest) > 0 {
		return misuse("unexpected argument %q", rest[0])
	}
	return err
}

func printJSON(out io.Writer, x any) error {
	enc := json.NewEncoder(out)
	enc.SetIndent("", "  ")
	return enc.Encode(x)
}
