package terrain

import (
	"bufio"
	"math"
	"slices"
	"strconv"
	"strings"
)

// points is a list of points that stand on a regular grid, in any order; where none
// stands, the value is missing.
type points struct {
	at Frame
	z  []float32
}

// maxPoints is how long a list may be: 24 bytes a point are held while it is read.
const maxPoints = 20_000_000

func openPoints(in input) (source, error) {
	list, degrees, err := readPoints(bufio.NewScanner(in.stream()))
	if err != nil {
		return nil, err
	}
	x, errX := findLattice(list, 0)
	y, errY := findLattice(list, 1)
	if errX != nil || errY != nil {
		return nil, broken("the points do not stand on a regular grid: column x: %v; column y: %v", errX, errY)
	}
	// A few points far apart are no grid, and would make a huge one.
	if x.n > 64*len(list)/y.n+64 || x.n > MaxCells/y.n {
		return nil, broken("%d points stand on a grid of %d by %d; too few for it", len(list), y.n, x.n)
	}
	f := Frame{
		Rows: y.n, Cols: x.n, CellX: x.step, CellY: y.step,
		West: x.first - x.step/2, North: y.first + (float64(y.n)-0.5)*y.step,
	}
	if f.System = guessSystem(f, in.beside(".prj")); degrees {
		f.System = System{}
	}
	p := &points{f, make([]float32, x.n*y.n)}
	for i := range p.z {
		p.z[i] = missing
	}
	for _, at := range list {
		cell := (y.n-1-y.place(at[1]))*x.n + x.place(at[0])
		if known(p.z[cell]) && p.z[cell] != float32(at[2]) {
			return nil, broken("two elevations for the point %v, %v", at[0], at[1])
		}
		p.z[cell] = float32(at[2])
	}
	return p, nil
}

func (p *points) frame() Frame                      { return p.at }
func (p *points) size() (int, int)                  { return p.at.Rows, p.at.Cols }
func (p *points) block(_, _ int) ([]float32, error) { return p.z, nil }

// pointNames are what the columns x, y and z may be called.
var pointNames = [3][]string{
	{"x", "lon", "long", "longitude", "easting", "east"},
	{"y", "lat", "latitude", "northing", "north"},
	{"z", "elevation", "elev", "height", "altitude", "alt"},
}

// readPoints reads a list with or without a header; columns of other names are passed over,
// and without a header the first three count. Rows without an elevation are left out.
func readPoints(lines *bufio.Scanner) (list [][3]float64, degrees bool, err error) {
	columns := [3]int{0, 1, 2}
	for line := 1; lines.Scan(); line++ {
		cells := fields(strings.TrimPrefix(lines.Text(), "\ufeff"))
		if len(cells) == 0 {
			continue
		}
		if line == 1 {
			if found, ok := header(cells); ok {
				columns = found
				degrees = strings.HasPrefix(strings.ToLower(cells[columns[0]]), "lon")
				continue
			}
		}
		p, full, msg := point(cells, columns)
		if msg != "" {
			return nil, false, &FormatError{Line: line, Msg: msg}
		}
		if full {
			list = append(list, p)
		}
		if len(list) > maxPoints {
			return nil, false, unread("more than %d points; turn the list into a GeoTIFF first", maxPoints)
		}
	}
	if lines.Err() != nil {
		return nil, false, broken("%v", lines.Err())
	}
	if len(list) < 4 {
		return nil, false, broken("%d points make no grid", len(list))
	}
	return list, degrees, nil
}

// fields splits a line at the separator it has: a semicolon, a comma, tabs or spaces.
func fields(line string) []string {
	for _, separator := range []string{";", ",", "\t"} {
		if strings.Contains(line, separator) {
			cells := strings.Split(line, separator)
			for i := range cells {
				cells[i] = strings.Trim(strings.TrimSpace(cells[i]), `"`)
			}
			return cells
		}
	}
	return strings.Fields(line)
}

// header finds the columns by their names; false if the line names none of them.
func header(cells []string) (columns [3]int, ok bool) {
	for i, names := range pointNames {
		columns[i] = slices.IndexFunc(cells, func(c string) bool { return slices.Contains(names, strings.ToLower(c)) })
		if columns[i] < 0 {
			return columns, false
		}
	}
	return columns, true
}

// point reads one row; full is false where it has no elevation.
func point(cells []string, columns [3]int) (p [3]float64, full bool, msg string) {
	for i, column := range columns {
		if column >= len(cells) {
			return p, false, "a row has fewer than its columns x, y and z"
		}
		if i == 2 && cells[column] == "" {
			return p, false, ""
		}
		v, err := strconv.ParseFloat(cells[column], 64)
		if err != nil || math.IsNaN(v) || math.Abs(v) > 1e9 {
			return p, false, strconv.Quote(cells[column]) + " is no number; name the columns x, y and z in the first line"
		}
		p[i] = v
	}
	return p, true, ""
}
