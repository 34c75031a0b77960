package weather

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/require"

	"ligule/internal/civil"
	"ligule/internal/diag"
)

// years returns the daily CSV of Norfolk from 1 January of first to the end of
// last.
func years(b *testing.B, first, last int) []byte {
	_, records := norfolk(b)
	from, to := civil.MustDate(first, 1, 1), civil.MustDate(last, 12, 31)
	s := NewSeries(from, int(to-from)+1)
	for c := range Columns {
		for d := from; d <= to; d++ {
			s.Set(c, d, records.At(c, d))
		}
	}
	var text bytes.Buffer
	require.NoError(b, WriteDaily(&text, s))
	return text.Bytes()
}

func benchmarkRead(b *testing.B, first, last int) {
	text := years(b, first, last)
	b.SetBytes(int64(len(text)))
	b.ReportAllocs()
	for b.Loop() {
		var list diag.List
		if s := ReadDaily("daily.csv", text, &list); s.Len() < 3650 || list.Err() != nil {
			b.Fatal("not read")
		}
	}
}

func BenchmarkReadDaily10Years(b *testing.B) { benchmarkRead(b, 2001, 2010) }
func BenchmarkReadDaily30Years(b *testing.B) { benchmarkRead(b, 1981, 2010) }

func BenchmarkWriteDaily10Years(b *testing.B) {
	text := years(b, 2001, 2010)
	var list diag.List
	s := ReadDaily("daily.csv", text, &list)
	require.NoError(b, list.Err())
	b.SetBytes(int64(len(text)))
	b.ReportAllocs()
	var out bytes.Buffer
	for b.Loop() {
		out.Reset()
		if err := WriteDaily(&out, s); err != nil {
			b.Fatal(err)
		}
	}
}

func tenYears(b *testing.B) (Station, *Series) {
	st, _ := norfolk(b)
	var list diag.List
	s := ReadDaily("daily.csv", years(b, 2001, 2010), &list)
	require.NoError(b, list.Err())
	return st, s
}

func BenchmarkAsOf10Years(b *testing.B) {
	st, s := tenYears(b)
	st.Obs = []ObsPeriod{{Time: Morning}}
	b.ReportAllocs()
	for b.Loop() {
		AsOf(st, s, nil, s.End()+1)
	}
}

func BenchmarkAsOfAndFelt10Years(b *testing.B) {
	st, s := tenYears(b)
	b.ReportAllocs()
	for b.Loop() {
		AsOf(st, s, nil, s.End()+1).Felt()
	}
}

func BenchmarkMerge10Years(b *testing.B) {
	_, s := tenYears(b)
	later := NewSeries(s.End()-2, 5)
	for d := later.Start; d <= later.End(); d++ {
		later.Set(TmaxC, d, 10)
	}
	b.ReportAllocs()
	for b.Loop() {
		Merge(s, later, false)
	}
}

func BenchmarkImportFixedWidth(b *testing.B) {
	data := file(b, "USW00013970_2016-08.dly")
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Import("a.dly", data, ImportOptions{}); err != nil {
			b.Fatal(err)
		}
	}
}
