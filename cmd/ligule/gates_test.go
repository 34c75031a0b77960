package main

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/tools/txtar"

	"ligule/internal/lawtest"
)

// Every gate from the files of a workspace to the sentence that is printed: once
// passing and once holding, and each question of the fungicide gate. A case is a
// patch over the demonstration.
func TestGatesEndToEnd(t *testing.T) {
	t.Parallel()
	dir := unlogged(t) // a case brings its own
	rules, cases := lawtest.ReadMistakes(t, "testdata/gates.txtar")
	for _, f := range rules {
		write(t, dir, f.Name, string(f.Data))
	}
	var files []txtar.File
	for name, text := range tree(t, dir) {
		files = append(files, txtar.File{Name: name, Data: []byte(text)})
	}
	named := regexp.MustCompile(`^((\w+) (holds|closes|passes).*): (\S+) (\S+) (\S+) (\S+)$`)
	tried := map[string]bool{}
	for _, c := range cases {
		m := named.FindStringSubmatch(c.Name)
		require.NotNil(t, m, c.Name)
		of := m[2] + " " + strings.Replace(m[3], "closes", "holds", 1)
		if tried[of] && os.Getenv("EVERY_CASE") == "" {
			continue // the first of each for every change, all of them in the full run
		}
		tried[of] = true
		t.Run(m[1], func(t *testing.T) {
			patched := c.Apply(t, files)
			for i, f := range patched {
				switch {
				case i >= len(files):
					write(t, dir, f.Name, string(f.Data))
					defer func() { require.NoError(t, os.Remove(filepath.Join(dir, f.Name))) }()
				case !bytes.Equal(f.Data, files[i].Data):
					write(t, dir, f.Name, string(f.Data))
					defer write(t, dir, f.Name, string(files[i].Data))
				}
			}
			code, stdout, stderr := ligule(t, dir, "explain", m[4], m[5], m[6], "--week", m[7])
			require.Equal(t, exitOK, code, stderr)
			at := strings.Index(stdout, "\n"+strings.ToUpper(m[6])+": ")
			require.GreaterOrEqual(t, at, 0, stdout)
			answer, _, _ := strings.Cut(stdout[at+1:], "\n\n")
			// What was reported of a lawn is answered for that lawn.
			if at := strings.Index(answer, "\n  At "); at >= 0 {
				answer = answer[at:]
			}
			for _, says := range c.Told {
				assert.Contains(t, answer, says)
			}
			assert.Equal(t, m[3] == "passes", !strings.Contains(answer, "\n  gate: "), answer)
		})
	}
	gates := 0
	for _, id := range loadWorkspace(t, root).Phrases.IDs() {
		g := gateName.FindStringSubmatch(id)
		if g == nil {
			continue
		}
		gates++
		assert.True(t, tried[g[1]+" holds"], "nothing shows that %s holds", g[1])
		assert.True(t, tried[g[1]+" passes"], "nothing shows that %s passes", g[1])
	}
	assert.Len(t, tried, 2*gates)
}

var gateName = regexp.MustCompile(`^gate\.(\w+)\.name$`)
