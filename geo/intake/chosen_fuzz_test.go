package intake_test

import (
	"bytes"
	"context"
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"waterstrike/geo"
	"waterstrike/geo/intake"
)

// FuzzChosen lets anybody choose anything: what comes of it is a mapping that loads and
// reads its file, or is refused as wrong; a column is never given a meaning that its kind of
// record does not have.
func FuzzChosen(f *testing.F) {
	f.Add(unnamed, "bores", "code lon lat depth level completed outcome", "m ft cell dmy", "producing", "WGS 84 / UTM zone 31N", ",")
	f.Add("a;b\n1;2\n", "layers", "code top base words", "m", "", "", ".")
	f.Add("village,people\nA,1\n", "", "place nothing place", "m3/h", "no", "x", "")
	f.Add(unnamed, "bores", "code lon lat depth", "m", "", "", "0") // no decimal mark
	f.Fuzz(func(t *testing.T, rows, kind, means, written, code, grid, decimal string) {
		if len(rows) > 1<<12 || len(means) > 200 {
			return
		}
		table := intake.ChosenTable{Kind: kind, Grid: grid, Datum: grid, Decimal: decimal}
		ways := append(strings.Fields(written), "")
		for i, m := range strings.Fields(means) {
			table.Columns = append(table.Columns, intake.ChosenColumn{
				Means: m, Written: ways[i%len(ways)], Values: map[string]string{"fine": code}, NoZeros: i%2 == 0, Years: i%2 == 1,
			})
		}
		source := files("a.csv", rows)
		m, report, err := intake.ProposeWith(context.Background(), source, []string{"a.csv"}, intake.Chosen{"a.csv": table})
		if err != nil && geo.KindOf(err) != geo.Invalid {
			t.Fatalf("failed with %v", err)
		}
		for _, file := range report.Files {
			for _, c := range file.Columns {
				if file.Kind != "" && c.Field != "" && !slices.Contains(intake.Meanings(file.Kind), c.Field) {
					t.Fatalf("%q is taken for %q of %q", c.Column, c.Field, file.Kind)
				}
			}
		}
		data, err := json.Marshal(m)
		if err != nil {
			t.Fatal(err)
		}
		if m, err = intake.LoadMapping(bytes.NewReader(data)); err != nil {
			return // told to the person as it is
		}
		var bag intake.Memory
		if _, err := intake.Read(context.Background(), m, source, &bag, nil); err != nil && geo.KindOf(err) != geo.Invalid {
			t.Fatalf("read with %v", err)
		}
	})
}
