package store_test

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"waterstrike/geo"
	"waterstrike/geo/store"
	"waterstrike/geo/store/storetest"
)

func shared(t *testing.T, b *store.Base) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "copy.gpkg")
	must(t, b.Share(context.Background(), path, store.About{Standard: "urn:example:standard", MIME: "application/json", Text: `{"title":"invented"}`}))
	return path
}

// everything is all records of a base as JSON.
func everything(t *testing.T, b *store.Base) string {
	t.Helper()
	var out bytes.Buffer
	ctx, write := context.Background(), json.NewEncoder(&out)
	must(t, b.Bores(ctx, func(v geo.Bore) error { return write.Encode(v) }))
	must(t, b.Villages(ctx, func(v geo.Village) error { return write.Encode(v) }))
	must(t, b.WaterPoints(ctx, func(v geo.WaterPoint) error { return write.Encode(v) }))
	must(t, b.Boundaries(ctx, func(v geo.Boundary) error { return write.Encode(v) }))
	must(t, b.Rivers(ctx, func(v geo.River) error { return write.Encode(v) }))
	return out.String()
}

// A copy for others holds every record and nothing of who changed or hid what: not in its
// tables, and not in the bytes of the file.
func TestShareHoldsTheRecordsAlone(t *testing.T) {
	b, ctx := filled(t), context.Background()
	secret := storetest.FullBore(8)
	secret.Remarks = "hidden-words-of-a-bore"
	must(t, b.SaveBore(ctx, secret, store.Why{Who: "somebody-by-name", Reason: "a-reason-of-their-own"}))
	must(t, b.Hide(ctx, string(secret.ID), store.Why{Who: "somebody-by-name"}))
	path := shared(t, b)
	data, err := os.ReadFile(path)
	must(t, err)
	for _, word := range []string{"hidden-words-of-a-bore", "somebody-by-name", "a-reason-of-their-own"} {
		if bytes.Contains(data, []byte(word)) {
			t.Errorf("the copy still holds %q", word)
		}
	}
	back, err := store.Open(path, store.DefaultOptions())
	must(t, err)
	defer back.Close()
	if got, want := everything(t, back), everything(t, b); got != want || strings.Count(got, "\n") < 7 {
		t.Errorf("the copy holds %s\nwant %s", got, want)
	}
	must(t, back.SaveBore(ctx, storetest.FullBore(9), me)) // and is a base of its own
	if err := b.Share(ctx, path, store.About{}); geo.KindOf(err) != geo.Conflict {
		t.Errorf("written over: %v", err)
	}
	if err := b.Share(ctx, filepath.Join(t.TempDir(), "no", "copy.gpkg"), store.About{}); geo.KindOf(err) != geo.Invalid {
		t.Errorf("without a folder: %v", err)
	}
	if files, _ := os.ReadDir(filepath.Dir(path)); len(files) > 3 { // the copy, open, with its log
		t.Errorf("left beside the copy: %v", files)
	}
}

// Tables and rows as the metadata extension asks (OGC 12-128r17, annex F.8, from memory),
// and the extents of layers.
func TestShareTellsWhatItIs(t *testing.T) {
	db := raw(t, shared(t, filled(t)))
	if got := scalar[string](t, db, "SELECT md_scope || ' ' || md_standard_uri || ' ' || mime_type || ' ' || metadata FROM gpkg_metadata"); got != `dataset urn:example:standard application/json {"title":"invented"}` {
		t.Errorf("metadata %s", got)
	}
	if n := scalar[int](t, db, "SELECT count(*) FROM gpkg_metadata_reference WHERE reference_scope = 'geopackage' AND table_name IS NULL AND md_file_id = 1"); n != 1 {
		t.Errorf("%d references", n)
	}
	if n := scalar[int](t, db, "SELECT count(*) FROM gpkg_extensions WHERE extension_name = 'gpkg_metadata'"); n != 2 {
		t.Errorf("%d extensions", n)
	}
	if got := scalar[string](t, db, "SELECT min_x || ' ' || min_y || ' ' || max_x || ' ' || max_y FROM gpkg_contents WHERE table_name = 'boundary'"); got != "-1.0 -2.0 3.0 4.0" {
		t.Errorf("extent of the boundaries %s", got)
	}
}

// A copy with styles is still a knowledge base, and holds the last ones it was given.
func TestShareHasStyles(t *testing.T) {
	b, path := filled(t), filepath.Join(t.TempDir(), "styled.gpkg")
	about := store.About{Styles: []store.Style{{Table: "bore", Name: "by outcome", Text: "<a/>"}}}
	must(t, b.Share(context.Background(), path, about))
	again, err := store.Open(path, store.DefaultOptions())
	must(t, err)
	defer again.Close()
	second := filepath.Join(t.TempDir(), "again.gpkg")
	about.Styles[0].Text = "<b/>"
	must(t, again.Share(context.Background(), second, about))
	if got := column[string](t, raw(t, second), "SELECT f_table_name || f_geometry_column || styleName || styleSLD || useAsDefault FROM layer_styles"); len(got) != 1 || got[0] != "boregeomby outcome<b/>1" {
		t.Errorf("styles %q", got)
	}
	if got, want := everything(t, again), everything(t, b); got != want {
		t.Errorf("the copy holds %s\nwant %s", got, want)
	}
}

func TestGISReadsTheCopy(t *testing.T) {
	b := filled(t)
	out := gis(t, "ogrinfo", "-ro", "-al", "-so", shared(t, b), "bore")
	for _, want := range []string{"Feature Count: 2", "Extent: (0.11"} {
		if !strings.Contains(out, want) {
			t.Errorf("no %q in %s", want, out)
		}
	}
	if out := gis(t, "ogrinfo", "-ro", "-mdd", "all", shared(t, b)); !strings.Contains(out, `{"title":"invented"}`) {
		t.Errorf("a GIS finds no metadata: %s", out)
	}
}
