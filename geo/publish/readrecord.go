package publish

import (
	"waterstrike/geo"
	"waterstrike/geo/intake"
)

// recordForm reads records, each with the id of its first column.
func recordForm[T any](mark string, columns []column[T], add func(*reader, *row, T) error) form {
	return form{namesOf(columns), mark, func(in *reader, r *row) error {
		v, err := record(r, columns)
		if err != nil {
			return err
		}
		if id := r.cell(columns[0].name); in.known[id] {
			return &fault{intake.DuplicateRow, columns[0].name, id}
		}
		return add(in, r, v)
	}}
}

func (in *reader) bore(_ *row, b geo.Bore) error {
	b, err := checked(b, geo.NewBore)
	if err != nil {
		return err
	}
	in.known[string(b.ID)] = true
	in.count.Bores++
	return in.sink.AddBore(string(b.ID), b)
}

func (in *reader) village(_ *row, v geo.Village) error {
	v, err := checked(v, geo.NewVillage)
	if err != nil {
		return err
	}
	in.known[string(v.ID)] = true
	in.count.Villages++
	return in.sink.AddVillage(v)
}

func (in *reader) waterPoint(r *row, w geo.WaterPoint) error {
	if r.table {
		w.Visits = claim(in.visits, string(w.ID))
	}
	w, err := checked(w, geo.NewWaterPoint)
	if err != nil {
		return err
	}
	in.known[string(w.ID)] = true
	in.count.WaterPoints++
	return in.sink.AddWaterPoint(w)
}

// checked lets a record's own rules judge it.
func checked[T any](v T, check func(T) (T, error)) (T, error) {
	out, err := check(v)
	if err != nil {
		return v, &fault{intake.InvalidRecord, "id", err.Error()}
	}
	return out, nil
}
