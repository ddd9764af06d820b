package store

import (
	"encoding/json"
	"os"
	"testing"
)

// Every table and column that an import may tell of has a name for people.
func TestEveryColumnHasAName(t *testing.T) {
	data, err := os.ReadFile("../../ui/say/catalogue/difference.json")
	if err != nil {
		t.Fatal(err)
	}
	names := map[string]map[string]string{}
	if err := json.Unmarshal(data, &names); err != nil {
		t.Fatal(err)
	}
	for _, l := range allLayouts() {
		if code := string(tableName(l.name)); names[code] == nil {
			t.Errorf("%s has no name", code)
		}
		for _, c := range l.columns {
			if code := string(columnName(c)); c != "id" && !follows(c) && names[code] == nil {
				t.Errorf("%s has no name", code)
			}
		}
	}
}
