package publish

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"slices"

	"github.com/paulmach/orb"

	"waterstrike/geo"
)

// GeoJSONType is the media type of what the GeoJSON writers write (RFC 7946, section 12).
const GeoJSONType = "application/geo+json"

// GeoJSONFiles are the layers of all records, parts within their record.
func GeoJSONFiles() []File {
	return []File{
		{"bores.geojson", func(ctx context.Context, w io.Writer, src Source) error { return BoresGeoJSON(ctx, w, src) }},
		{"villages.geojson", func(ctx context.Context, w io.Writer, src Source) error {
			return collection(ctx, w, src.Villages, placed(villageColumns()), func(v *geo.Village) orb.Geometry { return v.Position.Pos.Point() })
		}},
		{"water_points.geojson", func(ctx context.Context, w io.Writer, src Source) error {
			columns := slices.Concat(placed(waterPointColumns()), waterPointParts())
			return collection(ctx, w, src.WaterPoints, columns, func(p *geo.WaterPoint) orb.Geometry { return p.Position.Pos.Point() })
		}},
		{"boundaries.geojson", func(ctx context.Context, w io.Writer, src Source) error {
			return collection(ctx, w, src.Boundaries, boundaryColumns(), func(b *geo.Boundary) orb.Geometry { return areas(b.Shape) })
		}},
		{"rivers.geojson", func(ctx context.Context, w io.Writer, src Source) error {
			return collection(ctx, w, src.Rivers, riverColumns(), func(r *geo.River) orb.Geometry { return line(r.Line) })
		}},
	}
}

// BoresGeoJSON writes bores as points; one without a position has no geometry.
func BoresGeoJSON(ctx context.Context, w io.Writer, src Bores) error {
	columns := slices.Concat(placed(boreColumns()), boreParts())
	return collection(ctx, w, src.Bores, columns, func(b *geo.Bore) orb.Geometry {
		if at, known := b.Position.Get(); known {
			return at.Pos.Point()
		}
		return nil
	})
}

// placed leaves out what the geometry tells.
func placed[T any](columns []column[T]) []column[T] { return without(columns, lonColumn, latColumn) }

// collection writes a FeatureCollection (RFC 7946, section 3.3), one feature a line. The
// first column is the feature's id.
func collection[T any](ctx context.Context, w io.Writer, each walk[T], columns []column[T], shape func(*T) orb.Geometry) error {
	out := bufio.NewWriter(w)
	var buf []byte
	before := "{\"type\":\"FeatureCollection\",\"features\":[\n"
	err := each(ctx, func(v T) (err error) {
		buf = append(buf[:0], before...)
		if buf, err = appendFeature(buf, &v, columns, shape(&v)); err != nil {
			return err
		}
		before = ",\n"
		_, err = out.Write(buf)
		return err
	})
	if err != nil {
		return err
	}
	if before != ",\n" { // there was nothing
		_, _ = out.WriteString(before) // Flush returns the first error
	}
	_, _ = out.WriteString("\n]}\n")
	return out.Flush()
}

// appendFeature appends a Feature (RFC 7946, section 3.2).
func appendFeature[T any](out []byte, v *T, columns []column[T], shape orb.Geometry) ([]byte, error) {
	id := columns[0].value(v)
	out = id.appendJSON(append(out, `{"type":"Feature","id":`...))
	out = append(out, `,"geometry":`...)
	out, err := appendGeometry(out, shape)
	if err != nil {
		return out, fmt.Errorf("publish: geometry of %s: %w", id.text, err)
	}
	out = append(out, `,"properties":{`...)
	first := true
	for _, c := range columns[1:] {
		cell := c.value(v)
		if cell.kind == missing {
			continue
		}
		if err := cell.finite(); err != nil {
			return out, fmt.Errorf("publish: %s of %s: %w", c.name, id.text, err)
		}
		if !first {
			out = append(out, ',')
		}
		first = false
		out = cell.appendJSON(append(append(append(out, '"'), c.name...), `":`...))
	}
	return append(out, "}}"...), nil
}
