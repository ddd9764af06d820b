package main

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strconv"

	"waterstrike/advisor"
	"waterstrike/advisor/method"
	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/terrain"
)

// surface is what was answered for the cells of a frame, by rows.
type surface struct {
	terrain.Frame
	methods []method.Method
	spots   []advisor.Spot
}

// middles lists the positions of the cells. A cell without a place on earth is off the
// globe, and is not answered.
func (s *surface) middles() []coord.LonLat {
	out := make([]coord.LonLat, 0, s.Rows*s.Cols)
	for row := range s.Rows {
		for col := range s.Cols {
			p, ok := s.Middle(row, col)
			if !ok {
				p = coord.LonLat{Lon: 1000}
			}
			out = append(out, p)
		}
	}
	return out
}

// told is one number of a spot, its name with the unit, and how many decimals it has.
type told struct {
	name   string
	digits int
	of     func(*advisor.Spot) (float64, bool)
}

// numbers are what a surface tells of each spot.
func numbers() []told {
	spread := func(name, unit string, digits int, of func(*advisor.Spot) geo.Opt[advisor.Spread]) []told {
		part := func(end string, value func(advisor.Spread) float64) told {
			return told{name + end + unit, digits, func(s *advisor.Spot) (float64, bool) {
				v, ok := of(s).Get()
				return value(v), ok
			}}
		}
		return []told{
			part("", func(v advisor.Spread) float64 { return v.Value }),
			part("_lo", func(v advisor.Spread) float64 { return v.Lo }),
			part("_hi", func(v advisor.Spread) float64 { return v.Hi }),
		}
	}
	var out []told
	out = append(out, spread("chance", "", 3, func(s *advisor.Spot) geo.Opt[advisor.Spread] { return s.Chance })...)
	out = append(out, spread("design_low", "_m", 2, func(s *advisor.Spot) geo.Opt[advisor.Spread] { return s.DesignLowM })...)
	out = append(out, spread("refusal", "_m", 1, func(s *advisor.Spot) geo.Opt[advisor.Spread] { return s.RefusalM })...)
	return append(out,
		told{"bores_for_water", 0, func(s *advisor.Spot) (float64, bool) { return float64(s.Bores.ForWater), true }},
		told{"bores_for_layers", 0, func(s *advisor.Spot) (float64, bool) { return float64(s.Bores.ForLayers), true }})
}

// surfaceTIFF writes a band for each number, the last one for the method by its place in
// the list that its name gives.
func (a *app) surfaceTIFF(w io.Writer, s *surface) error {
	out, ok := w.(io.WriteSeeker)
	if !ok {
		return errors.New("the file cannot be written in two places")
	}
	var bands []terrain.Band
	for _, n := range numbers() {
		bands = append(bands, terrain.Band{Name: n.name, Values: func(row, col int) (float64, bool) { return s.at(row, col, n.of) }})
	}
	name, place := "method:", map[geo.Method]float64{}
	for i, m := range s.methods {
		name += fmt.Sprintf(" %d=%s", i+1, m.Code)
		place[m.Code] = float64(i + 1)
	}
	bands = append(bands, terrain.Band{Name: name, Values: func(row, col int) (float64, bool) {
		return s.at(row, col, func(p *advisor.Spot) (float64, bool) { return place[p.Method], p.Method != "" })
	}})
	return terrain.WriteBands(a.ctx, out, s.Frame, bands, nil)
}

// at returns a number of a cell; false outside.
func (s *surface) at(row, col int, of func(*advisor.Spot) (float64, bool)) (float64, bool) {
	if row >= s.Rows || col >= s.Cols {
		return 0, false
	}
	return of(&s.spots[row*s.Cols+col])
}

// surfaceCSV writes a row for each cell, what is missing left empty.
func (a *app) surfaceCSV(w io.Writer, s *surface) error {
	rows := csv.NewWriter(w)
	rows.UseCRLF = true // RFC 4180, section 2, rule 1
	told := numbers()
	line := []string{"lon", "lat", "method"}
	for _, n := range told {
		line = append(line, n.name)
	}
	err := rows.Write(line)
	for i, at := range s.middles() {
		line = append(line[:0], decimal(at.Lon, 6), decimal(at.Lat, 6), string(s.spots[i].Method))
		for _, n := range told {
			cell := ""
			if v, ok := n.of(&s.spots[i]); ok {
				cell = strconv.FormatFloat(v, 'f', n.digits, 64)
			}
			line = append(line, cell)
		}
		err = errors.Join(err, rows.Write(line))
	}
	rows.Flush()
	return errors.Join(err, rows.Error())
}
