package store_test

import (
	"context"
	"path/filepath"
	"testing"
	"time"

	"waterstrike/geo/store"
)

// Taking an import back beside the import itself: 5,000 bores in 35,000 rows.
func BenchmarkTakeBack(b *testing.B) {
	for b.Loop() {
		dir := b.TempDir()
		d := newRegion(5000).draft(b, filepath.Join(dir, "draft.db"))
		base, err := store.Create(filepath.Join(dir, "ground.gpkg"), store.DefaultOptions())
		must(b, err)
		start := time.Now()
		applied, err := base.Apply(context.Background(), d, me, store.How{})
		must(b, err)
		b.ReportMetric(time.Since(start).Seconds(), "s/apply")
		start = time.Now()
		_, err = base.TakeBack(context.Background(), applied.Batch, me, nil)
		must(b, err)
		b.ReportMetric(time.Since(start).Seconds(), "s/takeback")
		must(b, d.Close())
		must(b, base.Close())
	}
}
