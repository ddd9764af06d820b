package intake_test

import (
	"context"
	"os"
	"path/filepath"
	"testing"

	"waterstrike/geo"
	"waterstrike/geo/intake"
	"waterstrike/geo/outside"
)

// shared finds a folder of the open records that stand beside the repository.
func shared(t *testing.T, folder string) string {
	t.Helper()
	return outside.Shared(t, "data", folder)
}

// Real registers come in whole: every row is applied or listed. The counts are those of
// the files themselves (rows by a spreadsheet's count, keys checked for repeats).
func TestReadRegisters(t *testing.T) {
	tests := []struct {
		folder, mapping                        string
		rows, bores, waterPoints, leastApplied int
		musts                                  []geo.Code
	}{
		{
			"ethiopia_sidama", "ethiopia-sidama", 2131, 1993, 138, 2131,
			[]geo.Code{intake.Flowing, intake.OtherCalendar, intake.BadDate, intake.DepthOutOfRange, intake.LevelBelowHole},
		},
		{
			"darling_floodplain", "darling-floodplain", 2175 + 29599 + 3457, 2175, 0, 34000,
			[]geo.Code{intake.LayerOverlap, intake.LayerGap, intake.MissingValue, intake.NoDescription, intake.DuplicateRow, intake.LayerUpsideDown},
		},
		{
			"malawi_drilling", "malawi-drilling", 152 + 203 + 44, 152 + 203 + 44, 0, 399,
			[]geo.Code{intake.Flowing},
		},
		{
			"waterpoints", "waterpoints", 1425 + 11409 + 1793, 0, 14601, 14601,
			[]geo.Code{intake.MissingPosition, intake.KeyFromRow},
		},
		{
			"uganda_luweero", "uganda-luweero", 171, 170, 0, 170,
			[]geo.Code{intake.MissingPosition, intake.DuplicateRow},
		},
		{
			"california_levels", "california-levels", 639 + 45472, 639, 0, 38000,
			[]geo.Code{intake.Flowing, intake.MissingValue, intake.UnclaimedRow},
		},
	}
	for _, tt := range tests {
		t.Run(tt.folder, func(t *testing.T) {
			from := os.DirFS(shared(t, tt.folder))
			m := mapping(t, filepath.Join("..", "..", "testdata", "mappings", tt.mapping+".json"))
			var bag intake.Memory
			got, err := intake.Read(context.Background(), m, from, &bag, nil)
			if err != nil {
				t.Fatal(err)
			}
			t.Logf("%+v", got)
			if got.Rows != tt.rows || got.Rows != got.Applied+got.Rejected || got.Applied < tt.leastApplied {
				t.Errorf("%d rows, %d applied, %d rejected", got.Rows, got.Applied, got.Rejected)
			}
			if len(bag.Bores) != tt.bores || len(bag.WaterPoints) != tt.waterPoints {
				t.Errorf("%d bores, %d water points", len(bag.Bores), len(bag.WaterPoints))
			}
			checkListed(t, bag.Issues, got, tt.musts)
		})
	}
}

// checkListed checks that the rows not applied stand in the issues, each with a reason.
func checkListed(t *testing.T, issues []geo.Issue, got intake.Summary, musts []geo.Code) {
	t.Helper()
	type place struct {
		file string
		row  int
	}
	listed, met := map[place]bool{}, map[geo.Code]bool{}
	for _, i := range issues {
		met[i.Message.Code] = true
		if i.Severity == geo.Rejected {
			listed[place{i.File, i.Row}] = true
		}
	}
	if len(listed) < got.Rejected {
		t.Errorf("%d rows rejected, %d listed", got.Rejected, len(listed))
	}
	for _, code := range musts {
		if !met[code] {
			t.Errorf("no %s in a file known to have some", code)
		}
	}
}

// A few records against what their rows say, read by eye.
func TestReadSidamaRecords(t *testing.T) {
	from := os.DirFS(shared(t, "ethiopia_sidama"))
	m := mapping(t, filepath.Join("..", "..", "testdata", "mappings", "ethiopia-sidama.json"))
	var bag intake.Memory
	if _, err := intake.Read(context.Background(), m, from, &bag, nil); err != nil {
		t.Fatal(err)
	}
	b, ok := bag.Bore("WellSima_1")
	// UTM 37N 442797 777230: the register's own note puts the site near 38.33 E, 6.95 N.
	at, placed := b.Position.Get()
	if !ok || !placed || at.Pos.Lon < 38 || at.Pos.Lon > 39 || at.Pos.Lat < 6.5 || at.Pos.Lat > 7.5 {
		t.Errorf("position %+v", b.Position)
	}
	if b.DepthM.Or(0) != 135 || b.YieldLPS.Or(0) != 4 || len(b.Levels) != 1 || b.Levels[0].DepthM.Or(0) != 80.05 {
		t.Errorf("%+v", b)
	}
	if len(b.Strikes) != 0 || len(b.Pipes) != 3 || b.Pipes[2].BaseM != 133 {
		t.Errorf("a strike at 102120 m or screens misread: %+v %+v", b.Strikes, b.Pipes)
	}
	if b, _ := bag.Bore("WellSima_53"); len(b.Levels) != 1 || b.Levels[0].State != geo.LevelFlowing || b.Levels[0].DepthM.Known() {
		t.Errorf("an artesian bore: %+v", b.Levels)
	}
	byHand := 0
	for _, b := range bag.Bores {
		if b.Method == "hand" {
			byHand++
		}
	}
	if byHand != 46 {
		t.Errorf("%d bores drilled by hand, the register has 46", byHand)
	}
}
