package replay

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// A year of one zone with three grasses, the last of eleven on record.
func BenchmarkYearOfAZone(b *testing.B) {
	ws := demonstration(b)
	q := ask(b, ws, "gannet-shore", 2025, 2025)
	b.ReportAllocs()
	for b.Loop() {
		_, err := Run(ws, q, nil)
		require.NoError(b, err)
	}
}

// Ten years of all six zones of the demonstration.
func BenchmarkTenYearsOfSixZones(b *testing.B) {
	ws := demonstration(b)
	q := Question{First: 2016, Last: 2025, Zones: ws.Zones}
	b.ReportAllocs()
	for b.Loop() {
		_, err := Run(ws, q, nil)
		require.NoError(b, err)
	}
}
