package publish_test

import (
	"bytes"
	"strings"
	"testing"
	"testing/fstest"

	gocmp "github.com/google/go-cmp/cmp"

	"waterstrike/geo/intake"
	"waterstrike/geo/publish"
)

// comesBack reads an export that somebody may have changed: every row is taken or listed,
// and what is taken is exported and read again as the same.
func comesBack(t *testing.T, files fstest.MapFS, again []publish.File) {
	t.Helper()
	var bag intake.Memory
	got, err := publish.Read(t.Context(), files, "out", &bag, nil)
	listed := 0
	for _, r := range got.Reasons {
		listed += r.N
	}
	if got.Rows != got.Applied+got.Rejected || listed != got.Rejected || len(bag.Issues) != listed {
		t.Errorf("%+v with %d issues, %v", got, len(bag.Issues), err)
	}
	if err != nil {
		return
	}
	g := ground{bores: bag.Bores, villages: bag.Villages, points: bag.WaterPoints}
	var second intake.Memory
	if got, err = publish.Read(t.Context(), inFolder(t, again, g), "out", &second, nil); err != nil || got.Rejected > 0 {
		t.Fatalf("what was taken does not come back: %+v, %v, %v", got, second.Issues, err)
	}
	if diff := gocmp.Diff(g, ground{bores: second.Bores, villages: second.Villages, points: second.WaterPoints}, all); diff != "" {
		t.Error(diff)
	}
}

func FuzzReadCSV(f *testing.F) {
	files := inFolder(f, publish.CSVFiles(), invented())
	some := func(name string) string { // a header and two rows
		lines := strings.SplitAfterN(string(files["out/"+name].Data), "\n", 4)
		return strings.Join(lines[:min(3, len(lines))], "")
	}
	f.Add(some("bores.csv"), some("layers.csv"), some("water_points.csv"))
	f.Add("id,outcome\n"+id(1)+",dry\n"+id(1)+",dry\n", "bore_id,top_m,base_m,confidence\n"+id(1)+",1,0,1\n"+id(2)+",0,1,1\n", "id,dry_months\nx,13\n")
	f.Fuzz(func(t *testing.T, bores, layers, points string) {
		if len(bores)+len(layers)+len(points) > 1<<13 {
			return // longer than a few rows of each
		}
		in := fstest.MapFS{}
		for name, text := range map[string]string{"bores": bores, "layers": layers, "water_points": points} {
			in["out/"+name+".csv"] = &fstest.MapFile{Data: []byte(text)}
		}
		comesBack(t, in, publish.GeoJSONFiles())
	})
}

func FuzzReadGeoJSON(f *testing.F) {
	var data bytes.Buffer
	g := invented()
	g.bores = g.bores[:2]
	if err := publish.GeoJSONFiles()[0].Write(f.Context(), &data, g); err != nil {
		f.Fatal(err)
	}
	f.Add(data.Bytes())
	f.Add([]byte(`{"features":[{"id":"` + id(1) + `","geometry":null,"properties":{"outcome":"dry","layers":[{"topM":null}],"as_read":"x"}}]}`))
	f.Fuzz(func(t *testing.T, text []byte) {
		if len(text) > 1<<13 {
			return // longer than a few features
		}
		comesBack(t, fstest.MapFS{"out/bores.geojson": &fstest.MapFile{Data: text}}, publish.GeoJSONFiles())
	})
}
