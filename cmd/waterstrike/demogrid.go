package main

import (
	"errors"
	"os"
	"path/filepath"

	"waterstrike/geo/demoland"
	"waterstrike/geo/terrain"
)

// demoGrid is the file of the demo's elevations.
const demoGrid = "relief.tif"

// writeGrid puts the elevations of an invented region into the data folder.
func (a *app) writeGrid(land *demoland.Land) error {
	grid, err := land.Grid(a.ctx, a.preparing())
	if err != nil {
		return err
	}
	if err := os.MkdirAll(a.folder.Terrain(), 0o750); err != nil {
		return err
	}
	file, err := os.Create(filepath.Join(a.folder.Terrain(), demoGrid))
	if err != nil {
		return err
	}
	return errors.Join(terrain.WriteGeoTIFF(a.ctx, file, grid, nil), file.Close())
}
