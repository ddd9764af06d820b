package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"net/http"
	"os"
	"path/filepath"
	"sync"
	"testing"
	"testing/fstest"

	"waterstrike/geo/coord"
	"waterstrike/geo/demoland"
	"waterstrike/geo/store"
	"waterstrike/geo/terrain"
)

// thin says how thinly a district is known: one in so many of the demo region's records.
const thin = 4

// district is a data folder with a part of the demo region's records, spread over all of
// it, and its elevations in large cells: enough ground for every command that asks, learnt
// from in a fifth of the time.
func district(t *testing.T) store.Folder {
	t.Helper()
	files, err := districtFiles()
	if err != nil {
		t.Fatal(err)
	}
	folder := store.Folder(filepath.Join(t.TempDir(), "data"))
	if err := errors.Join(os.CopyFS(string(folder), files), folder.Make()); err != nil {
		t.Fatal(err)
	}
	return folder
}

// districtFiles are the files of such a folder, made once for all tests.
var districtFiles = sync.OnceValues(func() (fs.FS, error) {
	dir, err := os.MkdirTemp("", "waterstrike-district-")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir)
	if err := makeDistrict(context.Background(), store.Folder(dir)); err != nil {
		return nil, err
	}
	return filesOf(dir)
})

// filesOf reads what lies below a folder.
func filesOf(dir string) (fs.FS, error) {
	files := fstest.MapFS{}
	return files, fs.WalkDir(os.DirFS(dir), ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		data, err := os.ReadFile(filepath.Join(dir, name))
		files[name] = &fstest.MapFile{Data: data, Mode: 0o640}
		return err
	})
}

// demonstrated is what "demo -keep" says, serves and keeps.
type demonstrated struct {
	said, page string
	code       int
	files      fs.FS
}

// demoKept runs that once for all tests, until its first page was read.
var demoKept = sync.OnceValues(func() (d demonstrated, err error) {
	dir, err := os.MkdirTemp("", "waterstrike-demo-")
	if err != nil {
		return d, err
	}
	defer os.RemoveAll(dir)
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	out, code := new(said), make(chan int, 1)
	go func() {
		code <- run(ctx, []string{"demo", "-keep", filepath.Join(dir, "kept")}, out, out, func(string) string { return "" })
	}()
	at, ok := out.wait(`(http://127\.0\.0\.1:\d+/) `)
	if !ok {
		return d, fmt.Errorf("the demo does not say where it is: %s", out)
	}
	answer, err := http.Get(at)
	if err != nil {
		return d, err
	}
	page, err := io.ReadAll(answer.Body)
	if err := errors.Join(err, answer.Body.Close()); err != nil {
		return d, err
	}
	cancel()
	d.code, d.page, d.said = <-code, string(page), out.String()
	d.files, err = filesOf(filepath.Join(dir, "kept"))
	return d, err
})

func makeDistrict(ctx context.Context, folder store.Folder) error {
	if err := folder.Make(); err != nil {
		return err
	}
	base, err := store.Create(folder.Ground(), store.DefaultOptions())
	if err != nil {
		return err
	}
	land, why := demoland.New(demoSeed), store.Why{Who: "test"}
	records := land.Records()
	for i, b := range records.Bores {
		if i%thin == 0 {
			err = errors.Join(err, base.SaveBore(ctx, b, why))
		}
	}
	for i, v := range records.Villages {
		if i%thin == 0 {
			err = errors.Join(err, base.SaveVillage(ctx, v, why))
		}
	}
	for i, w := range records.Points {
		if i%thin == 0 {
			err = errors.Join(err, base.SaveWaterPoint(ctx, w, why))
		}
	}
	return errors.Join(err, base.Close(), coarse(ctx, land, folder.Terrain()))
}

// coarse writes the region's elevations in cells of a kilometre.
func coarse(ctx context.Context, land *demoland.Land, dir string) error {
	if err := os.MkdirAll(dir, 0o750); err != nil {
		return err
	}
	frame := terrain.Frame{West: -0.44, North: 0.92, CellX: 0.01, CellY: 0.01, Cols: 54, Rows: 54}
	grid, err := terrain.Sample(ctx, frame, func(p coord.LonLat) (float64, bool) { return math.Round(land.Elevation(p)), true }, nil)
	if err != nil {
		return err
	}
	file, err := os.Create(filepath.Join(dir, demoGrid))
	if err != nil {
		return err
	}
	return errors.Join(terrain.WriteGeoTIFF(ctx, file, grid, nil), file.Close())
}
