package publish

import (
	"maps"
	"slices"

	"waterstrike/geo"
	"waterstrike/geo/intake"
)

// partForm reads parts of bores. put gives a part to a bore, whose rules judge it.
func partForm[T any](columns []column[T], put func(*geo.Bore, T)) form {
	return form{namesOf(ofBore(columns...)), "", func(in *reader, r *row) error {
		p, err := record(r, columns)
		if err != nil {
			return err
		}
		return handOn(in, r, p, put)
	}}
}

// testForm reads tests, with the readings that stand in a file of their own.
func testForm() form {
	columns := testColumns()
	return form{namesOf(ofTest(columns...)), "", func(in *reader, r *row) error {
		t, err := record(r, columns)
		if err != nil {
			return err
		}
		t.Readings = claim(in.readings, testKey(r))
		return handOn(in, r, t, func(b *geo.Bore, t geo.PumpTest) { b.Tests = []geo.PumpTest{t} })
	}}
}

func handOn[T any](in *reader, r *row, p T, put func(*geo.Bore, T)) error {
	id := r.cell("bore_id")
	if !in.known[id] {
		return &fault{intake.UnmatchedParent, "bore_id", id}
	}
	probe := geo.Bore{ID: geo.BoreID(id)}
	put(&probe, p)
	if _, err := checked(probe, geo.NewBore); err != nil {
		return err
	}
	in.count.Parts++
	return in.sink.AddPart(id, r.file, r.number, p)
}

// children are parts that wait for what they belong to, which takes them whole.
type children[T any] map[string][]child[T]

// child is one of them with the row that it stood in.
type child[T any] struct {
	of  T
	row row
}

// childForm keeps parts until what they belong to is read.
func childForm[T any](of func(...column[T]) []column[part[T]], columns []column[T], key func(*row) string, where func(*reader) children[T]) form {
	return form{namesOf(of(columns...)), "", func(in *reader, r *row) error {
		v, err := record(r, columns)
		if err != nil {
			return err
		}
		all := where(in)
		all[key(r)] = append(all[key(r)], child[T]{v, row{file: r.file, number: r.number}})
		return nil
	}}
}

func testKey(r *row) string { return r.cell("bore_id") + " " + r.cell("test") }

func pointKey(r *row) string { return r.cell("water_point_id") }

// claim takes the children of one key.
func claim[T any](all children[T], key string) []T {
	var out []T
	for _, c := range all[key] {
		out = append(out, c.of)
	}
	delete(all, key)
	return out
}

// unclaimed lists the children that belong to nothing.
func unclaimed[T any](in *reader, all children[T]) error {
	for _, key := range slices.Sorted(maps.Keys(all)) {
		for _, c := range all[key] {
			if err := in.list(&c.row, &fault{intake.UnmatchedParent, "id", key}); err != nil {
				return err
			}
			at := slices.IndexFunc(in.count.Files, func(f intake.FileCount) bool { return f.File == c.row.file })
			in.count.Files[at].Applied--
			in.count.Files[at].Rejected++
		}
	}
	return nil
}
