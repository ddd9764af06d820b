package main

import (
	"errors"
	"math"
	"os"
	"path/filepath"
	"testing"

	"waterstrike/geo/coord"
	"waterstrike/geo/demoland"
	"waterstrike/geo/store"
	"waterstrike/geo/terrain"
)

// thin says how thinly a district is known: one in so many of the demo region's records.
const thin = 4

// district makes a data folder with a part of the demo region's records, spread over all of
// it, and its elevations in large cells: enough ground for every command that asks, learnt
// from in a fifth of the time.
func district(t *testing.T) store.Folder {
	t.Helper()
	folder := store.Folder(filepath.Join(t.TempDir(), "data"))
	if err := folder.Make(); err != nil {
		t.Fatal(err)
	}
	base, err := store.Create(folder.Ground(), store.DefaultOptions())
	if err != nil {
		t.Fatal(err)
	}
	land, why := demoland.New(demoSeed), store.Why{Who: "test"}
	records := land.Records()
	for i, b := range records.Bores {
		if i%thin == 0 {
			err = errors.Join(err, base.SaveBore(t.Context(), b, why))
		}
	}
	for i, v := range records.Villages {
		if i%thin == 0 {
			err = errors.Join(err, base.SaveVillage(t.Context(), v, why))
		}
	}
	for i, w := range records.Points {
		if i%thin == 0 {
			err = errors.Join(err, base.SaveWaterPoint(t.Context(), w, why))
		}
	}
	if err := errors.Join(err, base.Close(), coarse(t, land, folder.Terrain())); err != nil {
		t.Fatal(err)
	}
	return folder
}

// coarse writes the region's elevations in cells of a kilometre.
func coarse(t *testing.T, land *demoland.Land, dir string) error {
	if err := os.MkdirAll(dir, 0o750); err != nil {
		return err
	}
	frame := terrain.Frame{West: -0.44, North: 0.92, CellX: 0.01, CellY: 0.01, Cols: 54, Rows: 54}
	grid, err := terrain.Sample(t.Context(), frame, func(p coord.LonLat) (float64, bool) { return math.Round(land.Elevation(p)), true }, nil)
	if err != nil {
		return err
	}
	file, err := os.Create(filepath.Join(dir, demoGrid))
	if err != nil {
		return err
	}
	return errors.Join(terrain.WriteGeoTIFF(t.Context(), file, grid, nil), file.Close())
}
