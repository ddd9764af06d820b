package store_test

import (
	"bytes"
	"context"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"

	"waterstrike/geo"
	"waterstrike/geo/outside"
	"waterstrike/geo/store/storetest"
)

// gis runs a program of GDAL, an outside reader of GeoPackage, and returns what it says.
func gis(t *testing.T, program string, args ...string) string {
	t.Helper()
	var out, complaints bytes.Buffer
	cmd := exec.Command(outside.Program(t, program, "gdal-bin"), args...)
	cmd.Stdout, cmd.Stderr = &out, &complaints
	if err := cmd.Run(); err != nil || complaints.Len() > 0 {
		t.Fatalf("%s %v: %v\n%s", program, args, err, complaints.String())
	}
	return out.String()
}

func TestGISListsTheLayersAndNothingElse(t *testing.T) {
	b := filled(t)
	out := gis(t, "ogrinfo", "-ro", b.Path())
	var got []string
	for _, line := range strings.Split(out, "\n") {
		if _, layer, ok := strings.Cut(line, ": "); ok && line[0] >= '1' && line[0] <= '9' {
			got = append(got, layer)
		}
	}
	want := "bore (Point) village (Point) water_point (Point) boundary (Multi Polygon) river (Line String) siting (Point) " +
		"layer (None) strike (None) level (None) pipe (None) fill (None) test (None) test_reading (None) sample (None) visit (None) nearby (None)"
	if strings.Join(got, " ") != want {
		t.Errorf("a GIS lists %v", got)
	}
}

func TestGISReadsWhileWeWrite(t *testing.T) {
	b := filled(t)
	ctx, stop := context.WithCancel(context.Background())
	done := make(chan error)
	go func() {
		for i := 100; ctx.Err() == nil; i++ {
			if err := b.SaveBore(context.Background(), storetest.FullBore(i), me); err != nil {
				done <- err
				return
			}
		}
		done <- nil
	}()
	for _, layer := range []string{"bore", "village", "water_point", "boundary", "river", "layer", "level", "test_reading", "visit"} {
		out := gis(t, "ogrinfo", "-ro", "-al", "-so", b.Path(), layer)
		if !strings.Contains(out, "Feature Count: ") || strings.Contains(out, "Feature Count: 0") {
			t.Errorf("%s: %s", layer, out)
		}
	}
	out := gis(t, "ogrinfo", "-ro", b.Path(), "bore", "-where", "code = 'GW-001'")
	if !strings.Contains(out, "POINT (0.11 -0.2)") || !strings.Contains(out, "depth_m (Real) = 17.25") || !strings.Contains(out, "completed (String) = 2011-03-09") {
		t.Errorf("a GIS reads the bore as %s", out)
	}
	stop()
	must(t, <-done)
}

// What another program does has a history and can be undone, though nobody knows who.
func TestGISEditsHaveHistory(t *testing.T) {
	b := filled(t)
	ctx := context.Background()
	before := storetest.FullBore(1)
	id := string(before.ID)
	gis(t, "ogrinfo", b.Path(), "-sql", "UPDATE bore SET remarks = 'seen in a GIS' WHERE code = 'GW-001'")
	gis(t, "ogrinfo", b.Path(), "-sql", "DELETE FROM layer WHERE top_m = 0.7")
	after := bore(t, b, before.ID)
	if after.Remarks != "seen in a GIS" || len(after.Layers) != 2 {
		t.Fatalf("the edits did not arrive: %+v", after)
	}
	gis(t, "ogrinfo", b.Path(), "-sql", "DELETE FROM bore WHERE code = 'GW-001'")
	entries, err := b.History(ctx, id)
	must(t, err)
	if len(entries) != 4 || entries[0].Outside || !entries[1].Outside || !entries[3].Outside || entries[1].Who != "" {
		t.Fatalf("history %+v", entries)
	}
	must(t, b.Restore(ctx, id, me))
	same(t, bore(t, b, before.ID), after)
	must(t, b.Undo(ctx, entries[2].Seq, me))
	must(t, b.Undo(ctx, entries[1].Seq, me))
	same(t, bore(t, b, before.ID), before)
}

func TestGISAddsAndMovesFeatures(t *testing.T) {
	b := filled(t)
	ctx := context.Background()
	source := t.TempDir() + "/new.csv"
	must(t, os.WriteFile(source, []byte("WKT,name\n\"POINT (0.5 0.25)\",drawn by hand\n"), 0o600))
	gis(t, "ogr2ogr", "-append", b.Path(), source, "-oo", "GEOM_POSSIBLE_NAMES=WKT", "-oo", "KEEP_GEOM_COLUMNS=NO", "-a_srs", "EPSG:4326", "-nln", "bore")
	var drawn geo.Bore
	must(t, b.Bores(ctx, func(v geo.Bore) error {
		if v.Name == "drawn by hand" {
			drawn = v
		}
		return nil
	}))
	p, ok := drawn.Position.Get()
	if !ok || p.Pos.Lon != 0.5 || p.Pos.Lat != 0.25 || len(drawn.ID) != 36 {
		t.Fatalf("a bore drawn in a GIS: %+v", drawn)
	}

	id := storetest.FullBore(1).ID
	db := raw(t, b.Path())
	_, err := db.Exec("UPDATE bore SET geom = (SELECT geom FROM bore WHERE name = 'drawn by hand') WHERE id = ?", string(id))
	must(t, err)
	moved, _ := bore(t, b, id).Position.Get()
	if moved.Pos != p.Pos || moved.AsRead != "" || moved.CRS != "WGS 84" || moved.PrecisionM != 0 {
		t.Errorf("a moved bore still says where it was read: %+v", moved)
	}
}

func TestOutsideEditsThatBreakRecordsAreRefused(t *testing.T) {
	b := filled(t)
	db := raw(t, b.Path())
	for name, query := range map[string]string{
		"a new id":                   "UPDATE bore SET id = '00000000-0000-4000-8000-000000000000'",
		"a part given away":          "UPDATE layer SET bore_fid = bore_fid + 1",
		"a row replaced":             "INSERT OR REPLACE INTO bore (fid, name) VALUES (1, 'other')",
		"a layer upside down":        "UPDATE layer SET base_m = top_m",
		"words for a number":         "UPDATE bore SET depth_m = 'deep'",
		"a day that is no day":       "UPDATE bore SET completed = '2023-02-30'",
		"a class nobody knows":       "UPDATE layer SET class = 'cheese'",
		"a geometry of another kind": "UPDATE bore SET geom = 'POINT (0 0)'",
		"dry to above the ground":    "UPDATE level SET state = 'dry-to', depth_m = -1",
	} {
		if _, err := db.Exec(query); err == nil {
			t.Errorf("%s was let in", name)
		}
	}
	same(t, bore(t, b, storetest.FullBore(1).ID), storetest.FullBore(1))
}

// The rule of the file lets in what is read back as months, and nothing else.
func TestDryMonthsFromOutside(t *testing.T) {
	b := filled(t)
	db := raw(t, b.Path())
	id := geo.WaterPointID(storetest.ID(4))
	for text, want := range map[string][]time.Month{
		"never": {}, "3": {3}, "1 2 10 11 12": {1, 2, 10, 11, 12}, "4, 5": {4, 5}, "12,1": {1, 12},
	} {
		if _, err := db.Exec("UPDATE water_point SET dry_months = ?", text); err != nil {
			t.Errorf("%q was refused: %v", text, err)
		}
		w, err := b.WaterPoint(context.Background(), id)
		must(t, err)
		if got, known := w.DryMonths.Get(); !known || got != geo.Months(want...) {
			t.Errorf("%q was read as %v", text, got.List())
		}
	}
	for _, text := range []string{"", " ", "often", "Never", "0", "13", "20", "1 0", "100", "110", "012", "3.5", "-3", "3;4"} {
		if _, err := db.Exec("UPDATE water_point SET dry_months = ?", text); err == nil {
			t.Errorf("%q was let in", text)
		}
	}
}

// What no rule of the file can refuse is named when it is read.
func TestSpoiltRecordIsNamed(t *testing.T) {
	b := filled(t)
	_, err := raw(t, b.Path()).Exec("UPDATE water_point SET field_sources = '[1]'")
	must(t, err)
	err = b.WaterPoints(context.Background(), func(geo.WaterPoint) error { return nil })
	wantKind(t, err, geo.Invalid)
	if got := err.(*geo.Error).Message; got.Code != "store.unreadable-record" || got.Args[0].Value != geo.Text(storetest.ID(4)) {
		t.Errorf("message %v", got)
	}
}
