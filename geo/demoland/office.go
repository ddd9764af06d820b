package demoland

import "waterstrike/geo/coord"

// Office keeps the papers of one part of the region, in its own language and habits.
type Office struct {
	Lang   Lang
	Name   string
	Prefix string // of its bore numbers
}

// offices in the order west-north, east, west-south.
var offices = []Office{
	{English, "North-west water office", "NW"},
	{French, "Bureau de l'hydraulique, secteur est", "E"},
	{Portuguese, "Gabinete de águas do sudoeste", "SO"},
}

// officeAt is the office in whose part p lies: the east reaches over the meridian of
// Greenwich and so over two UTM zones.
func officeAt(p coord.LonLat) Office {
	switch {
	case p.Lon > middleLon+0.07:
		return offices[1]
	case p.Lat > middleLat:
		return offices[0]
	}
	return offices[2]
}
