package publish

import (
	"context"
	"encoding/csv"
	"fmt"
	"io"
	"slices"

	"waterstrike/geo"
)

// CSVType is the media type of what the CSV writers write (RFC 4180, section 3).
const CSVType = "text/csv; charset=utf-8; header=present"

// BoresCSV writes one row a bore: everything said of it but its parts.
func BoresCSV(ctx context.Context, w io.Writer, src Bores) error {
	return table(w, slices.Concat(boreNames(), borePosition(), boreFacts()), func(put func(*geo.Bore) error) error {
		return src.Bores(ctx, func(b geo.Bore) error { return put(&b) })
	})
}

// LayersCSV writes one row a layer, bore after bore, each with its bore's id and code.
func LayersCSV(ctx context.Context, w io.Writer, src Bores) error {
	return table(w, layerColumns(), partsOf(ctx, src, func(b *geo.Bore) []geo.Layer { return b.Layers }))
}

// LevelsCSV writes one row a reading of the water at rest, bore after bore.
func LevelsCSV(ctx context.Context, w io.Writer, src Bores) error {
	return table(w, levelColumns(), partsOf(ctx, src, func(b *geo.Bore) []geo.Level { return b.Levels }))
}

// partsOf walks over the parts of every bore.
func partsOf[T any](ctx context.Context, src Bores, list func(*geo.Bore) []T) func(put func(*part[T]) error) error {
	return func(put func(*part[T]) error) error {
		return src.Bores(ctx, func(b geo.Bore) error {
			parts := list(&b)
			for i := range parts {
				if err := put(&part[T]{&b, &parts[i]}); err != nil {
					return err
				}
			}
			return nil
		})
	}
}

// table writes a header and a row for everything that rows puts.
func table[T any](w io.Writer, columns []column[T], rows func(put func(*T) error) error) error {
	out := csv.NewWriter(w)
	out.UseCRLF = true // RFC 4180, section 2, rule 1
	cells := make([]string, len(columns))
	for i, c := range columns {
		cells[i] = c.name
	}
	err := out.Write(cells)
	if err == nil {
		err = rows(func(v *T) error {
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
