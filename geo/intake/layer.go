package intake

import (
	"errors"
	"io/fs"
)

// LayerFS is a file system that can read the layers of a GeoPackage, which needs a
// database: it gives the format "gpkg" to [Read] and [Propose].
type LayerFS interface {
	fs.FS
	// OpenLayer opens the layer of that name, or the only one, of a file.
	OpenLayer(file, layer string) (Rows, error)
}

var errNoLayers = errors.New("a GeoPackage cannot be read from here: give its path on this computer")

// openGPKG opens a layer of a GeoPackage (OGC 12-128).
func openGPKG(files fs.FS, t Table) (Rows, error) {
	layers, can := files.(LayerFS)
	if !can {
		return nil, errNoLayers
	}
	return layers.OpenLayer(t.File, t.Sheet)
}
