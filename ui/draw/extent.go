package draw

import (
	"errors"
	"fmt"
	"math"
)

// extent is the smallest upright box around some points.
type extent struct{ minX, minY, maxX, maxY float64 }

func noExtent() extent {
	inf := math.Inf(1)
	return extent{inf, inf, -inf, -inf}
}

// with widens the box. A NaN among the points stays, and check refuses it.
func (e extent) with(points ...Point) extent {
	for _, p := range points {
		e.minX, e.maxX = min(e.minX, p.X), max(e.maxX, p.X)
		e.minY, e.maxY = min(e.minY, p.Y), max(e.maxY, p.Y)
	}
	return e
}

// grown adds a share of the size on each side, and gives a point or a straight line some size.
func (e extent) grown(shareX, shareY, least float64) extent {
	dx := max(shareX*(e.maxX-e.minX), least-(e.maxX-e.minX)/2, 0)
	dy := max(shareY*(e.maxY-e.minY), least-(e.maxY-e.minY)/2, 0)
	return extent{e.minX - dx, e.minY - dy, e.maxX + dx, e.maxY + dy}
}

func (e extent) check() error {
	if !finite(e.minX, e.minY, e.maxX, e.maxY, e.maxX-e.minX, e.maxY-e.minY) {
		return errors.New("draw: nothing to draw, or a coordinate is not a finite number")
	}
	return nil
}

// sectionExtent spans the ground line; what reaches deeper or stands higher widens it upright.
func sectionExtent(d SectionData) (extent, error) {
	e := noExtent().with(d.Ground...)
	left, right := e.minX, e.maxX
	for _, l := range d.Layers {
		e = e.with(l.Outline...)
	}
	for _, w := range d.Water {
		e = e.with(w.Points...)
		for _, r := range w.Ranges {
			e = e.with(Point{r.X, r.LoElev}, Point{r.X, r.HiElev})
		}
	}
	for _, c := range d.Columns {
		e = e.with(Point{c.X, c.TopElev}, Point{c.X, c.TopElev - deepest(c.Layers)})
	}
	for _, b := range d.Bores {
		e = e.with(Point{b.X, b.TopElev}, Point{b.X, b.BaseElev}, Point{b.X, b.TopElev - deepest(b.Layers)})
	}
	if err := e.check(); err != nil {
		return extent{}, err
	}
	if !(right > left) {
		return extent{}, errors.New("draw: the ground line of a section has no length")
	}
	for _, c := range d.Columns {
		if c.X < left || c.X > right {
			return extent{}, fmt.Errorf("draw: a column stands %v m along a section from %v to %v m", c.X, left, right)
		}
	}
	for _, b := range d.Bores {
		if b.X < left || b.X > right {
			return extent{}, fmt.Errorf("draw: bore %q stands %v m along a section from %v to %v m", b.Label, b.X, left, right)
		}
	}
	e = e.grown(0, 0.08, 0.5)
	e.maxY += 0.08 * (e.maxY - e.minY) // room for the bores' signs and names
	e.minX, e.maxX = left, right
	return e, nil
}

func deepest(layers []ColumnLayer) (depthM float64) {
	for _, l := range layers {
		depthM = max(depthM, l.BaseM)
	}
	return depthM
}
