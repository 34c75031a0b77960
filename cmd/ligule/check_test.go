package main

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// Windows that drift from print are told in one line, and one by one on demand.
func TestCheckTellsDriftOnDemand(t *testing.T) {
	code, _, stderr := ligule(t, "../..", "check", "--today", "2026-11-25")
	assert.Equal(t, exitOK, code)
	assert.Equal(t, 1, strings.Count(stderr, "data/calendar"), stderr)
	assert.Contains(t, stderr, "data/calendar: warning: ")
	code, _, each := ligule(t, "../..", "check", "--calendars", "--today", "2026-11-25")
	assert.Equal(t, exitOK, code)
	assert.Greater(t, strings.Count(each, "data/calendar/"), 5)
	assert.NotContains(t, each, "check --calendars")
	assert.Regexp(t, `data/calendar/[a-z-]+\.toml:\d+: window\[\d+\]: warning: `, each)
	assert.Regexp(t, `data/calendar/[a-z-]+\.toml:\d+: window\[\d+\]\.in\[\d+\]: warning: `, each, "at the block that prints it")
}
