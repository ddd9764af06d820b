package terrain

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"hash"
	"io"
	"os"
	"path/filepath"

	"github.com/paulmach/orb"

	"waterstrike/geo"
)

// derivedFolder is where results stand, below the folder of their sources. All of it can
// be deleted: it is made anew.
const derivedFolder = "derived"

// derivedVersion changes whenever the same sources give other results.
const derivedVersion = 2

// Prepare returns the terrain of a region from the elevation files of a folder. The first
// time it derives it and keeps it in files below the folder, four GeoTIFFs named by a
// checksum of sources, region and options; from then on it opens those, until a source
// changes. What it returns reads blocks of them as it is asked, so that its memory is
// bounded whatever the region.
//
//   - Units: the region in degrees, longitude first.
//   - Errors: [geo.NotFound] where the folder has no elevations there; [geo.Invalid] for a
//     region or a file that is wrong or too many cells; [geo.Internal] where results
//     cannot be written; the context's when it ends. A file left out because it cannot be
//     read at all is told by [Mosaic.Refused].
//   - Cost: as [Derive] and 4 bytes a cell the first time; later, one reading of the sources.
func Prepare(ctx context.Context, dir string, region orb.Bound, o Options, progress Progress) (*Terrain, error) {
	if err := checkRegion(region); err != nil {
		return nil, geo.Fail(geo.Invalid, "terrain.Prepare", geo.Message{}, err)
	}
	m, err := OpenMosaic(dir)
	if err != nil {
		return nil, err
	}
	defer m.Close()
	box := widen(region, o.MarginM)
	key, err := m.key(ctx, dir, box, o)
	if err != nil {
		return nil, err
	}
	at := results{filepath.Join(dir, derivedFolder), key}
	if t, err := at.open(); err == nil {
		return t, nil
	}
	g, err := m.Grid(ctx, box, o.LeastCellM, progress)
	if err != nil {
		return nil, err
	}
	t, err := Derive(ctx, g, o, progress)
	if err != nil {
		return nil, err
	}
	if err := at.write(ctx, t, progress); err != nil {
		return nil, err
	}
	return at.open()
}

// PrepareAll is [Prepare] for all that the files of a folder cover.
func PrepareAll(ctx context.Context, dir string, o Options, progress Progress) (*Terrain, error) {
	m, err := OpenMosaic(dir)
	if err != nil {
		return nil, err
	}
	box, err := m.Bound(), m.Close()
	if err != nil {
		return nil, geo.Fail(geo.Internal, "terrain.PrepareAll", geo.Message{}, err)
	}
	if len(m.files) == 0 {
		return nil, geo.Fail(geo.NotFound, "terrain.PrepareAll", geo.Message{}, fmt.Errorf("the folder %s holds no elevation files", dir))
	}
	o.MarginM = 0
	return Prepare(ctx, dir, box, o, progress)
}

func checkRegion(b orb.Bound) error {
	if !(b.Min[0] < b.Max[0] && b.Min[1] < b.Max[1] && b.Min[0] >= -180 && b.Max[0] <= 180 && b.Min[1] >= -90 && b.Max[1] <= 90) {
		return fmt.Errorf("a region of %v; give west, south, east and north in degrees", b)
	}
	return nil
}

// key is the checksum of all that the result depends on.
func (m *Mosaic) key(ctx context.Context, dir string, box orb.Bound, o Options) (string, error) {
	sum := sha256.New()
	fmt.Fprintln(sum, derivedVersion, box, o.DrainageM2, o.RiverM2, o.LeastCellM)
	if sea, known := o.Sea.Get(); known {
		fmt.Fprintln(sum, "sea", sea)
	}
	for _, f := range m.files {
		if !f.meets(box) {
			continue
		}
		fmt.Fprintln(sum, f.name, f.Frame)
		if err := addFile(ctx, sum, filepath.Join(dir, f.name)); err != nil {
			return "", err
		}
	}
	return hex.EncodeToString(sum.Sum(nil))[:16], nil
}

// addFile adds the content of a file to a checksum.
func addFile(ctx context.Context, sum hash.Hash, path string) error {
	f, err := os.Open(path)
	if err != nil {
		return geo.Fail(geo.NotFound, "terrain.Prepare", geo.Message{}, err)
	}
	defer f.Close()
	for {
		if err := ctx.Err(); err != nil {
			return err
		}
		switch _, err := io.CopyN(sum, f, 1<<24); err {
		case nil:
		case io.EOF:
			return nil
		default:
			return geo.Fail(geo.Internal, "terrain.Prepare", geo.Message{}, err)
		}
	}
}
