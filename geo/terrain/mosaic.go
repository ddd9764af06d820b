package terrain

import (
	"cmp"
	"errors"
	"os"
	"path/filepath"
	"slices"

	"waterstrike/geo"
	"waterstrike/geo/coord"
)

// Mosaic is the elevation files of one folder taken as one. Where they overlap, the
// finest counts; of equally fine ones the first by name. It may be asked by any number
// of goroutines.
type Mosaic struct {
	files   []*File // in the order they count
	refused []error
}

// OpenMosaic opens every elevation file of a folder, without its sub-folders. A file that
// cannot be used does not keep the others from being: see [Mosaic.Refused]. A folder
// without any is an empty mosaic.
//
//   - Errors: [geo.NotFound] for a folder that cannot be read.
//   - Cost: heads only; lists of points are read whole. Up to [DefaultCacheBytes] of
//     blocks are kept when elevations are asked for.
func OpenMosaic(dir string) (*Mosaic, error) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil, geo.Fail(geo.NotFound, "terrain.OpenMosaic", geo.Message{}, err)
	}
	m := &Mosaic{}
	kept := newBlocks(DefaultCacheBytes)
	for _, e := range entries {
		if !e.Type().IsRegular() || !Readable(e.Name()) {
			continue
		}
		f, err := openIn(filepath.Join(dir, e.Name()), kept)
		if err == nil && !f.System.Placed() {
			err = refuse(f.name, errors.Join(unread("nothing says which system its metres are of; put a .prj file beside it or make it a GeoTIFF"), f.Close()))
		}
		if err != nil {
			m.refused = append(m.refused, err)
			continue
		}
		m.files = append(m.files, f)
	}
	slices.SortStableFunc(m.files, func(a, b *File) int { return cmp.Compare(a.areaM2(), b.areaM2()) })
	return m, nil
}

// areaM2 is about the size of a cell. In degrees it is taken at the equator, so that the
// tiles of one product are equally fine at any latitude.
func (f Frame) areaM2() float64 {
	if f.System.Metric {
		return f.CellX * f.CellY
	}
	return f.CellX * f.CellY * degreeM * degreeM
}

// degreeM is the length of a degree of a great circle, roughly.
const degreeM = 111e3

// Files returns the names of the files in the order they count.
func (m *Mosaic) Files() []string {
	names := make([]string, len(m.files))
	for i, f := range m.files {
		names[i] = f.name
	}
	return names
}

// Refused returns why files of the folder are not used, each error of kind [geo.Invalid].
func (m *Mosaic) Refused() []error { return m.refused }

// Err returns the first fault met while reading elevations, nil if there was none.
func (m *Mosaic) Err() error {
	for _, f := range m.files {
		if err := f.Err(); err != nil {
			return err
		}
	}
	return nil
}

// Close releases the files.
func (m *Mosaic) Close() error {
	var all []error
	for _, f := range m.files {
		all = append(all, f.Close())
	}
	return errors.Join(all...)
}

// Elevation returns the elevation of the ground, interpolated bilinearly between the
// middles of cells of the first file that knows it; false where none does.
//
//   - Units: metres, above whatever datum the files are.
//   - Domain: valid positions. A cell that is missing, or beyond the edge of a file, is
//     taken from the next file that has it, so that there is no step from tile to tile.
//   - Errors: none; a file that cannot be read is passed over, and [Mosaic.Err] says so.
//   - Cost: about 0.2 µs where the block is kept.
func (m *Mosaic) Elevation(p coord.LonLat) (metres float64, ok bool) {
	for i, f := range m.files {
		if z, ok := valueAt(f.Frame, patched{m, i}, p); ok {
			return z, true
		}
	}
	return 0, false
}

// patched is one file of a mosaic whose missing cells are taken from the others.
type patched struct {
	m     *Mosaic
	which int
}

// At returns the elevation of a cell of the file's frame, or beyond it.
func (s patched) At(row, col int) (float64, bool) {
	f := s.m.files[s.which]
	if z, ok := f.At(row, col); ok {
		return z, true
	}
	p, on := f.Middle(row, col)
	if !on {
		return 0, false
	}
	for i, other := range s.m.files {
		if i == s.which {
			continue
		}
		if z, ok := other.Value(p); ok {
			return z, true
		}
	}
	return 0, false
}
