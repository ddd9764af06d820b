package publish

import (
	"context"
	"fmt"

	"waterstrike/geo"
)

// table is one table of records or of their parts, for every form that has tables.
type table struct {
	name  string
	heads []head
	// each puts the rows one after another; a row is good until the next.
	each func(ctx context.Context, src Source, put func([]value) error) error
}

// head is the top of a column.
type head struct {
	name string
	kind kind
}

// tables are all of them, records before their parts.
func tables() []table {
	return []table{
		of("bores", boreColumns(), func(ctx context.Context, src Source, put func(*geo.Bore) error) error {
			return src.Bores(ctx, func(b geo.Bore) error { return put(&b) })
		}),
		partsOf("layers", ofBore(layerColumns()...), func(b *geo.Bore) []geo.Layer { return b.Layers }),
		partsOf("strikes", ofBore(strikeColumns()...), func(b *geo.Bore) []geo.Strike { return b.Strikes }),
		partsOf("levels", ofBore(levelColumns()...), func(b *geo.Bore) []geo.Level { return b.Levels }),
		partsOf("pipes", ofBore(pipeColumns()...), func(b *geo.Bore) []geo.Pipe { return b.Pipes }),
		partsOf("fills", ofBore(fillColumns()...), func(b *geo.Bore) []geo.Fill { return b.Fills }),
		partsOf("tests", ofTest(testColumns()...), func(b *geo.Bore) []geo.PumpTest { return b.Tests }),
		of("test_readings", ofTest(testReadingColumns()...), eachTestReading),
		partsOf("samples", ofBore(sampleColumns()...), func(b *geo.Bore) []geo.Sample { return b.Samples }),
		of("villages", villageColumns(), func(ctx context.Context, src Source, put func(*geo.Village) error) error {
			return src.Villages(ctx, func(v geo.Village) error { return put(&v) })
		}),
		of("water_points", waterPointColumns(), func(ctx context.Context, src Source, put func(*geo.WaterPoint) error) error {
			return src.WaterPoints(ctx, func(w geo.WaterPoint) error { return put(&w) })
		}),
		of("visits", ofPoint(visitColumns()...), eachVisit),
	}
}

// of makes a table from its columns and what gives its rows.
func of[T any](name string, columns []column[T], each func(context.Context, Source, func(*T) error) error) table {
	t := table{name: name}
	for _, c := range columns {
		t.heads = append(t.heads, head{c.name, c.kind})
	}
	t.each = func(ctx context.Context, src Source, put func([]value) error) error {
		row := make([]value, len(columns))
		return each(ctx, src, func(v *T) error {
			for i, c := range columns {
				row[i] = c.value(v)
				if err := row[i].finite(); err != nil {
					return fmt.Errorf("publish: %s of %s: %w", c.name, row[0].text, err)
				}
			}
			return put(row)
		})
	}
	return t
}

// partsOf is the table of the parts of every bore.
func partsOf[T any](name string, columns []column[part[T]], list func(*geo.Bore) []T) table {
	return of(name, columns, func(ctx context.Context, src Source, put func(*part[T]) error) error {
		return src.Bores(ctx, func(b geo.Bore) error {
			return putAll(put, owner{id: string(b.ID), code: b.Code}, list(&b), true)
		})
	})
}

// putAll puts parts, numbered where each is an owner itself.
func putAll[T any](put func(*part[T]) error, o owner, parts []T, numbered bool) error {
	for i := range parts {
		if numbered {
			o.nth = i + 1
		}
		if err := put(&part[T]{o, &parts[i]}); err != nil {
			return err
		}
	}
	return nil
}

func eachTestReading(ctx context.Context, src Source, put func(*part[geo.TestReading]) error) error {
	return src.Bores(ctx, func(b geo.Bore) error {
		for i, t := range b.Tests {
			if err := putAll(put, owner{string(b.ID), b.Code, i + 1}, t.Readings, false); err != nil {
				return err
			}
		}
		return nil
	})
}

func eachVisit(ctx context.Context, src Source, put func(*part[geo.Visit]) error) error {
	return src.WaterPoints(ctx, func(p geo.WaterPoint) error {
		return putAll(put, owner{id: string(p.ID)}, p.Visits, false)
	})
}
