package arrival

import (
	"io/fs"
	"os"
	"path/filepath"

	"waterstrike/geo/intake"
	"waterstrike/geo/store"
)

// Files are the files of a folder, with the layers of GeoPackages among them.
type Files struct {
	fs.FS
	folder string
}

// FilesOf returns the files of a folder of this computer.
func FilesOf(folder string) Files { return Files{os.DirFS(folder), folder} }

// OpenLayer opens a layer of a GeoPackage.
func (f Files) OpenLayer(file, layer string) (intake.Rows, error) {
	return store.OpenForeign(filepath.Join(f.folder, filepath.FromSlash(file)), layer)
}

// Layers lists the layers of a GeoPackage.
func (f Files) Layers(file string) ([]string, error) {
	return store.ForeignLayers(filepath.Join(f.folder, filepath.FromSlash(file)))
}
