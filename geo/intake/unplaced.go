package intake

import (
	"cmp"

	"waterstrike/geo"
	"waterstrike/geo/coord"
)

// villageSpreadM is how far from the position of its village a water point may lie (common
// practice, no source).
const villageSpreadM = 1000

// pointPosition reads where a water point lies, or takes the position of the village that
// its place is named after. One that cannot be placed is listed, with what is missing.
func (r *run) pointPosition(c *cells) (coord.Reading, bool) {
	if at, ok := r.positionOf(c).Get(); ok {
		return at, true
	}
	field := "place"
	if c.text(field) == "" {
		field = "name"
	}
	name := c.text(field)
	v, confidence := r.places.match(name)
	if confidence >= likelyVillage {
		c.reportVillage(geo.Doubt, PlacedAtVillage, field, v, confidence)
		return atVillage(v, name), true
	}
	c.rejectUnplaced()
	if place := c.text("place"); place != "" {
		c.report(geo.Rejected, NoSuchVillage, c.table.fields["place"].name, place)
	}
	return coord.Reading{}, false
}

func atVillage(v geo.Village, name string) coord.Reading {
	return coord.Reading{
		Pos: v.Position.Pos, AsRead: name, CRS: v.Position.CRS, Operation: v.Position.Operation,
		PrecisionM: max(v.Position.PrecisionM, villageSpreadM),
	}
}

// unplacedVillage lists a village without a position, and says whether it may be one that
// is known already.
func (r *run) unplacedVillage(c *cells) {
	c.rejectUnplaced()
	if v, confidence := r.places.match(c.text("name")); confidence >= likelyVillage {
		c.reportVillage(geo.Rejected, UnplacedVillage, "name", v, confidence)
	}
}

// rejectUnplaced turns the doubt about a missing position into a rejected row.
func (c *cells) rejectUnplaced() {
	for i := range c.issues {
		if c.issues[i].Message.Code == MissingPosition {
			c.issues[i].Severity = geo.Rejected
		}
	}
}

// pointName calls a water point by its name and its place, by one where there is no other.
func (c *cells) pointName() string {
	name, place := c.text("name"), c.text("place")
	if name == "" || place == "" || name == place {
		return cmp.Or(name, place)
	}
	return name + ", " + place
}
