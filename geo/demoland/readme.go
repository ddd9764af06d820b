package demoland

import (
	"fmt"
	"strings"
)

// aboutFiles says how each file is laid out, and what is wrong beyond single rows.
var aboutFiles = []struct{ name, text string }{
	{"northwest_bores.csv", "English; decimal degrees, metres, litres per minute; levels below the top of the casing, whose height stands beside; ISO dates; NA where missing"},
	{"northwest_layers.csv", "joined to the bores by number; metres; NA for a bottom that nobody wrote"},
	{"est_forages.csv", "French; UTM on WGS 84 in two zones (30N and 31N); semicolons, decimal commas, day/month/year, cubic metres per hour; - where missing"},
	{"est_coupes.csv", "joined to the bores by number; Windows-1252; decimal commas; - for a bottom that nobody wrote"},
	{"sudoeste_furos.csv", "Portuguese; degrees, minutes and seconds on the Minna datum (about 150 m off WGS 84); O is west; feet; one row per layer, the bore's columns repeated; blank where missing"},
	{"villages.csv", "English; some counts of people blank"},
	{"water_points.csv", "one row per visit; dry months as words, 'never' where people said so, blank where nobody asked"},
	{"boundary.geojson", "the region's land"},
	{"rivers.geojson", "streams from source to mouth"},
}

// readme lists the files and every defect in them.
func (m *mess) readme(region string) {
	var b strings.Builder
	fmt.Fprintf(&b, "# The region of %s\n\nInvented; it lies in the open ocean near 0 N 0 E. Licence: CC0-1.0.\n\n", region)
	b.WriteString("| file | how it is laid out |\n|---|---|\n")
	for _, about := range aboutFiles {
		fmt.Fprintf(&b, "| %s | %s |\n", about.name, about.text)
	}
	b.WriteString("\nWhat is wrong, on purpose (row 1 is the first row of data):\n\n| file | row | what |\n|---|---|---|\n")
	for _, d := range m.Defects {
		fmt.Fprintf(&b, "| %s | %d | %s |\n", d.File, d.Row, d.Kind)
	}
	m.Files = append(m.Files, File{Name: "README.md", Data: []byte(b.String())})
}
