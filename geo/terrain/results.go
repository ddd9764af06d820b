package terrain

import (
	"context"
	"os"
	"path/filepath"

	"waterstrike/geo"
)

// results are the files of one derived terrain.
type results struct{ dir, key string }

// The parts of a terrain; the ground is written last, so that where it stands all do.
const (
	partAbove  = "above-drainage"
	partTo     = "to-drainage"
	partRiver  = "above-river"
	partGround = "ground"
)

func (r results) path(part string) string {
	return filepath.Join(r.dir, r.key+"-"+part+".tif")
}

// open opens a terrain written before.
func (r results) open() (*Terrain, error) {
	kept := newBlocks(DefaultCacheBytes)
	t := &Terrain{key: r.key}
	for _, part := range []struct {
		name string
		put  *cells
	}{{partGround, &t.ground}, {partAbove, &t.above}, {partTo, &t.to}, {partRiver, &t.river}} {
		f, err := openIn(r.path(part.name), kept)
		if err != nil {
			t.Close()
			return nil, err
		}
		t.files, t.Frame, *part.put = append(t.files, f), f.Frame, f
	}
	return t, nil
}

// write keeps a terrain that is in memory.
func (r results) write(ctx context.Context, t *Terrain, progress Progress) error {
	if err := os.MkdirAll(r.dir, 0o755); err != nil {
		return geo.Fail(geo.Internal, "terrain.Prepare", geo.Message{}, err)
	}
	for _, part := range []struct {
		name   string
		values cells
	}{{partAbove, t.above}, {partTo, t.to}, {partRiver, t.river}, {partGround, t.ground}} {
		if err := r.writePart(ctx, part.name, t.Frame, part.values, progress); err != nil {
			return err
		}
	}
	return nil
}

// writePart writes one file under another name first: a file that stands is whole.
func (r results) writePart(ctx context.Context, part string, f Frame, values cells, progress Progress) error {
	tmp, err := os.CreateTemp(r.dir, "writing-*")
	if err != nil {
		return geo.Fail(geo.Internal, "terrain.Prepare", geo.Message{}, err)
	}
	err = writeGeoTIFF(ctx, tmp, f, values, progress)
	if closing := tmp.Close(); err == nil && closing != nil {
		err = geo.Fail(geo.Internal, "terrain.Prepare", geo.Message{}, closing)
	}
	if err == nil {
		err = r.settle(tmp.Name(), part)
	}
	if err != nil {
		os.Remove(tmp.Name())
	}
	return err
}

// settle gives a written file its name, and lets others read it as they may the sources.
func (r results) settle(written, part string) error {
	err := os.Chmod(written, 0o644)
	if err == nil {
		err = os.Rename(written, r.path(part))
	}
	if err != nil {
		return geo.Fail(geo.Internal, "terrain.Prepare", geo.Message{}, err)
	}
	return nil
}
