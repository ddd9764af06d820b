package publish

import (
	"context"
	"encoding/csv"
	"fmt"
	"io"

	"waterstrike/geo"
)

// CSVType is the media type of what the CSV writers write (RFC 4180, section 3).
const CSVType = "text/csv; charset=utf-8; header=present"

// CSVFiles are the tables of all records but boundaries and rivers, whose shapes no table
// holds: one row a record, and one row a part with the id of what it belongs to.
func CSVFiles() []File {
	return []File{
		{"bores.csv", func(ctx context.Context, w io.Writer, src Source) error {
			return table(w, boreColumns(), whole(ctx, src.Bores))
		}},
		{"layers.csv", partsCSV(ofBore(layerColumns()...), func(b *geo.Bore) []geo.Layer { return b.Layers })},
		{"strikes.csv", partsCSV(ofBore(strikeColumns()...), func(b *geo.Bore) []geo.Strike { return b.Strikes })},
		{"levels.csv", partsCSV(ofBore(levelColumns()...), func(b *geo.Bore) []geo.Level { return b.Levels })},
		{"pipes.csv", partsCSV(ofBore(pipeColumns()...), func(b *geo.Bore) []geo.Pipe { return b.Pipes })},
		{"fills.csv", partsCSV(ofBore(fillColumns()...), func(b *geo.Bore) []geo.Fill { return b.Fills })},
		{"tests.csv", partsCSV(ofTest(testColumns()...), func(b *geo.Bore) []geo.PumpTest { return b.Tests })},
		{"test_readings.csv", testReadingsCSV},
		{"samples.csv", partsCSV(ofBore(sampleColumns()...), func(b *geo.Bore) []geo.Sample { return b.Samples })},
		{"villages.csv", func(ctx context.Context, w io.Writer, src Source) error {
			return table(w, villageColumns(), whole(ctx, src.Villages))
		}},
		{"water_points.csv", func(ctx context.Context, w io.Writer, src Source) error {
			return table(w, waterPointColumns(), whole(ctx, src.WaterPoints))
		}},
		{"visits.csv", visitsCSV},
	}
}

// rows gives what the rows of a table tell, one after another.
type rows[T any] func(put func(*T) error) error

func whole[T any](ctx context.Context, each walk[T]) rows[T] {
	return func(put func(*T) error) error {
		return each(ctx, func(v T) error { return put(&v) })
	}
}

// partsCSV writes the parts of every bore.
func partsCSV[T any](columns []column[part[T]], list func(*geo.Bore) []T) func(context.Context, io.Writer, Source) error {
	return func(ctx context.Context, w io.Writer, src Source) error {
		return table(w, columns, func(put func(*part[T]) error) error {
			return src.Bores(ctx, func(b geo.Bore) error {
				return putAll(put, owner{id: string(b.ID), code: b.Code}, list(&b), true)
			})
		})
	}
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

func testReadingsCSV(ctx context.Context, w io.Writer, src Source) error {
	return table(w, ofTest(testReadingColumns()...), func(put func(*part[geo.TestReading]) error) error {
		return src.Bores(ctx, func(b geo.Bore) error {
			for i, t := range b.Tests {
				if err := putAll(put, owner{string(b.ID), b.Code, i + 1}, t.Readings, false); err != nil {
					return err
				}
			}
			return nil
		})
	})
}

func visitsCSV(ctx context.Context, w io.Writer, src Source) error {
	return table(w, ofPoint(visitColumns()...), func(put func(*part[geo.Visit]) error) error {
		return src.WaterPoints(ctx, func(p geo.WaterPoint) error {
			return putAll(put, owner{id: string(p.ID)}, p.Visits, false)
		})
	})
}

// table writes a header and a row for everything that rows puts.
func table[T any](w io.Writer, columns []column[T], each rows[T]) error {
	out := csv.NewWriter(w)
	out.UseCRLF = true // RFC 4180, section 2, rule 1
	cells := namesOf(columns)
	err := out.Write(cells)
	if err == nil {
		err = each(func(v *T) error {
			for i, c := range columns {
				cell := c.value(v)
				if err := cell.finite(); err != nil {
					return fmt.Errorf("publish: %s of %s: %w", c.name, cells[0], err)
				}
				cells[i] = cell.cell()
			}
			return out.Write(cells)
		})
	}
	if err != nil {
		return err
	}
	out.Flush()
	return out.Error()
}
