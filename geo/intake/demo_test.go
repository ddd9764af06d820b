package intake_test

import (
	"context"
	"path/filepath"
	"slices"
	"testing"
	"testing/fstest"

	"waterstrike/geo"
	"waterstrike/geo/demoland"
	"waterstrike/geo/intake"
	"waterstrike/geo/soil"
)

// The demo region's own tables, as its offices would hand them over, come in through
// the mapping files that ship with it: every row applied or listed, and the defects that
// were put in on purpose are found.
func TestReadDemoTables(t *testing.T) {
	land := demoland.New(1)
	mess := land.Tables(land.Records())
	fsys := fstest.MapFS{}
	for _, f := range mess.Files {
		fsys[f.Name] = &fstest.MapFile{Data: f.Data}
	}
	for _, name := range []string{"northwest", "est", "sudoeste", "places"} {
		t.Run(name, func(t *testing.T) {
			m := mapping(t, filepath.Join("..", "demoland", "mappings", name+".json"))
			var bag intake.Memory
			got, err := intake.Read(context.Background(), m, fsys, &bag, nil)
			if err != nil {
				t.Fatal(err)
			}
			t.Logf("%+v", got)
			if got.Rows == 0 || got.Rows != got.Applied+got.Rejected || got.Applied*10 < got.Rows*9 {
				t.Errorf("%d rows, %d applied, %d rejected", got.Rows, got.Applied, got.Rejected)
			}
			checkListed(t, bag.Issues, got, nil)
			checkPlanted(t, mess, m, bag.Issues)
			checkWords(t, bag.Bores)
		})
	}
}

// shownBy says which issues show each kind of planted defect; a kind that is not here
// leaves nothing to see in the row itself, or is read as the mapping says.
var shownBy = map[string][]geo.Code{
	demoland.ZoneMissing:   {intake.BadPosition},
	demoland.BottomMissing: {intake.MissingValue},
	demoland.Duplicate:     {intake.DuplicateRow},
	demoland.Swapped:       {intake.OutsideBoundary, intake.BadPosition},
}

func checkPlanted(t *testing.T, mess demoland.Mess, m intake.Mapping, issues []geo.Issue) {
	t.Helper()
	for _, d := range mess.Defects {
		codes, shown := shownBy[d.Kind]
		ours := slices.ContainsFunc(m.Tables, func(t intake.Table) bool { return t.File == d.File })
		if !shown || !ours {
			continue
		}
		found := slices.ContainsFunc(issues, func(i geo.Issue) bool {
			return i.File == d.File && i.Row == d.Row && slices.Contains(codes, i.Message.Code)
		})
		if !found {
			t.Errorf("%s, row %d: %s was not reported as %v", d.File, d.Row, d.Kind, codes)
		}
	}
}

// checkWords checks that the words of the region's crews are read, misspelt ones mostly.
func checkWords(t *testing.T, bores []geo.Bore) {
	t.Helper()
	layers, unread := 0, 0
	for _, b := range bores {
		for _, l := range b.Layers {
			layers++
			if l.Class == soil.Unknown {
				unread++
				t.Logf("not read: %q", l.Words)
			}
		}
	}
	if unread*50 > layers { // of one word in twenty misspelt, most are read
		t.Errorf("%d of %d descriptions were not read", unread, layers)
	}
}
