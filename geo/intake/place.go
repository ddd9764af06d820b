package intake

import "waterstrike/geo"

// village reads one row of a table of villages; without a name or a position there is
// nowhere to send a crew.
func (r *run) village(c *cells) (bool, error) {
	id := VillageID(r.mapping.Dataset, c.key)
	c.record = string(id)
	at, ok := r.positionOf(c).Get()
	if !ok {
		r.unplacedVillage(c)
		return false, nil
	}
	if r.repeated(c, VillageTwice) {
		return false, nil
	}
	v := geo.Village{ID: id, Name: c.text("name"), Position: at, People: c.count("people"), Source: r.source(c)}
	if v.Name == "" {
		c.reject(MissingValue, c.table.fields["name"].name, "")
		return false, nil
	}
	checked, err := geo.NewVillage(v)
	if err != nil {
		c.reject(InvalidRecord, c.keyName(), err.Error())
		return false, nil
	}
	r.count.Villages++
	r.places.add(checked)
	return true, r.sink.AddVillage(checked)
}

// repeated rejects a row of a place that was there before.
func (r *run) repeated(c *cells, twice geo.Code) bool {
	id := recordID(r.mapping.Dataset, c.table.Table.Kind, c.key)
	if r.seen[id] {
		c.reject(twice, c.keyName(), c.key)
		return true
	}
	r.seen[id] = true
	return false
}
