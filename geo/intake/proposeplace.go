package intake

import (
	"strings"

	"waterstrike/geo/coord"
)

// place writes the position of the table from the columns taken.
func (d *draft) place() {
	if !kinds[d.kind].position {
		return
	}
	lon, lat, east, north := d.taken["lon"], d.taken["lat"], d.taken["east"], d.taken["north"]
	switch {
	case lon != nil && lat != nil:
		d.table.Position = &Position{Kind: "lon-lat", Lon: lon.name, Lat: lat.name, Datum: d.datum(lon.datum)}
		if lon.times["0"] > 0 && lat.times["0"] > 0 {
			d.table.Position.Missing = []string{"0"}
			d.doubt(lon, "propose.placeholder", "0")
		}
		for _, meant := range []string{"east", "north", "zone"} {
			if d.taken[meant] != nil {
				d.drop(meant, "propose.other-column", lon.name)
			}
		}
	case east != nil && north != nil:
		d.projected(east, north)
	default:
		d.note("propose.no-position", "")
	}
}

func (d *draft) projected(east, north *profile) {
	grid := d.grid(east.grid)
	if zone := d.taken["zone"]; grid == "" && zone != nil && zone.share(isZone) >= enough {
		grid = "WGS 84 / UTM zone {" + zone.name + "}"
	}
	if grid == "" {
		d.drop("east", "propose.no-grid", "")
		d.drop("north", "propose.no-grid", "")
		d.note("propose.no-position", "")
		return
	}
	if d.chosen.Grid == "" && !strings.Contains(strings.ToLower(east.name), "wgs") {
		d.doubt(east, "propose.datum", "WGS 84")
	}
	d.table.Position = &Position{Kind: "projected", East: east.name, North: north.name, CRS: grid}
}

func isZone(text string) bool {
	_, err := coord.ParseProjection("WGS 84 / UTM zone " + text)
	return err == nil
}

// datum is the one that a person named, where it is known, or else the name's.
func (d *draft) datum(named string) string {
	if d.chosen.Datum == "" {
		return named
	}
	if _, err := coord.ParseDatum(d.chosen.Datum); err != nil {
		d.note("propose.bad-datum", d.chosen.Datum)
		return named
	}
	return d.chosen.Datum
}

// grid is the one that a person named, where it is known, or else the name's.
func (d *draft) grid(named string) string {
	if d.chosen.Grid == "" {
		return named
	}
	if _, err := coord.ParseProjection(d.chosen.Grid); err != nil {
		d.note("propose.bad-grid", d.chosen.Grid)
		return named
	}
	return d.chosen.Grid
}
