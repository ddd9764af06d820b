package terrain

import (
	"math"
	"strconv"
	"strings"
)

// tiff is the first image of a GeoTIFF with one band. Source: TIFF 6.0 (Adobe 1992),
// OGC GeoTIFF 1.1 (19-008r4); BigTIFF and the GDAL_NODATA tag as GDAL documents them.
type tiff struct {
	in     input
	at     Frame
	tags   tags
	rows   int // of a block: a tile or a strip
	cols   int
	across int // blocks side by side
	pixel  pixel
	starts []uint64
	counts []uint64
	empty  float64 // the value that stands for none; NaN if there is none
}

// maxBlock is the largest tile or strip read, in cells.
const maxBlock = 1 << 27

// The tags read here.
const (
	tagWidth          = 256
	tagLength         = 257
	tagBits           = 258
	tagCompression    = 259
	tagFillOrder      = 266
	tagStripOffsets   = 273
	tagSamples        = 277
	tagRowsPerStrip   = 278
	tagStripCounts    = 279
	tagPredictor      = 317
	tagTileWidth      = 322
	tagTileLength     = 323
	tagTileOffsets    = 324
	tagTileCounts     = 325
	tagSampleFormat   = 339
	tagPixelScale     = 33550
	tagTiepoint       = 33922
	tagTransformation = 34264
	tagGeoKeys        = 34735
	tagNoData         = 42113
)

func openTIFF(in input) (source, error) {
	t := &tiff{in: in}
	var err error
	if t.tags, err = readTags(in); err != nil {
		return nil, err
	}
	for _, part := range []func() error{t.shape, t.format, t.layout, t.place, t.nodata} {
		if err := part(); err != nil {
			return nil, err
		}
	}
	return t, nil
}

func (t *tiff) frame() Frame     { return t.at }
func (t *tiff) size() (int, int) { return t.rows, t.cols }

// shape reads the size of the image.
func (t *tiff) shape() error {
	w, h := t.tags.number(tagWidth, 0), t.tags.number(tagLength, 0)
	if w < 1 || h < 1 || w > MaxCells || h > MaxCells {
		return broken("%d by %d pixels", h, w)
	}
	t.at.Rows, t.at.Cols = int(h), int(w)
	if n := t.tags.number(tagSamples, 1); n != 1 {
		return unread("%d bands; write the one with elevations to a file of its own (gdal_translate -b 1)", n)
	}
	return nil
}

// layout reads where the tiles or strips are.
func (t *tiff) layout() error {
	offsets, counts := uint16(tagStripOffsets), uint16(tagStripCounts)
	rows, cols := t.tags.number(tagRowsPerStrip, uint64(t.at.Rows)), uint64(t.at.Cols)
	if t.tags.has(tagTileWidth) {
		offsets, counts = tagTileOffsets, tagTileCounts
		rows, cols = t.tags.number(tagTileLength, 0), t.tags.number(tagTileWidth, 0)
	} else {
		rows = min(rows, uint64(t.at.Rows))
	}
	if rows < 1 || cols < 1 || rows > maxBlock || cols > maxBlock || rows > maxBlock/cols {
		return unread("tiles or strips of %d by %d pixels; write it anew in smaller ones (gdal_translate -co TILED=YES)", rows, cols)
	}
	t.rows, t.cols = int(rows), int(cols)
	t.across = (t.at.Cols + t.cols - 1) / t.cols
	down := (t.at.Rows + t.rows - 1) / t.rows
	t.starts, t.counts = t.tags.numbers(offsets), t.tags.numbers(counts)
	if len(t.starts) != t.across*down || len(t.counts) != len(t.starts) {
		return broken("%d of %d tiles or strips are listed", len(t.starts), t.across*down)
	}
	return nil
}

// nodata reads the value that stands for none, a text in GDAL's own tag.
func (t *tiff) nodata() error {
	t.empty = math.NaN()
	text := strings.Trim(string(t.tags.text(tagNoData)), " \x00")
	if text == "" {
		return nil
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return broken("GDAL_NODATA is %q, no number", text)
	}
	t.empty = v
	return nil
}
