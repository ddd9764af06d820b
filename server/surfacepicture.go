package server

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"strconv"
	"strings"

	"waterstrike/advisor"
	"waterstrike/geo"
	"waterstrike/ui/draw"
)

// tilePX is the side of a tile in pixels.
const tilePX = 256

// surfaceValue returns what a surface shows of a spot; false where it is not known.
func surfaceValue(of string, s *advisor.Spot) (float64, bool) {
	name, ranged := strings.CutSuffix(of, "-range")
	var spread geo.Opt[advisor.Spread]
	switch name {
	case "evidence":
		return float64(s.Bores.Effective()), true
	case "chance":
		spread = s.Chance
	case "design-low":
		spread = s.DesignLowM
	case "refusal":
		spread = s.RefusalM
	}
	v, ok := spread.Get()
	if ranged {
		return v.Hi - v.Lo, ok
	}
	return v.Value, ok
}

// paintSurface draws a tile, a square for each cell. What is not known, or not yet, is
// clear; ground with too few bores is hatched, but for how many there are.
func paintSurface(of string, ramp draw.Ramp, t surveyed) ([]byte, error) {
	palette := color.Palette{color.NRGBA{}, rgb(draw.Few)}
	for _, c := range ramp.Colours {
		palette = append(palette, rgb(c))
	}
	picture := image.NewPaletted(image.Rect(0, 0, tilePX, tilePX), palette)
	for i := range t.spots {
		spot := &t.spots[i]
		v, ok := surfaceValue(of, spot)
		if !ok {
			continue
		}
		size := tilePX / t.side
		x, y := i%t.side*size, i/t.side*size
		fill(picture, image.Rect(x, y, x+size, y+size), uint8(2+ramp.Class(v)), spot.Few && of != "evidence")
	}
	var out bytes.Buffer
	err := (&png.Encoder{CompressionLevel: png.BestSpeed}).Encode(&out, picture)
	return out.Bytes(), err
}

// hatchPX is how far apart the lines of a hatching are, by two pixels each.
const hatchPX = 8

func fill(picture *image.Paletted, box image.Rectangle, class uint8, hatched bool) {
	for y := box.Min.Y; y < box.Max.Y; y++ {
		for x := box.Min.X; x < box.Max.X; x++ {
			c := class
			if hatched && (x+y)%hatchPX < 2 {
				c = 1
			}
			picture.Pix[picture.PixOffset(x, y)] = c
		}
	}
}

// rgb reads a colour as #rrggbb.
func rgb(text string) color.NRGBA {
	v, err := strconv.ParseUint(text[1:], 16, 24)
	if err != nil {
		panic("server: " + text + " is no colour")
	}
	return color.NRGBA{R: uint8(v >> 16), G: uint8(v >> 8), B: uint8(v), A: 255}
}
