package publish_test

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"io"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	gocmp "github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"waterstrike/geo"
	"waterstrike/geo/intake"
	"waterstrike/geo/publish"
	"waterstrike/geo/store"
	"waterstrike/geo/store/storetest"
)

// What the formats cannot carry, by name:
//
//   - all of them: the batch. It names an import in the base that it was made in, and an
//     import gives its own.
//   - CSV: boundaries and rivers, whose shapes no table holds; see TestShapesComeBack.
//   - CSV, GeoJSON and XLSX: bytes that are no UTF-8 become U+FFFD (RFC 8259, section 8.1, and the media
//     type of the tables).
//   - CSV: a carriage return within words becomes a line feed (RFC 4180 has one line break).
func kept[T any](t rapid.TB, v T, format string) T {
	data, err := json.Marshal(v) // replaces what is no UTF-8
	var tree any
	decoder := json.NewDecoder(bytes.NewReader(data))
	decoder.UseNumber()
	if err = errors.Join(err, decoder.Decode(&tree)); err != nil {
		t.Fatal(err)
	}
	if format == "csv" {
		tree = oneBreak(tree)
	}
	data, err = json.Marshal(tree)
	var out T
	if err = errors.Join(err, json.Unmarshal(data, &out)); err != nil {
		t.Fatal(err)
	}
	return out
}

// oneBreak does to every text what CSV does; the sources of fields stand there as JSON,
// which has signs of its own for line breaks.
func oneBreak(tree any) any {
	switch v := tree.(type) {
	case string:
		return asKept(v)
	case []any:
		for i := range v {
			v[i] = oneBreak(v[i])
		}
	case map[string]any:
		for name := range v {
			if name != "fields" {
				v[name] = oneBreak(v[name])
			}
		}
	}
	return tree
}

// all compares all of a record, and takes an empty list for none.
var all = gocmp.Options{gocmp.Exporter(func(reflect.Type) bool { return true }), cmpopts.EquateEmpty()}

// drawn are a few records of every kind that comes back.
func drawn(d draw) ground {
	g := ground{bores: several(d, d.bore), villages: several(d, d.village), points: several(d, d.waterPoint)}
	ids := map[string]bool{}
	fresh := func(id string) bool { had := ids[id]; ids[id] = true; return !had }
	g.bores = slices.DeleteFunc(g.bores, func(b geo.Bore) bool { return !fresh(string(b.ID)) })
	g.villages = slices.DeleteFunc(g.villages, func(v geo.Village) bool { return !fresh(string(v.ID)) })
	g.points = slices.DeleteFunc(g.points, func(w geo.WaterPoint) bool { return !fresh(string(w.ID)) })
	for i := range g.bores { // in the order that their rules put them
		g.bores[i] = ready(d, g.bores[i], geo.NewBore)
	}
	for i := range g.points {
		g.points[i] = ready(d, g.points[i], geo.NewWaterPoint)
	}
	return g
}

func ready[T any](d draw, v T, check func(T) (T, error)) T {
	v, err := check(v)
	if err != nil {
		d.Fatal(err)
	}
	return v
}

// TestComesBack exports records of every kind and imports what was written: nothing is
// lost but what is named above.
func TestComesBack(t *testing.T) {
	book := func(ctx context.Context, w io.Writer, src publish.Source) error {
		return publish.XLSX(ctx, w, src, asCode)
	}
	for format, files := range map[string][]publish.File{
		"csv": publish.CSVFiles(), "geojson": publish.GeoJSONFiles(), "xlsx": {{Name: "book.xlsx", Write: book}},
	} {
		name := "out"
		if format == "xlsx" {
			name = "out/book.xlsx"
		}
		t.Run(format, func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				g := drawn(draw{t})
				var bag intake.Memory
				got, err := publish.Read(t.Context(), inFolder(t, files, g), name, &bag, nil)
				if err != nil || got.Rejected != 0 || got.Rows != got.Applied || len(bag.Issues) != 0 {
					t.Fatalf("%+v, %v, %v", got, bag.Issues, err)
				}
				want := ground{}
				for _, b := range g.bores {
					want.bores = append(want.bores, kept(t, b, format))
				}
				for _, v := range g.villages {
					want.villages = append(want.villages, kept(t, v, format))
				}
				for _, w := range g.points {
					want.points = append(want.points, kept(t, w, format))
				}
				if diff := gocmp.Diff(want, ground{bores: bag.Bores, villages: bag.Villages, points: bag.WaterPoints}, all); diff != "" {
					t.Fatal(diff)
				}
			})
		})
	}
}

// TestWorkbookComesBack: a workbook read in again has lost nothing, a waiver and the visits
// to a water point among it.
func TestWorkbookComesBack(t *testing.T) {
	bore := storetest.FullBore(1)
	bore.Source.Batch = ""
	at, _ := bore.Position.Get()
	working := geo.WaterPoint{
		ID: geo.WaterPointID(storetest.ID(2)), Name: "=upper", Kind: geo.TubeWell, Position: at, Works: geo.Some(true),
		Visits: []geo.Visit{{On: geo.Date{Year: 2017, Month: 2}, Works: geo.Some(true), Words: "'fine'"}, {On: geo.Date{Year: 2018}, Works: geo.Some(false)}},
	}
	g := ground{bores: []geo.Bore{bore}, points: []geo.WaterPoint{working}}
	var data bytes.Buffer
	if err := publish.XLSX(t.Context(), &data, g, func(c geo.Code) string { return string(c) }); err != nil {
		t.Fatal(err)
	}
	var bag intake.Memory
	got, err := publish.Read(t.Context(), fstest.MapFS{"book.xlsx": {Data: data.Bytes()}}, "book.xlsx", &bag, nil)
	if err != nil || got.Rejected != 0 || len(bag.Issues) != 0 {
		t.Fatalf("%+v, %v, %v", got, bag.Issues, err)
	}
	if diff := gocmp.Diff(g, ground{bores: bag.Bores, points: bag.WaterPoints}, all); diff != "" {
		t.Error(diff)
	}
	if _, err := publish.Read(t.Context(), fstest.MapFS{"book.xlsx": {Data: []byte("rubbish")}}, "book.xlsx", &bag, nil); err == nil {
		t.Error("rubbish is read as a workbook")
	}
}

// inFolder writes all files into the folder "out".
func inFolder(t rapid.TB, files []publish.File, src publish.Source) fstest.MapFS {
	out := fstest.MapFS{}
	for _, f := range files {
		var data bytes.Buffer
		if err := f.Write(context.Background(), &data, src); err != nil {
			t.Fatal(err)
		}
		out["out/"+f.Name] = &fstest.MapFile{Data: data.Bytes()}
	}
	return out
}

// TestBaseComesBack takes records through an import into a base, the base's own file, and
// an import of that into another base. Nothing is lost, but the batch is the second base's.
func TestBaseComesBack(t *testing.T) {
	var g ground
	for seed := range 30 {
		more := rapid.Custom(func(t *rapid.T) ground { return drawn(draw{t}) }).Example(seed)
		g.bores, g.villages, g.points = append(g.bores, more.bores...), append(g.villages, more.villages...), append(g.points, more.points...)
	}
	plain := invented()
	g.boundaries, g.rivers = plain.boundaries, plain.rivers
	base, second := imported(t, imported(t, g)), ground{}
	for _, walk := range []error{
		base.Bores(t.Context(), func(b geo.Bore) error { second.bores = append(second.bores, b); return nil }),
		base.Villages(t.Context(), func(v geo.Village) error { second.villages = append(second.villages, v); return nil }),
		base.WaterPoints(t.Context(), func(w geo.WaterPoint) error { second.points = append(second.points, w); return nil }),
		base.Boundaries(t.Context(), func(b geo.Boundary) error { second.boundaries = append(second.boundaries, b); return nil }),
		base.Rivers(t.Context(), func(r geo.River) error { second.rivers = append(second.rivers, r); return nil }),
	} {
		if walk != nil {
			t.Fatal(walk)
		}
	}
	byID(&g)
	byID(&second)
	if diff := gocmp.Diff(g, second, append(all, cmpopts.IgnoreFields(geo.Provenance{}, "Batch"))...); diff != "" {
		t.Error(diff)
	}
}

// imported is a new base that holds what src does.
func imported(t *testing.T, src publish.Source) *store.Base {
	t.Helper()
	dir := t.TempDir()
	base, err := store.Create(filepath.Join(dir, "ground.gpkg"), store.DefaultOptions())
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { base.Close() })
	draft, err := store.NewDraft(t.Context(), filepath.Join(dir, "draft.db"))
	if err != nil {
		t.Fatal(err)
	}
	defer draft.Close()
	count, err := publish.Copy(t.Context(), "other.gpkg", src, draft, nil)
	if err == nil {
		err = draft.Finish()
	}
	if err == nil {
		_, err = base.Apply(t.Context(), draft, store.Why{Who: "test"}, store.How{})
	}
	if err != nil || count.Rows != count.Applied {
		t.Fatalf("%+v, %v", count, err)
	}
	return base
}

// byID puts records in the order that a base gives them, the first of an id alone.
func byID(g *ground) {
	g.bores = sorted(g.bores, func(b geo.Bore) string { return string(b.ID) })
	g.villages = sorted(g.villages, func(v geo.Village) string { return string(v.ID) })
	g.points = sorted(g.points, func(w geo.WaterPoint) string { return string(w.ID) })
}

// sorted keeps the first of an id, as a draft does.
func sorted[T any](list []T, id func(T) string) []T {
	slices.SortStableFunc(list, func(a, b T) int { return strings.Compare(id(a), id(b)) })
	return slices.CompactFunc(list, func(a, b T) bool { return id(a) == id(b) })
}
