package soil_test

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"testing"

	"waterstrike/geo/outside"
	"waterstrike/geo/soil"
)

// register opens a file of the open records that stand beside the repository.
func register(t *testing.T, name string) [][]string {
	t.Helper()
	file, err := os.Open(outside.Shared(t, "data", filepath.FromSlash(name)))
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows[1:]
}

// A real register of 29,599 drillers' descriptions must be classed almost whole. Rows of
// no material ("water supply", blank, "no strata details") do not count as described.
// Of 300 distinct descriptions drawn by their rows, not seen while the words were chosen,
// 297 were judged right by eye.
func TestReadARegister(t *testing.T) {
	const words, wantShare = 6, 0.98
	r := soil.DefaultReader()
	described, classed := 0, 0
	for _, row := range register(t, "darling_floodplain/layers.csv") {
		got := r.Read(row[words])
		if got.Class != soil.Unknown {
			classed++
		}
		if got.Class != soil.Unknown || len(got.Unread) > 0 {
			described++
		}
	}
	share := float64(classed) / float64(described)
	t.Logf("%d of %d described rows classed (%.2f %%)", classed, described, 100*share)
	if share < wantShare || described < 29000 {
		t.Errorf("classed share %.3f of %d rows, want %.2f", share, described, wantShare)
	}
}
