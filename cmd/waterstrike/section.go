package main

import (
	"io"

	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/store"
	"waterstrike/server/sheet"
)

// sectionCmd draws the expected ground along a line with the bores beside it.
type sectionCmd struct {
	From  string  `arg:"" help:"${flag_line_from}"`
	To    string  `arg:"" help:"${flag_line_to}"`
	File  string  `arg:"" type:"path" help:"${flag_line_file}"`
	Aside float64 `default:"1500" help:"${flag_aside}"`
	Deep  float64 `default:"40" help:"${flag_deep}"`
}

// Run asks along the line and writes the drawing.
func (c *sectionCmd) Run(a *app) error {
	if !(c.Aside >= 0 && c.Aside <= 1e5 && c.Deep >= 1 && c.Deep <= 40) {
		return geo.Fail(geo.Invalid, "section", geo.Say("section.bad-numbers"), nil)
	}
	from, err := readPosition(c.From)
	if err != nil {
		return err
	}
	to, err := readPosition(c.To)
	if err != nil {
		return err
	}
	if !(coord.DistanceM(from, to) >= 1) {
		return geo.Fail(geo.Invalid, "section", geo.Say("section.no-length"), nil)
	}
	if err := a.free(c.File, ""); err != nil {
		return err
	}
	base, err := a.openToRead()
	if err != nil {
		return err
	}
	defer base.Close()
	line, err := c.line(a, base, from, to)
	if err != nil {
		return err
	}
	scene, err := sheet.LineSection(a.words, a.lang, line, false)
	if err != nil {
		return err
	}
	if err := a.place(c.File, func(w io.Writer) error { return scene.WriteSVG(w) }); err != nil {
		return err
	}
	a.say(geo.Say("demo.section", geo.With("file", geo.Text(c.File))))
	return nil
}

// readPosition reads a position given as one argument.
func readPosition(text string) (coord.LonLat, error) {
	reading, err := coord.ReadPair(text, coord.LatLonOrder)
	if err != nil {
		return coord.LonLat{}, geo.Misread("position", text, err)
	}
	return reading.Pos, nil
}

// line asks at every station and gathers the bores beside the line.
func (c *sectionCmd) line(a *app, base *store.Base, from, to coord.LonLat) (sheet.Line, error) {
	snapshot, done, err := a.evidence(base)
	if err != nil {
		return sheet.Line{}, err
	}
	defer done()
	adviser, err := a.newAdvisor(snapshot)
	if err != nil {
		return sheet.Line{}, err
	}
	return along{base, adviser, snapshot}.line(a.ctx, from, to, c.Aside, c.Deep)
}
