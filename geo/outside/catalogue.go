package outside

import (
	"encoding/json"
	"os"
	"path/filepath"
	"testing"
)

// Catalogue reads the texts of the interface by code and language. They stand in a room
// that tests of the rooms above may not import.
func Catalogue(t testing.TB) map[string]map[string]string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(checkout(t), "ui", "say", "catalogue", "*.json"))
	if err != nil || len(files) == 0 {
		t.Fatal("no catalogue", err)
	}
	out := map[string]map[string]string{}
	for _, file := range files {
		if filepath.Base(file) == "arguments.json" {
			continue
		}
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if err := json.Unmarshal(data, &out); err != nil {
			t.Fatal(file, err)
		}
	}
	return out
}
