package bulletin

import (
	"os"
	"runtime/debug"
	"testing"
)

// TestMain lets the memory grow between collections as the program does.
func TestMain(m *testing.M) {
	debug.SetGCPercent(300)
	os.Exit(m.Run())
}
