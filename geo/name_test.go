package geo_test

import (
	"testing"

	"waterstrike/geo"
)

// Pairs that people of three languages take for one name.
func TestFoldName(t *testing.T) {
	for _, c := range [][2]string{
		{"Anse Étoile", "  anse   etoile "},
		{"SÃO JOÃO", "Sao Joao"},
		{"Straße", "STRASSE"},
		{"n\u0303", "ñ"},
		{"", " "},
		{"  Upper \t FORD ", "Úpper\u00a0ford"}, // ASCII alone is folded a shorter way
	} {
		if a, b := geo.FoldName(c[0]), geo.FoldName(c[1]); a != b {
			t.Errorf("%q and %q fold to %q and %q", c[0], c[1], a, b)
		}
	}
	if geo.FoldName("Nova Vila") == geo.FoldName("Novavila") {
		t.Error("two words are one")
	}
}
