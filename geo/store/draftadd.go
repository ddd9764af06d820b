package store

import (
	"errors"
	"fmt"

	"waterstrike/geo"
)

// AddBore adds a bore. Its id is the reader's, the same each time the same row is read;
// key is what parts in other tables call it, empty when there are none. A second bore
// with the same id or key is listed and left out.
func (d *Draft) AddBore(key string, bore geo.Bore) error {
	return addRecord(d, bores, bore, func() (any, error) {
		if key == "" {
			return nil, nil
		}
		err := d.parent(key)
		d.last.known = true
		return d.last.fid, err
	})
}

// AddVillage adds a village; one with a known id is listed and left out.
func (d *Draft) AddVillage(v geo.Village) error { return addRecord(d, villages, v, anyFid) }

// AddWaterPoint adds a water point; one with a known id is listed and left out.
func (d *Draft) AddWaterPoint(w geo.WaterPoint) error { return addRecord(d, waterPoints, w, anyFid) }

// AddBoundary adds a boundary; one with a known id is listed and left out.
func (d *Draft) AddBoundary(b geo.Boundary) error { return addRecord(d, boundaries, b, anyFid) }

// AddRiver adds a river; one with a known id is listed and left out.
func (d *Draft) AddRiver(r geo.River) error { return addRecord(d, rivers, r, anyFid) }

func anyFid() (any, error) { return nil, nil }

// addRecord adds a record that keeps the rules, under the fid that is its own by then.
func addRecord[T any](d *Draft, r record[T], v T, fid func() (any, error)) error {
	const op = "store.Add"
	if err := d.writing(op); err != nil {
		return err
	}
	v, err := ready(r, v)
	if err != nil {
		return err
	}
	return fail(op, d.behind.do(func() error {
		own, err := fid()
		if err != nil {
			return err
		}
		return draftRecord(d, r, own, v)
	}))
}

// draftRecord inserts a record into the draft, or lists it where its id or fid is there.
func draftRecord[T any](d *Draft, r record[T], fid any, v T) error {
	args, err := r.rowArgs(nil, fid, 0, &v)
	if err != nil {
		return err
	}
	result, err := d.s.execNamed(r.name, func() string { return r.insertSQL(1) + " ON CONFLICT DO NOTHING" }, args...)
	if err != nil {
		return err
	}
	if n, err := result.RowsAffected(); err != nil || n == 0 {
		return errors.Join(err, d.listTwice(r.id(&v), r.source(&v)))
	}
	at, err := result.LastInsertId()
	for _, p := range r.parts {
		err = errors.Join(err, p.insert(d.s, at, &v))
	}
	return err
}

func (d *Draft) listTwice(id string, from *geo.Provenance) error {
	return d.insertIssue(geo.Issue{
		Severity: geo.Rejected, File: from.File, Row: from.Row, Record: id,
		Message: geo.Say("issue.duplicate-record"),
	})
}

// AddPart adds a part of the bore that the files call key: a [geo.Layer], [geo.Strike],
// [geo.Level], [geo.Pipe], [geo.Fill], [geo.PumpTest] or [geo.Sample] from a row of a
// file. Parts may come before their bore.
func (d *Draft) AddPart(key, file string, row int, part any) error {
	const op = "store.AddPart"
	if err := d.writing(op); err != nil {
		return err
	}
	if err := checkPart(part); err != nil {
		return err
	}
	return fail(op, d.behind.do(func() error { return d.draftPart(key, file, row, part) }))
}

// draftPart inserts a part, or holds it until all layers of its bore are there.
func (d *Draft) draftPart(key, file string, row int, part any) error {
	if err := d.parent(key); err != nil {
		return err
	}
	if l, many := part.(geo.Layer); many && d.last.known {
		d.held = append(d.held, l)
		return nil
	}
	layer, fid, err := d.insertPart(d.last.fid, part)
	if err == nil && !d.last.known {
		_, err = d.s.exec("INSERT INTO waiting (parent, layer, fid, source_file, source_row) VALUES (?, ?, ?, ?, ?)",
			d.last.fid, layer, fid, file, row)
	}
	return err
}

func (d *Draft) insertPart(parent int64, part any) (layer string, fid int64, err error) {
	switch p := part.(type) {
	case geo.Layer:
		return insertOne(d, &layers, parent, p)
	case geo.Strike:
		return insertOne(d, &strikes, parent, p)
	case geo.Level:
		return insertOne(d, &levels, parent, p)
	case geo.Pipe:
		return insertOne(d, &pipes, parent, p)
	case geo.Fill:
		return insertOne(d, &fills, parent, p)
	case geo.PumpTest:
		return insertOne(d, &tests, parent, p)
	case geo.Sample:
		return insertOne(d, &samples, parent, p)
	}
	return "", 0, geo.Fail(geo.Internal, "store.AddPart", geo.Message{}, fmt.Errorf("%T is no part of a bore", part))
}

func insertOne[T any](d *Draft, t *table[T], parent int64, v T) (string, int64, error) {
	fid, err := insertRow(d.s, t, nil, parent, &v)
	return t.name, fid, err
}

// checkPart lets the bore's own rules judge one part.
func checkPart(part any) error {
	probe := geo.Bore{ID: "00000000-0000-4000-8000-000000000000"}
	switch p := part.(type) {
	case geo.Layer:
		probe.Layers = []geo.Layer{p}
	case geo.Strike:
		probe.Strikes = []geo.Strike{p}
	case geo.Level:
		probe.Levels = []geo.Level{p}
	case geo.Pipe:
		probe.Pipes = []geo.Pipe{p}
	case geo.Fill:
		probe.Fills = []geo.Fill{p}
	case geo.PumpTest:
		probe.Tests = []geo.PumpTest{p}
	case geo.Sample:
		probe.Samples = []geo.Sample{p}
	}
	_, err := geo.NewBore(probe)
	return err
}

// writeHeld writes the layers of the last bore, many in one statement: nearly all rows of an
// import are layers.
func (d *Draft) writeHeld() error {
	err := insertRows(d.s, &layers, d.last.fid, d.held)
	d.held = d.held[:0]
	return err
}

// parent makes key the last one: the fid of its bore, and whether the bore is there.
func (d *Draft) parent(key string) error {
	if d.last.key == key && d.last.fid != 0 {
		return nil
	}
	if err := d.writeHeld(); err != nil {
		return err
	}
	d.last = parentKey{key: key}
	result, err := d.s.exec("INSERT INTO parent (key) VALUES (?) ON CONFLICT DO NOTHING", key)
	if err != nil {
		return err
	}
	if n, err := result.RowsAffected(); err != nil || n == 1 {
		d.last.fid, _ = result.LastInsertId() // SQLite always knows it
		return err
	}
	return d.s.queryRow("SELECT fid, EXISTS (SELECT 1 FROM bore WHERE fid = parent.fid) FROM parent WHERE key = ?", key).
		Scan(&d.last.fid, &d.last.known)
}
