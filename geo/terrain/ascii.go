package terrain

import (
	"bufio"
	"errors"
	"io"
	"math"
	"strconv"
	"strings"

	"waterstrike/geo/coord"
)

// ascii is an ESRI ASCII grid: a head of names and numbers, then the values by rows from
// the north. Source: Esri ASCII raster format, ArcGIS documentation; dx and dy for oblong
// cells and nan for no value as GDAL's AAIGrid driver writes them.
type ascii struct {
	in    input
	at    Frame
	empty float64 // the value that stands for none
}

var asciiNames = map[string]bool{
	"ncols": true, "nrows": true, "xllcorner": true, "xllcenter": true, "yllcorner": true, "yllcenter": true,
	"cellsize": true, "dx": true, "dy": true, "nodata_value": true,
}

func openASCII(in input) (source, error) {
	w := newWords(in.stream())
	head, err := w.head()
	if err != nil {
		return nil, err
	}
	a := &ascii{in: in, empty: -9999}
	if v, given := head["nodata_value"]; given {
		a.empty = v
	}
	a.at, err = asciiFrame(head)
	if err != nil {
		return nil, err
	}
	a.at.System = guessSystem(a.at, in.beside(".prj"))
	// A value takes a digit and a space at least: no room is made for cells that cannot be there.
	if cells := int64(a.at.Rows) * int64(a.at.Cols); 2*cells-1 > in.bytes {
		return nil, broken("%d cells are promised, but the file is too short for them; fetch it again", cells)
	}
	return a, nil
}

// asciiFrame reads the frame from the head.
func asciiFrame(head map[string]float64) (Frame, error) {
	var f Frame
	first := func(names ...string) (float64, string) {
		for _, n := range names {
			if v, given := head[n]; given {
				return v, n
			}
		}
		return math.NaN(), names[0]
	}
	cols, _ := first("ncols")
	rows, _ := first("nrows")
	if !(rows >= 1 && cols >= 1 && rows <= MaxCells && cols <= MaxCells) || rows != math.Trunc(rows) || cols != math.Trunc(cols) {
		return f, broken("ncols and nrows must be whole numbers of at least 1")
	}
	f.Rows, f.Cols = int(rows), int(cols)
	f.CellX, _ = first("dx", "cellsize")
	f.CellY, _ = first("dy", "cellsize")
	west, atX := first("xllcorner", "xllcenter")
	south, atY := first("yllcorner", "yllcenter")
	if atX == "xllcenter" {
		west -= f.CellX / 2
	}
	if atY == "yllcenter" {
		south -= f.CellY / 2
	}
	f.West, f.North = west, south+rows*f.CellY
	if math.IsNaN(f.West) || math.IsNaN(f.North) {
		return f, broken("the head lacks a corner or a cell size; xllcorner, yllcorner and cellsize are needed")
	}
	return f, nil
}

func (a *ascii) frame() Frame     { return a.at }
func (a *ascii) size() (int, int) { return a.at.Rows, a.at.Cols }

// block reads all values: nothing in a text says where a row begins.
func (a *ascii) block(_, _ int) ([]float32, error) {
	w := newWords(a.in.stream())
	if _, err := w.head(); err != nil {
		return nil, err
	}
	z := make([]float32, a.at.Rows*a.at.Cols)
	for i := range z {
		v, err := w.number()
		if errors.Is(err, io.EOF) {
			return nil, broken("%d of %d values are there; fetch the file again", i, len(z))
		}
		if err != nil {
			return nil, err
		}
		z[i] = float32(v)
		if v == a.empty || math.IsInf(float64(z[i]), 0) {
			z[i] = missing
		}
	}
	return z, nil
}

// words reads a text word by word and counts its lines.
type words struct {
	r    *bufio.Reader
	line int
	word []byte
	back bool // word has been read ahead
}

func newWords(r io.Reader) *words { return &words{r: bufio.NewReaderSize(r, 1<<16), line: 1} }

// longestWord is more than any number takes.
const longestWord = 64

// next returns the next word, valid until the call after it.
func (w *words) next() ([]byte, error) {
	if w.back {
		w.back = false
		return w.word, nil
	}
	w.word = w.word[:0]
	for {
		c, err := w.r.ReadByte()
		switch {
		case err != nil && len(w.word) > 0:
			return w.word, nil
		case err != nil:
			return nil, err
		case c > ' ':
			if w.word = append(w.word, c); len(w.word) > longestWord {
				return nil, w.fault("a word of more than 64 letters; this is no grid of numbers")
			}
			continue
		case len(w.word) > 0:
			return w.word, w.r.UnreadByte()
		case c == '\n':
			w.line++
		}
	}
}

func (w *words) fault(msg string) error { return &FormatError{Line: w.line, Msg: msg} }

// number reads a number; a decimal comma is read as a point.
func (w *words) number() (float64, error) {
	word, err := w.next()
	if err != nil {
		return 0, err
	}
	text := string(word)
	v, err := strconv.ParseFloat(text, 64)
	if err != nil && !errors.Is(err, strconv.ErrRange) {
		v, err = strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64)
	}
	if err != nil && !errors.Is(err, strconv.ErrRange) {
		return 0, w.fault("\"" + text + "\" is no number")
	}
	return v, nil
}

// head reads names and their numbers up to the first word that is no name.
func (w *words) head() (map[string]float64, error) {
	head := map[string]float64{}
	for {
		word, err := w.next()
		if err != nil {
			return nil, broken("the file ends within its head")
		}
		name := strings.ToLower(string(word))
		if !asciiNames[name] {
			w.back = true
			return head, nil
		}
		if head[name], err = w.number(); err != nil {
			return nil, w.fault("no number follows " + name)
		}
	}
}

// guessSystem tells the system of a grid that does not say: by the text of a .prj file
// beside it, else degrees where all coordinates could be degrees, else a plane.
func guessSystem(f Frame, prj string) System {
	if _, rest, found := strings.Cut(prj, `PROJCS["`); found {
		name, _, _ := strings.Cut(rest, `"`)
		if grid, err := coord.ParseProjection(strings.ReplaceAll(name, "_", " ")); err == nil {
			return UTM(grid)
		}
	}
	if f.onEarth() && f.CellX <= 1 && f.CellY <= 1 {
		return System{}
	}
	return PlaneMetres
}
