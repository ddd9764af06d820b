package main

import (
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"time"

	"waterstrike/advisor"
	"waterstrike/advisor/method"
	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/terrain"
)

// surfaceCmd works out chance, depth to water, depth to refusal and evidence cell by cell.
type surfaceCmd struct {
	From   string  `arg:"" help:"${flag_corner_from}"`
	To     string  `arg:"" help:"${flag_corner_to}"`
	File   string  `arg:"" type:"path" help:"${flag_surface_file}"`
	Cell   float64 `default:"500" help:"${flag_cell}"`
	Method string  `placeholder:"${takes_method}" help:"${flag_by}"`
	Seed   uint64  `default:"1" help:"${flag_seed}"`
}

// mostCells is how many cells a surface has at most: minutes of work and 200 MB.
const mostCells = 1_000_000

// Run works the cells out and writes the file.
func (c *surfaceCmd) Run(a *app) error {
	write, err := writerOf(c.File)
	if err != nil {
		return err
	}
	frame, err := c.frame()
	if err != nil {
		return err
	}
	rules, err := a.ownRules()
	if err != nil {
		return err
	}
	if err := knownMethod(rules.Methods, c.Method); err != nil {
		return err
	}
	base, err := a.openToRead()
	if err != nil {
		return err
	}
	defer base.Close()
	snapshot, done, err := a.evidence(base)
	if err != nil {
		return err
	}
	defer done()
	adviser, err := a.newAdvisor(snapshot)
	if err != nil {
		return err
	}
	s := surface{Frame: frame, methods: adviser.Methods()}
	question := advisor.SurfaceQuestion{At: s.middles(), Method: geo.Method(c.Method), Seed: c.Seed}
	if s.spots, err = adviser.Surface(a.ctx, question, a.surfacing()); err != nil {
		return err
	}
	if err := a.place(c.File, func(w io.Writer) error { return write(a, w, &s) }); err != nil {
		return err
	}
	a.say(geo.Say("surface.done", geo.With("n", geo.Count(len(s.spots))), geo.With("length", geo.Metres(c.Cell)),
		geo.With("file", geo.Text(c.File))))
	return nil
}

// writerOf picks the form of a file by its ending, before the work.
func writerOf(path string) (func(*app, io.Writer, *surface) error, error) {
	if _, err := os.Lstat(path); err == nil {
		return nil, inTheWay(path, err)
	}
	switch strings.ToLower(filepath.Ext(path)) {
	case ".tif", ".tiff":
		return (*app).surfaceTIFF, nil
	case ".csv":
		return (*app).surfaceCSV, nil
	}
	return nil, geo.Fail(geo.Invalid, "surface", geo.Say("surface.bad-ending", geo.With("file", geo.Text(path))), nil)
}

// knownMethod tells a method that the programme does not have before the work.
func knownMethod(methods []method.Method, code string) error {
	var known []string
	for _, m := range methods {
		if code == "" || string(m.Code) == code {
			return nil
		}
		known = append(known, string(m.Code))
	}
	return geo.Fail(geo.Invalid, "surface", geo.Say("surface.bad-method",
		geo.With("value", geo.Text(code)), geo.With("allowed", geo.Text(strings.Join(known, ", ")))), nil)
}

// frame lays cells over the box of both corners, on the UTM grid of its middle, edges at
// whole multiples of a cell so that neighbouring surfaces join.
func (c *surfaceCmd) frame() (f terrain.Frame, err error) {
	if !(c.Cell >= 10 && c.Cell <= 1e5) {
		return f, geo.Fail(geo.Invalid, "surface", geo.Say("surface.bad-cell"), nil)
	}
	from, err := readPosition(c.From)
	if err != nil {
		return f, err
	}
	to, err := readPosition(c.To)
	if err != nil {
		return f, err
	}
	grid := coord.UTM(coord.LonLat{Lon: (from.Lon + to.Lon) / 2, Lat: (from.Lat + to.Lat) / 2})
	west, south, east, north := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, corner := range []coord.LonLat{from, to, {Lon: from.Lon, Lat: to.Lat}, {Lon: to.Lon, Lat: from.Lat}} {
		p, _, err := grid.Project(corner)
		if err != nil {
			return f, geo.Fail(geo.Invalid, "surface", geo.Say("surface.too-wide"), err)
		}
		west, east = min(west, p.EastingM), max(east, p.EastingM)
		south, north = min(south, p.NorthingM), max(north, p.NorthingM)
	}
	if !(east-west >= 1 && north-south >= 1) {
		return f, geo.Fail(geo.Invalid, "surface", geo.Say("surface.no-area"), nil)
	}
	down, up := func(v float64) float64 { return math.Floor(v/c.Cell) * c.Cell }, func(v float64) float64 { return math.Ceil(v/c.Cell) * c.Cell }
	west, south, east, north = down(west), down(south), up(east), up(north)
	rows, cols := (north-south)/c.Cell, (east-west)/c.Cell
	if rows*cols > mostCells {
		return f, geo.Fail(geo.Invalid, "surface", geo.Say("surface.too-many",
			geo.With("n", geo.Count(int(rows*cols))), geo.With("total", geo.Count(mostCells))), nil)
	}
	return terrain.Frame{
		System: terrain.UTM(grid), Rows: int(rows + 0.5), Cols: int(cols + 0.5),
		West: west, North: north, CellX: c.Cell, CellY: c.Cell,
	}, nil
}

// surfacing writes how many cells are done to the error output, once a second.
func (a *app) surfacing() advisor.Progress {
	last := time.Now()
	return func(done, total int) {
		if time.Since(last) >= time.Second {
			last = time.Now()
			a.complain(geo.Say("surface.progress", geo.With("n", geo.Count(done)), geo.With("total", geo.Count(total))))
		}
	}
}
