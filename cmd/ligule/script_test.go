package main

import (
	"errors"
	"os/exec"
	"path/filepath"
	"runtime/debug"
	"strconv"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestMain lets the scripts call the program by its name.
func TestMain(m *testing.M) {
	debug.SetGCPercent(heapGrowthPct)
	testscript.Main(m, map[string]func(){"ligule": main})
}

// The commands as an author types them. Each script stands in the small workspace,
// unless it brings files of its own, and knows the demonstration as $DEMO.
func TestScripts(t *testing.T) {
	demonstration, err := filepath.Abs(root)
	require.NoError(t, err)
	testscript.Run(t, testscript.Params{
		Dir:                "testdata/script",
		UpdateScripts:      *update,
		RequireUniqueNames: true,
		Cmds:               map[string]func(*testscript.TestScript, bool, []string){"exits": exits},
		Setup: func(env *testscript.Env) error {
			env.Setenv("DEMO", demonstration)
			return base(env.WorkDir)
		},
	})
}

// exits runs a command that must end with an exit code: exits 2 ligule pres.
func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits CODE COMMAND [ARGUMENTS]")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	if err := ts.Exec(args[1], args[2:]...); err != nil {
		status, ended := errors.AsType[*exec.ExitError](err)
		if !ended {
			ts.Fatalf("%v", err)
		}
		got = status.ExitCode()
	}
	if got != want {
		ts.Fatalf("exit code %d, not %d", got, want)
	}
}

func TestEveryCommandHasHelp(t *testing.T) {
	for _, c := range commands() {
		code, stdout, _ := ligule(t, t.TempDir(), c.name, "--help")
		assert.Equal(t, exitOK, code)
		assert.Contains(t, stdout, "usage: ligule "+c.name)
	}
}
