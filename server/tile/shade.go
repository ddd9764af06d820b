package tile

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"math"

	"github.com/paulmach/orb/maptile"
)

// shadePX is the side of a picture of the land in pixels.
const shadePX = 256

// tones is how many steps of shadow a picture has, and of light: more make it larger and
// are not seen.
const tones = 11

// Shade returns a tile's picture of the land lit from the north-west, as PNG: shadows are
// black and lit slopes white, both thin enough to lie over any ground; level land and
// what is not known are clear.
//
// Slopes are taken over a cell of the elevations and a half: whole metres would else show
// as steps.
//
//   - Source: Horn, Hill shading and the reflectance map, Proc. IEEE 69 (1981): the light
//     that a matt surface throws back.
func (r *Relief) Shade(t maptile.Tile) ([]byte, error) {
	pixel := pixelM(t, shadePX)
	step := 1
	for step < shadePX/4 && float64(step)*pixel < 0.75*max(r.fineM, pixel) {
		step *= 2
	}
	n := shadePX / step
	light := r.light(r.sample(t, n, 1), float64(step)*pixel, r.overdrawn(t.Z))
	picture := image.NewPaletted(image.Rect(0, 0, shadePX, shadePX), tonePalette)
	for y := range shadePX {
		for x := range shadePX {
			s := between(light, n+1, (float64(x)+0.5)/float64(step), (float64(y)+0.5)/float64(step))
			picture.Pix[y*shadePX+x] = uint8(tones + int(math.Round(min(max(s, -1), 1)*tones)))
		}
	}
	var out bytes.Buffer
	err := png.Encode(&out, picture)
	return out.Bytes(), err
}

// overdrawn is by how much slopes are overdrawn at a zoom: seen from far they are gentler.
func (r *Relief) overdrawn(z maptile.Zoom) float64 {
	return r.steep * min(max(math.Exp2(0.4*(11-float64(z))), 0.7), 4)
}

// light returns how much brighter than level land each node within the ring is, -1 to 1.
func (r *Relief) light(at nodes, spacing, steep float64) []float64 {
	inner := at.side - 2
	out := make([]float64, inner*inner)
	for row := range inner {
		for col := range inner {
			out[row*inner+col] = lit(at, (row+1)*at.side+col+1, 2*spacing/steep)
		}
	}
	return out
}

// lit is the light of one node, from the north-west at 45 degrees; 0 where a neighbour is
// not known.
func lit(at nodes, i int, run float64) float64 {
	east, west, north, south := i+1, i-1, i-at.side, i+at.side
	if !at.ok[east] || !at.ok[west] || !at.ok[north] || !at.ok[south] {
		return 0
	}
	p, q := (at.z[east]-at.z[west])/run, (at.z[north]-at.z[south])/run // rising to the east and to the north
	const level = math.Sqrt2 / 2
	towards := (1 + (p-q)/math.Sqrt2) / math.Sqrt(2*(1+p*p+q*q))
	return (max(towards, 0) - level) / level
}

// between interpolates values at the corners of a square of side by side.
func between(v []float64, side int, x, y float64) float64 {
	col, row := min(int(x), side-2), min(int(y), side-2)
	fx, fy := x-float64(col), y-float64(row)
	i := row*side + col
	return (v[i]*(1-fx)+v[i+1]*fx)*(1-fy) + (v[i+side]*(1-fx)+v[i+side+1]*fx)*fy
}

// tonePalette goes from the darkest shadow over clear to the brightest light.
var tonePalette = func() (p color.Palette) {
	for i := -tones; i <= tones; i++ {
		strength := float64(max(i, -i)) / tones
		tone := color.NRGBA{A: uint8(94 * strength)}
		if i > 0 {
			tone = color.NRGBA{255, 255, 255, uint8(110 * strength)}
		}
		p = append(p, tone)
	}
	return p
}()
