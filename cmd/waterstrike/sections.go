package main

import (
	"fmt"
	"os"
	"path/filepath"

	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/demoland"
	"waterstrike/server/sheet"
)

// cuts are the lines along which the invented region is drawn: across the valley at three
// places, along it, from the upland to the coast, and a short one where lenses show.
func cuts() [][2]coord.LonLat {
	return [][2]coord.LonLat{
		{{Lon: -0.42, Lat: 0.75}, {Lon: 0.08, Lat: 0.75}},
		{{Lon: -0.42, Lat: 0.65}, {Lon: 0.08, Lat: 0.65}},
		{{Lon: -0.42, Lat: 0.55}, {Lon: 0.08, Lat: 0.55}},
		{{Lon: -0.17, Lat: 0.90}, {Lon: -0.17, Lat: 0.47}},
		{{Lon: -0.35, Lat: 0.88}, {Lon: 0.02, Lat: 0.48}},
		{{Lon: -0.22, Lat: 0.60}, {Lon: -0.12, Lat: 0.60}},
	}
}

// stations is how many points a section is measured at.
const stations = 600

// drawSections writes sections through the region as SVG, so that anyone can look at the
// ground that the demo and the tests of the science stand on.
func (a *app) drawSections(land *demoland.Land, folder string) error {
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return err
	}
	for i, line := range cuts() {
		if err := a.drawSection(land, line, filepath.Join(folder, fmt.Sprintf("section-%d.svg", i+1))); err != nil {
			return err
		}
	}
	return nil
}

func (a *app) drawSection(land *demoland.Land, line [2]coord.LonLat, path string) error {
	scene, err := sheet.Section(a.words, a.lang, line[0], land.Section(line[0], line[1], stations))
	if err != nil {
		return err
	}
	file, err := os.Create(path)
	if err != nil {
		return err
	}
	defer file.Close()
	if err := scene.WriteSVG(file); err != nil {
		return err
	}
	a.say(geo.Say("demo.section", geo.With("file", geo.Text(path))))
	return file.Close()
}
