package demoland_test

import (
	"testing"

	"waterstrike/geo/demoland"
)

func BenchmarkNew(b *testing.B) {
	for i := 0; b.Loop(); i++ {
		demoland.New(uint64(i))
	}
}

func BenchmarkColumn(b *testing.B) {
	l := lands()[0]
	sites := l.UniformSites(1000, 1)
	for i := 0; b.Loop(); i++ {
		l.Column(sites[i%len(sites)])
	}
}

func BenchmarkElevation(b *testing.B) {
	l := lands()[0]
	sites := l.UniformSites(1000, 1)
	for i := 0; b.Loop(); i++ {
		l.Elevation(sites[i%len(sites)])
	}
}

func BenchmarkRecords(b *testing.B) {
	l := lands()[0]
	for b.Loop() {
		l.Records()
	}
}

func BenchmarkTables(b *testing.B) {
	l := lands()[0]
	r := l.Records()
	for b.Loop() {
		l.Tables(r)
	}
}
