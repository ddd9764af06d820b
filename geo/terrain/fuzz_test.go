package terrain_test

import (
	"bytes"
	"errors"
	"io"
	"math"
	"os"
	"path/filepath"
	"testing"

	"waterstrike/geo"
	"waterstrike/geo/terrain"
)

// mostFuzzed bounds what a fuzzed file may hold, in bytes and in cells that are looked at.
const mostFuzzed = 1 << 16

// Any bytes are read or refused with a reason, whatever the ending says that they are.
// What was read has no value that is not finite, and is the same after it was written.
func fuzzReader(f *testing.F, name string) {
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > mostFuzzed {
			return // larger than what is tried
		}
		file, err := terrain.NewFile(name, bytes.NewReader(data), int64(len(data)))
		if err != nil {
			reasoned(t, err)
			return
		}
		defer file.Close()
		if file.Rows > mostFuzzed/file.Cols {
			file.At(file.Rows-1, file.Cols-1)
			return
		}
		grid, err := terrain.NewGrid(file.Frame)
		if err != nil {
			t.Fatal(err)
		}
		for row := range file.Rows {
			for col := range file.Cols {
				if z, ok := file.At(row, col); ok {
					if math.IsNaN(z) || math.IsInf(z, 0) {
						t.Fatalf("row %d, column %d: %v", row, col, z)
					}
					grid.Set(row, col, z)
				}
			}
		}
		if err := file.Err(); err != nil {
			reasoned(t, err)
			return
		}
		again(t, grid)
	})
}

// reasoned fails for an error that does not say what is wrong with the file.
func reasoned(t *testing.T, err error) {
	t.Helper()
	var broken *terrain.FormatError
	var unread *terrain.UnsupportedError
	if geo.KindOf(err) != geo.Invalid || !errors.As(err, &broken) && !errors.As(err, &unread) {
		t.Fatalf("refused without a reason: %v", err)
	}
}

// again writes a grid and reads it back.
func again(t *testing.T, grid *terrain.Grid) {
	t.Helper()
	var out seekable
	if err := terrain.WriteGeoTIFF(t.Context(), &out, grid, nil); geo.KindOf(err) == geo.Invalid {
		return // of a system without a code
	} else if err != nil {
		t.Fatal(err)
	}
	read, err := terrain.NewFile("again.tif", bytes.NewReader(out.data), int64(len(out.data)))
	if err != nil {
		t.Fatal(err)
	}
	defer read.Close()
	if read.Rows != grid.Rows || read.Cols != grid.Cols || read.System != grid.System {
		t.Fatalf("%+v became %+v", grid.Frame, read.Frame)
	}
	for row := range grid.Rows {
		for col := range grid.Cols {
			want, wanted := grid.At(row, col)
			got, ok := read.At(row, col)
			if ok != wanted || ok && got != want {
				t.Fatalf("row %d, column %d: %v, %v became %v, %v", row, col, want, wanted, got, ok)
			}
		}
	}
}

// seekable is a file in memory.
type seekable struct {
	data []byte
	at   int64
}

func (s *seekable) Write(p []byte) (int, error) {
	if end := s.at + int64(len(p)); end > int64(len(s.data)) {
		s.data = append(s.data, make([]byte, end-int64(len(s.data)))...)
	}
	s.at += int64(copy(s.data[s.at:], p))
	return len(p), nil
}

func (s *seekable) Seek(offset int64, whence int) (int64, error) {
	if whence != io.SeekStart {
		return 0, errors.ErrUnsupported
	}
	s.at = offset
	return s.at, nil
}

// seed adds the files of a pattern that are small enough.
func seed(f *testing.F, pattern string) {
	f.Helper()
	names, err := filepath.Glob(filepath.Join("testdata", pattern))
	if err != nil || len(names) == 0 {
		f.Fatalf("no file is named like %s, %v", pattern, err)
	}
	for _, name := range names {
		data, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		if len(data) <= mostFuzzed {
			f.Add(data)
		}
	}
}

func FuzzASCII(f *testing.F) {
	seed(f, "*.asc")
	f.Add([]byte("ncols 2\nnrows 2\nxllcenter 0\nyllcenter 0\ncellsize 0.1\n1 2,5\n-9999 4"))
	fuzzReader(f, "a.asc")
}

func FuzzTIFF(f *testing.F) {
	seed(f, filepath.Join("tiff", "*.tif"))
	fuzzReader(f, "a.tif")
}

func FuzzPoints(f *testing.F) {
	f.Add([]byte("lon,lat,z\n0,0,1\n0.1,0,2\n0,0.1,3\n0.1,0.1,\n"))
	f.Add([]byte("0 0 1\n0 1 2\n1 0 3\n1 1 4\n"))
	fuzzReader(f, "a.csv")
}

// Tiles of heights are told by their names and sizes alone: of 1201 or 3601 rows, which
// are too large to be changed byte by byte; what is tried is that nothing else passes.
func FuzzHGT(f *testing.F) {
	f.Add("N00E006.hgt", []byte{0, 1, 0, 2})
	f.Add("S89W180.hgt", make([]byte, 2*1201))
	f.Add("x.hgt", []byte{})
	f.Fuzz(func(t *testing.T, name string, data []byte) {
		file, err := terrain.NewFile(name, bytes.NewReader(data), int64(len(data)))
		if err == nil {
			file.At(0, 0)
			file.Close()
		} else if geo.KindOf(err) != geo.Invalid {
			t.Fatal(err)
		}
	})
}

// The same over whole tiles: any name, any heights in a few places.
func FuzzWholeHGT(f *testing.F) {
	f.Add("N00E006.hgt", uint32(7), int16(300))
	f.Add("S01W001.hgt", uint32(1201*1201-1), int16(math.MinInt16))
	tile := make([]byte, 2*1201*1201)
	f.Fuzz(func(t *testing.T, name string, at uint32, height int16) {
		i := int(at) % (1201 * 1201)
		tile[2*i], tile[2*i+1] = byte(uint16(height)>>8), byte(uint16(height))
		defer func() { tile[2*i], tile[2*i+1] = 0, 0 }()
		file, err := terrain.NewFile(name, bytes.NewReader(tile), int64(len(tile)))
		if err != nil {
			if geo.KindOf(err) != geo.Invalid {
				t.Fatal(err)
			}
			return
		}
		defer file.Close()
		z, ok := file.At(i/1201, i%1201)
		if ok != (height != math.MinInt16) || ok && z != float64(height) {
			t.Fatalf("%s: %d became %v, %v", name, height, z, ok)
		}
	})
}
