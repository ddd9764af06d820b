package main

import (
	"bytes"
	"fmt"
	"net/http"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"waterstrike/geo"
	"waterstrike/geo/demoland"
	"waterstrike/geo/outside"
	"waterstrike/geo/store"
)

// gis runs a program of GDAL, which knows nothing of ours, and returns what it says.
func gis(t *testing.T, env []string, program string, args ...string) string {
	t.Helper()
	cmd := exec.CommandContext(t.Context(), outside.Program(t, program, "gdal-bin"), args...)
	cmd.Env = append(os.Environ(), env...)
	out, err := cmd.CombinedOutput()
	if err != nil {
		t.Fatalf("%s %v: %v\n%s", program, args, err, out)
	}
	return string(out)
}

// region makes a data folder with a part of the records of an invented region.
func region(t *testing.T, bores, villages, points int) (folder string, all demoland.Records) {
	t.Helper()
	data := store.Folder(filepath.Join(t.TempDir(), "data"))
	if err := data.Make(); err != nil {
		t.Fatal(err)
	}
	base, err := store.Create(data.Ground(), store.DefaultOptions())
	if err != nil {
		t.Fatal(err)
	}
	defer base.Close()
	all = demoland.New(12).Records()
	all.Bores, all.Villages, all.Points, all.Rivers = all.Bores[:bores], all.Villages[:villages], all.Points[:points], all.Rivers[:3]
	why := store.Why{Who: "test"}
	save := func(err error) {
		if err != nil {
			t.Fatal(err)
		}
	}
	for _, b := range all.Bores {
		save(base.SaveBore(t.Context(), b, why))
	}
	for _, v := range all.Villages {
		save(base.SaveVillage(t.Context(), v, why))
	}
	for _, w := range all.Points {
		save(base.SaveWaterPoint(t.Context(), w, why))
	}
	save(base.SaveBoundary(t.Context(), all.Boundary, why))
	for _, r := range all.Rivers {
		save(base.SaveRiver(t.Context(), r, why))
	}
	return string(data), all
}

func does(t *testing.T, args ...string) string {
	t.Helper()
	var out bytes.Buffer
	if code := run(t.Context(), args, &out, &out, func(string) string { return "" }); code != exitDone {
		t.Fatalf("%v: %d\n%s", args, code, out.String())
	}
	return out.String()
}

// counted tells how many features a GIS finds in a layer.
func counted(t *testing.T, told string) (n int) {
	t.Helper()
	m := regexp.MustCompile(`Feature Count: (\d+)\n`).FindStringSubmatch(told)
	if m == nil {
		t.Fatalf("no count in %s", told)
	}
	_, _ = fmt.Sscan(m[1], &n)
	return n
}

// A GIS finds in every form that the program writes what the base holds.
func TestGISReadsEveryExport(t *testing.T) {
	data, all := region(t, 60, 20, 25)
	layers, visits, metres := 0, 0, 0.0
	for _, b := range all.Bores {
		layers += len(b.Layers)
		metres += b.DepthM.Or(0)
	}
	for _, w := range all.Points {
		visits += len(w.Visits)
	}
	out := t.TempDir()
	for form, to := range map[string]string{"geojson": "maps", "csv": "tables", "xlsx": "r.xlsx", "gpkg": "r.gpkg", "water-points": "w.csv"} {
		does(t, "export", form, filepath.Join(out, to), "-data", data)
	}
	told := map[string]string{}
	for _, c := range []struct {
		file, layer string
		want        int
	}{
		{"maps/bores.geojson", "bores", 60},
		{"maps/villages.geojson", "villages", 20},
		{"maps/water_points.geojson", "water_points", 25},
		{"maps/boundaries.geojson", "boundaries", 1},
		{"maps/rivers.geojson", "rivers", 3},
		{"tables/bores.csv", "bores", 60},
		{"tables/layers.csv", "layers", layers},
		{"tables/villages.csv", "villages", 20},
		{"tables/visits.csv", "visits", visits},
		{"r.xlsx", "bores", 60},
		{"r.xlsx", "layers", layers},
		{"r.xlsx", "water_points", 25},
		{"r.gpkg", "bore", 60},
		{"r.gpkg", "layer", layers},
		{"r.gpkg", "village", 20},
		{"r.gpkg", "visit", visits},
		{"r.gpkg", "river", 3},
		{"w.csv", "w", visits},
	} {
		if told[c.file] == "" {
			told[c.file] = gis(t, []string{"OGR_XLSX_HEADERS=FORCE"}, "ogrinfo", "-ro", "-so", "-al", filepath.Join(out, c.file))
		}
		_, told, _ := strings.Cut(told[c.file], "Layer name: "+c.layer+"\n")
		if got := counted(t, told); got != c.want {
			t.Errorf("%s, %s: %d features, want %d", c.file, c.layer, got, c.want)
		}
	}
	sum := fmt.Sprintf("%.3f", metres)
	for _, c := range []struct{ file, table string }{{"maps/bores.geojson", "bores"}, {"tables/bores.csv", "bores"}, {"r.xlsx", "bores"}, {"r.gpkg", "bore"}} {
		told := gis(t, []string{"OGR_XLSX_HEADERS=FORCE"}, "ogrinfo", "-ro", "-q", "-dialect", "sqlite", "-sql",
			"SELECT printf('%.3f', sum(CAST(depth_m AS REAL))) AS metres FROM "+c.table, filepath.Join(out, c.file))
		if !strings.Contains(told, "metres (String) = "+sum) {
			t.Errorf("%s: not %s m drilled in %s", c.file, sum, told)
		}
	}
	styled := gis(t, nil, "ogrinfo", "-ro", "-q", "-sql", "SELECT f_table_name, substr(styleSLD, 1, 5) AS begins FROM layer_styles", filepath.Join(out, "r.gpkg"))
	for _, want := range []string{"f_table_name (String) = bore", "f_table_name (String) = water_point", "begins (String) = <?xml"} {
		if !strings.Contains(styled, want) {
			t.Errorf("no %q among the styles: %s", want, styled)
		}
	}
}

// A GeoTIFF of surfaces has the bands and the place that were asked for.
func TestGISReadsASurface(t *testing.T) {
	data, all := region(t, 60, 0, 0)
	at := all.Bores[0].Position
	p, _ := at.Get()
	corner := func(d float64) string { return fmt.Sprintf("%.5f %.5f", p.Pos.Lat+d, p.Pos.Lon+d) }
	tif := filepath.Join(t.TempDir(), "s.tif")
	does(t, "surface", corner(0), corner(0.03), tif, "-cell", "1000", "-method", "auger", "-data", data)
	told := gis(t, nil, "gdalinfo", "-stats", tif)
	for _, want := range []string{"Driver: GTiff", "WGS 84", "Band 1 ", "Description = chance", "STATISTICS_MAXIMUM="} {
		if !strings.Contains(told, want) {
			t.Errorf("no %q in %s", want, told)
		}
	}
}

// keeping serves a folder and signs its first keeper in.
func keeping(t *testing.T, data string) (at string, c *http.Client) {
	t.Helper()
	out, stop := started(t, "serve", "-data", data, "-address", "127.0.0.1:0")
	t.Cleanup(func() { stop() })
	code := out.find(t, `\b([0-9A-HJKMNP-TV-Z]{4}(?:-[0-9A-HJKMNP-TV-Z]{4}){3})\b`)
	at, c = strings.TrimSuffix(out.find(t, `(http://127\.0\.0\.1:\d+/) `), "/"), client(t)
	page(t)(c.PostForm(at+"/begin", url.Values{"code": {code}, "name": {"Ana"}, "new-password": {"three dry months"}}))
	return at, c
}

// A GIS that is handed the address of the records reads what the base holds, and by a link
// for outsiders no more than squares.
func TestGISReadsFeatures(t *testing.T) {
	data, all := region(t, 60, 20, 25)
	at, c := keeping(t, data)
	signedIn := []string{"GDAL_HTTP_AUTH=BASIC", "GDAL_HTTP_USERPWD=Ana:three dry months"}
	layers := 0
	for _, b := range all.Bores {
		layers += len(b.Layers)
	}
	told := gis(t, signedIn, "ogrinfo", "-ro", "-so", "-al", "OAPIF:"+at+"/features")
	parts := strings.Split(told, "Layer name: ")[1:]
	if len(parts) != 5 {
		t.Fatalf("%d layers in %s", len(parts), told)
	}
	for i, want := range []int{60, layers, 20, 25} {
		if got := counted(t, parts[i]); got != want {
			t.Errorf("%.9s: %d features, want %d", parts[i], got, want)
		}
	}
	if got := counted(t, parts[4]); got < 100 || !strings.Contains(parts[4], "Geometry: Polygon") {
		t.Errorf("%d squares of advice: %s", got, parts[4])
	}
	dry := 0
	for _, b := range all.Bores {
		if b.Outcome == geo.Dry {
			dry++
		}
	}
	told = gis(t, signedIn, "ogrinfo", "-ro", "-so", "OAPIF:"+at+"/features", "bores", "-where", "outcome = 'dry'")
	if got := counted(t, told); got != dry || dry == 0 {
		t.Errorf("%d dry bores, want %d", got, dry)
	}

	shown, _ := page(t)(c.PostForm(at+"/shares", url.Values{"label": {"donor"}, "days": {"30"}, "blur": {"yes"}}))
	link := regexp.MustCompile(`/shared/[\w-]{43}`).FindString(shown)
	told = gis(t, nil, "ogrinfo", "-ro", "-so", "-al", "OAPIF:"+at+link+"/features")
	if counted(t, told) != 60 || !strings.Contains(told, "Geometry: Polygon") || strings.Contains(told, "depth_m") || strings.Contains(told, "villages") {
		t.Errorf("an outsider's GIS reads %s", told)
	}
}
