package terrain

import (
	"context"
	"io"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"

	"waterstrike/geo"
	"waterstrike/geo/coord"
)

// source is one file of values, read by blocks of equal size from its north-west corner.
type source interface {
	frame() Frame
	size() (rows, cols int) // of a block
	// block returns the values of one block by rows; those beyond the frame are never asked for.
	block(row, col int) ([]float32, error)
}

// input is a file to be read.
type input struct {
	name string
	io.ReaderAt
	bytes  int64
	beside func(ext string) string // the text of the file of that name and another ending; empty without
}

func (in input) stream() io.Reader { return io.NewSectionReader(in, 0, in.bytes) }

// formats are the readers by the end of a file's name.
var formats = map[string]func(input) (source, error){
	".asc": openASCII, ".hgt": openHGT, ".tif": openTIFF, ".tiff": openTIFF,
	".csv": openPoints, ".xyz": openPoints,
}

// Readable reports whether a file of that name may hold elevations.
func Readable(name string) bool { return formats[strings.ToLower(filepath.Ext(name))] != nil }

// File is the values of one file, read by blocks when they are asked for. It may be asked
// by any number of goroutines.
type File struct {
	Frame
	name   string
	src    source
	blocks *blocks
	last   atomic.Pointer[block] // asked for a moment ago
	closer io.Closer
}

// Open opens a file of elevations: .asc (ESRI ASCII), .hgt, .tif or .tiff (GeoTIFF), .csv
// or .xyz (points on a regular grid).
//
//   - Units: metres, whatever a file may say to the contrary is refused.
//   - Errors: [geo.NotFound]; [geo.Invalid] with a [FormatError] or an [UnsupportedError].
//   - Checked by: TestFormats, TestTIFFVariants, TestDefects.
func Open(path string) (*File, error) { return openIn(path, newBlocks(DefaultCacheBytes)) }

func openIn(path string, kept *blocks) (*File, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, geo.Fail(geo.NotFound, "terrain.Open", geo.Message{}, err)
	}
	info, err := f.Stat()
	if err != nil {
		f.Close()
		return nil, geo.Fail(geo.NotFound, "terrain.Open", geo.Message{}, err)
	}
	beside := func(ext string) string {
		text, _ := os.ReadFile(strings.TrimSuffix(path, filepath.Ext(path)) + ext)
		return string(text)
	}
	file, err := newFile(input{filepath.Base(path), f, info.Size(), beside}, kept)
	if err != nil {
		f.Close()
		return nil, err
	}
	file.closer = f
	return file, nil
}

// NewFile reads a file that is not on a disk; its format is told by the end of its name.
// Errors: [geo.Invalid], as [Open].
func NewFile(name string, r io.ReaderAt, bytes int64) (*File, error) {
	nothing := func(string) string { return "" }
	return newFile(input{name, r, bytes, nothing}, newBlocks(DefaultCacheBytes))
}

func newFile(in input, kept *blocks) (*File, error) {
	open := formats[strings.ToLower(filepath.Ext(in.name))]
	if open == nil {
		return nil, refuse(in.name, unread("the ending is not known; read are .asc, .hgt, .tif, .csv and .xyz"))
	}
	src, err := open(in)
	if err != nil {
		return nil, refuse(in.name, err)
	}
	f := src.frame()
	if err := f.check(); err != nil {
		return nil, refuse(in.name, broken("%v", err))
	}
	return &File{Frame: f, name: in.name, src: src, blocks: kept}, nil
}

// Name returns the file's name without its folder.
func (f *File) Name() string { return f.name }

// Close releases the file.
func (f *File) Close() error {
	if f.closer == nil {
		return nil
	}
	return f.closer.Close()
}

// At returns the value of a cell; false where it is missing, outside, or cannot be read:
// see [File.Err].
func (f *File) At(row, col int) (float64, bool) {
	if row < 0 || col < 0 || row >= f.Rows || col >= f.Cols {
		return 0, false
	}
	rows, cols := f.src.size()
	key := blockKey{f, row / rows, col / cols}
	b := f.last.Load()
	if b == nil || b.key != key {
		b = f.blocks.get(key)
		f.last.Store(b)
	}
	if b.z == nil {
		return 0, false
	}
	z := b.z[row%rows*cols+col%cols]
	return float64(z), known(z)
}

// Err returns the first fault met while reading values, nil if there was none.
func (f *File) Err() error { return f.blocks.fault(f) }

// Value returns the value at a position; see [Grid.Value] and [File.Err].
func (f *File) Value(p coord.LonLat) (float64, bool) { return valueAt(f.Frame, f, p) }

// Grid reads the whole file into memory.
//
//   - Errors: [geo.Invalid] for more than [MaxCells] or a fault of the file; the context's.
//   - Cost: 4 bytes a cell and one block; files of text are held whole once more.
func (f *File) Grid(ctx context.Context, progress Progress) (*Grid, error) {
	g, err := NewGrid(f.Frame)
	if err != nil {
		return nil, err
	}
	rows, cols := f.src.size()
	step := newSteps(ctx, progress, Reading, (f.Rows+rows-1)/rows)
	for i := 0; i*rows < f.Rows; i++ {
		if err := step.next(); err != nil {
			return nil, err
		}
		for j := 0; j*cols < f.Cols; j++ {
			z, err := f.src.block(i, j)
			if err != nil {
				return nil, refuse(f.name, err)
			}
			g.paste(z, cols, i*rows, j*cols, rows)
		}
	}
	return g, nil
}

// paste copies the part of a block that lies within the grid.
func (g *Grid) paste(z []float32, cols, row, col, rows int) {
	for r := range min(rows, g.Rows-row) {
		at := (row+r)*g.Cols + col
		n := min(cols, g.Cols-col)
		copy(g.z[at:at+n], z[r*cols:r*cols+n])
	}
}
