package store

import (
	"path/filepath"
	"strings"
	"testing"
)

// Looking by the act made taking back an import take time by the square of its records.
func TestUndoLooksByTheRecord(t *testing.T) {
	b, err := Create(filepath.Join(t.TempDir(), "ground.gpkg"), DefaultOptions())
	if err != nil {
		t.Fatal(err)
	}
	defer b.Close()
	for query, args := range map[string][]any{entrySQL: {"record", 1, "at"}, cancelSQL: {"record", 1}} {
		var id, parent, unused int
		var plan string
		if err := b.writer.QueryRow("EXPLAIN QUERY PLAN "+query, args...).Scan(&id, &parent, &unused, &plan); err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(plan, "change_record") {
			t.Errorf("%s\nis planned as %s", query, plan)
		}
	}
}
