package terrain

import (
	"bytes"
	"compress/zlib"
	"context"
	"encoding/binary"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"

	"waterstrike/geo"
)

// tileSide is the rows and columns of a tile that is written.
const tileSide = 256

// The tags that are written and not read.
const (
	tagPlanar = 284
	tagExtra  = 338
	tagNames  = 42112
)

// noValue stands for what is missing in files that are written; so large that it can
// never be a height.
const noValue = -3.4028234663852886e38 // the lowest 32-bit float

// Band is one value of every cell of a frame, with what it is called.
type Band struct {
	Name   string
	Values func(row, col int) (value float64, ok bool)
}

// WriteGeoTIFF writes a grid as a GeoTIFF of 32-bit floats in deflated tiles, which any
// GIS opens and [Open] reads back block by block, bit for bit.
//
//   - Errors: [geo.Invalid] for a system without an EPSG code; the context's; those of out.
//   - Source: as the reader, with the predictor of Adobe TIFF Technical Note 3.
func WriteGeoTIFF(ctx context.Context, out io.WriteSeeker, g *Grid, progress Progress) error {
	return writeGeoTIFF(ctx, out, g.Frame, g, progress)
}

// WriteBands writes several values of every cell as a GeoTIFF with a band for each, which
// a GIS shows by their names.
//
//   - Errors, Source: as [WriteGeoTIFF]; [geo.Invalid] for no band or a frame that is wrong.
//     Names stand in the field 42112, which GDAL documents.
func WriteBands(ctx context.Context, out io.WriteSeeker, f Frame, bands []Band, progress Progress) error {
	err := f.check()
	if err == nil && len(bands) == 0 {
		err = errors.New("there is no band to write")
	}
	if err != nil {
		return geo.Fail(geo.Invalid, "terrain.WriteBands", geo.Message{}, err)
	}
	return writeTIFF(ctx, out, f, bands, progress)
}

func writeGeoTIFF(ctx context.Context, out io.WriteSeeker, f Frame, values cells, progress Progress) error {
	return writeTIFF(ctx, out, f, []Band{{Values: values.At}}, progress)
}

func writeTIFF(ctx context.Context, out io.WriteSeeker, f Frame, bands []Band, progress Progress) error {
	if _, ok := f.System.epsg(); !ok {
		return geo.Fail(geo.Invalid, "terrain.WriteGeoTIFF", geo.Message{}, errNoCode)
	}
	w := &tiffWriter{out: out}
	w.put([]byte("II*\x00\x00\x00\x00\x00")) // the directory's place follows
	step := newSteps(ctx, progress, Writing, len(bands)*((f.Rows+tileSide-1)/tileSide))
	for _, band := range bands {
		for row := 0; row < f.Rows; row += tileSide {
			if err := step.next(); err != nil {
				return err
			}
			for col := 0; col < f.Cols; col += tileSide {
				w.tile(band.Values, row, col)
			}
		}
	}
	w.directory(f, bands)
	if w.err != nil {
		return geo.Fail(geo.Internal, "terrain.WriteGeoTIFF", geo.Message{}, w.err)
	}
	return nil
}

var errNoCode = errors.New("the system has no EPSG code; take degrees or a UTM grid that has one")

// tiffWriter writes one part after the other and remembers where the tiles are.
type tiffWriter struct {
	out            io.WriteSeeker
	at             uint32
	starts, counts []uint32
	err            error
}

func (w *tiffWriter) put(raw []byte) {
	if w.err == nil {
		_, w.err = w.out.Write(raw)
	}
	w.at += uint32(len(raw))
}

// tile writes the tile of a band whose north-west cell is given.
func (w *tiffWriter) tile(at func(row, col int) (float64, bool), row, col int) {
	var packed bytes.Buffer
	z := zlib.NewWriter(&packed)
	line := make([]byte, 4*tileSide)
	for r := range tileSide {
		for c := range tileSide {
			v, ok := at(row+r, col+c)
			if !ok {
				v = noValue
			}
			spread(line, c, float32(v))
		}
		for i := len(line) - 1; i > 0; i-- {
			line[i] -= line[i-1]
		}
		z.Write(line) // into memory
	}
	z.Close()
	w.starts, w.counts = append(w.starts, w.at), append(w.counts, uint32(packed.Len()))
	w.put(packed.Bytes())
	if packed.Len()%2 == 1 {
		w.put([]byte{0}) // offsets are even
	}
}

// spread writes the bytes of one value as the floating-point predictor wants them.
func spread(line []byte, c int, v float32) {
	bits := math.Float32bits(v)
	for b := range 4 {
		line[b*tileSide+c] = byte(bits >> (24 - 8*b))
	}
}

// entry is one field to be written.
type entry struct {
	tag, kind uint16
	values    any
}

// directory writes the fields and then their place at the head of the file.
func (w *tiffWriter) directory(f Frame, bands []Band) {
	n := len(bands)
	entries := []entry{
		{tagWidth, 4, []uint32{uint32(f.Cols)}},
		{tagLength, 4, []uint32{uint32(f.Rows)}},
		{tagBits, 3, slices.Repeat([]uint16{32}, n)},
		{tagCompression, 3, []uint16{8}},
		{262, 3, []uint16{1}}, // black is zero
		{tagSamples, 3, []uint16{uint16(n)}},
		{tagPlanar, 3, []uint16{planarOf(n)}},
		{tagPredictor, 3, []uint16{3}},
		{tagTileWidth, 3, []uint16{tileSide}},
		{tagTileLength, 3, []uint16{tileSide}},
		{tagTileOffsets, 4, w.starts},
		{tagTileCounts, 4, w.counts},
		{tagSampleFormat, 3, slices.Repeat([]uint16{3}, n)},
		{tagPixelScale, 12, []float64{f.CellX, f.CellY, 0}},
		{tagTiepoint, 12, []float64{0, 0, 0, f.West, f.North, 0}},
		{tagGeoKeys, 3, geoKeysOf(f.System, bands[0].Name == "")},
		{tagNoData, 2, []byte("-3.4028234663852886e+38\x00")},
	}
	if n > 1 {
		entries = append(entries, entry{tagExtra, 3, make([]uint16, n-1)}, entry{tagNames, 2, namesOf(bands)})
		slices.SortFunc(entries, func(a, b entry) int { return int(a.tag) - int(b.tag) })
	}
	var raws [][]byte
	for _, e := range entries {
		raws = append(raws, w.values(e))
	}
	start := w.at
	w.put(binary.LittleEndian.AppendUint16(nil, uint16(len(entries))))
	for i, e := range entries {
		w.put(slices.Concat(head(e), raws[i]))
	}
	w.put(make([]byte, 4)) // no other directory
	if w.err == nil {
		_, w.err = w.out.Seek(4, io.SeekStart)
	}
	w.put(binary.LittleEndian.AppendUint32(nil, start))
}

// planarOf says that bands stand one after the other, where there are several.
func planarOf(bands int) uint16 { return uint16(min(bands, 2)) }

// namesOf writes the names of bands as GDAL reads them.
func namesOf(bands []Band) []byte {
	var out bytes.Buffer
	out.WriteString("<GDALMetadata>")
	for i, b := range bands {
		fmt.Fprintf(&out, `<Item name="DESCRIPTION" sample="%d" role="description">`, i)
		xml.EscapeText(&out, []byte(b.Name)) // into memory
		out.WriteString("</Item>")
	}
	out.WriteString("</GDALMetadata>\x00")
	return out.Bytes()
}

// head is the entry of a field but for its values.
func head(e entry) []byte {
	raw := binary.LittleEndian.AppendUint16(nil, e.tag)
	raw = binary.LittleEndian.AppendUint16(raw, e.kind)
	return binary.LittleEndian.AppendUint32(raw, uint32(binary.Size(e.values)/kindBytes[e.kind]))
}

// values returns the four bytes of an entry that hold its values or, once they are
// written, their place.
func (w *tiffWriter) values(e entry) []byte {
	raw, err := binary.Append(nil, binary.LittleEndian, e.values)
	if err != nil && w.err == nil {
		w.err = err
	}
	if len(raw) <= 4 {
		return append(raw, make([]byte, 4-len(raw))...)
	}
	at := w.at
	w.put(append(raw, make([]byte, len(raw)%2)...))
	return binary.LittleEndian.AppendUint32(nil, at)
}

// geoKeysOf says which system the coordinates are of, and that the values are heights in
// metres where they are.
func geoKeysOf(s System, heights bool) []uint16 {
	model, key := uint16(modelGeographic), uint16(keyGeographic)
	if s.Metric {
		model, key = modelProjected, keyProjected
	}
	code, _ := s.epsg()
	keys := []uint16{keyModel, 0, 1, model, keyRaster, 0, 1, 1, key, 0, 1, uint16(code)}
	if heights {
		keys = append(keys, keyVertical, 0, 1, metre)
	}
	return append([]uint16{1, 1, 0, uint16(len(keys) / 4)}, keys...)
}
