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
	// Layers lists the layers of a file.
	Layers(file string) ([]string, error)
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

// tablesOf lists what can be opened in a file: its sheets or layers where there are
// several.
func tablesOf(files fs.FS, name string) ([]Table, error) {
	var inside []string
	var err error
	switch formatOf(Table{File: name}) {
	case "xlsx":
		inside, err = Sheets(files, name)
	case "gpkg":
		layers, can := files.(LayerFS)
		if !can {
			return nil, errNoLayers
		}
		inside, err = layers.Layers(name)
	}
	if len(inside) < 2 {
		return []Table{{File: name}}, err
	}
	out := make([]Table, len(inside))
	for i, sheet := range inside {
		out[i] = Table{File: name, Sheet: sheet}
	}
	return out, err
}
