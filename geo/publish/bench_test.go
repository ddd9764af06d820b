package publish_test

import (
	"context"
	"io"
	"testing"

	"waterstrike/geo"
	"waterstrike/geo/publish"
)

// BenchmarkXLSX is 20,000 bores as a workbook; the baseline is the same as CSV.
func BenchmarkXLSX(b *testing.B) {
	var g ground
	few := invented().bores
	for i := range 20_000 {
		x := few[i%len(few)]
		x.ID = geo.BoreID(id(i))
		g.bores = append(g.bores, x)
	}
	b.Run("xlsx", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if err := publish.XLSX(context.Background(), io.Discard, g, asCode); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("csv", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			for _, f := range publish.CSVFiles() {
				if err := f.Write(context.Background(), io.Discard, g); err != nil {
					b.Fatal(err)
				}
			}
		}
	})
}
