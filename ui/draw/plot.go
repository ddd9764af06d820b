package draw

import "errors"

const (
	plotMargin = 3.0
	belowMM    = 2*textMM + 4.5 // ticks and label under a frame
)

// tickMM is the tick, and the gaps on both sides of its number.
const tickMM = 4.2

var gridLine = line("#d8dbdf", 0.15)

// plot is a frame with axes that end on ticks.
type plot struct {
	frame
	xTicks, yTicks []float64
	labelMM        float64 // from the left axis to its label
	o              PlotOptions
	around         []Item // title and legend
}

// page sets title and legend, and returns them with the room left between.
func (o PlotOptions) page(entries []entry) (items []Item, room Rect, err error) {
	corner := Point{plotMargin, plotMargin}
	room = Rect{X: corner.X, Y: corner.Y, WidthMM: o.WidthMM - 2*plotMargin, HeightMM: o.HeightMM - 2*plotMargin}
	items, used := heading(o.Title, corner, room.WidthMM)
	room.Y += used + 1.5
	room.HeightMM -= used + 1.5
	_, used = legend(entries, Point{}, room.WidthMM)
	room.HeightMM -= used
	signs, _ := legend(entries, Point{room.X, room.Y + room.HeightMM + 1.5}, room.WidthMM)
	const least = 25.0
	if !(room.WidthMM >= least) || !(room.HeightMM >= least) {
		return nil, room, errors.New("draw: the sheet is too small for the plot and its legend")
	}
	return append(items, signs...), room, nil
}

// newPlot fits axes over an area into a sheet; rightMM is kept free beside the frame.
func (o PlotOptions) newPlot(e extent, entries []entry, rightMM float64) (plot, error) {
	around, room, err := o.page(entries)
	if err != nil {
		return plot{}, err
	}
	height := room.HeightMM - belowMM - textMM/2
	p := plot{o: o, around: around, yTicks: o.Y.ticks(e.minY, e.maxY, height, 9)}
	p.labelMM = widest(p.yTicks, o.Y.Number) + tickMM
	left := room.X + p.labelMM + textMM
	right := room.X + room.WidthMM - max(rightMM, 4)
	p.xTicks = o.X.ticksAcross(e.minX, e.maxX, right-left)
	top := room.Y + textMM/2
	return p.framed(left, right, top+height, top)
}

// newSquare fits axes of one scale and one division over an area into a sheet.
func (o PlotOptions) newSquare(e extent, entries []entry) (plot, error) {
	around, room, err := o.page(entries)
	if err != nil {
		return plot{}, err
	}
	lo, hi := min(e.minX, e.minY), max(e.maxX, e.maxY)
	side := room.HeightMM - belowMM - textMM/2
	ticks := o.X.ticksAcross(lo, hi, min(side, room.WidthMM-12))
	p := plot{o: o, around: around, xTicks: ticks, yTicks: ticks}
	p.labelMM = widest(ticks, o.Y.Number) + tickMM
	before, after := p.labelMM+textMM, max(4, widest(ticks, o.X.Number)/2)
	side = min(side, room.WidthMM-before-after)
	left := room.X + before + (room.WidthMM-before-after-side)/2
	top := room.Y + textMM/2
	return p.framed(left, left+side, top+side, top)
}

// framed lays the axes, from first tick to last, over a part of the sheet.
func (p plot) framed(left, right, bottom, top float64) (plot, error) {
	if len(p.xTicks) < 2 || len(p.yTicks) < 2 {
		return plot{}, errors.New("draw: the values lie too close together, or too far apart, for an axis")
	}
	if right-left < 10 || bottom-top < 10 {
		return plot{}, errors.New("draw: the sheet is too small for the plot and its numbers")
	}
	p.frame = frame{
		x: axis{p.xTicks[0], p.xTicks[len(p.xTicks)-1], left, right},
		y: axis{p.yTicks[0], p.yTicks[len(p.yTicks)-1], bottom, top},
	}
	return p, nil
}

// scene puts marks into the frame, over a grid and between axes, title and legend.
func (p plot) scene(marks []Item) Scene {
	items := append(p.grid(), Group{Items: marks}, outlined(p.box()))
	across, upright := p.frame, p.frame
	across.number, upright.number = p.o.X.Number, p.o.Y.Number
	items = append(items, upright.leftAt(p.yTicks, p.o.Y.Label, p.labelMM)...)
	items = append(items, across.belowAt(p.xTicks, p.o.X.Label)...)
	return p.o.sheet(append(p.around, items...))
}

func (p plot) grid() []Item {
	b := p.box()
	var items []Item
	for _, t := range p.xTicks {
		x := p.x.at(t)
		items = append(items, segment(x, b.Y, x, b.Y+b.HeightMM, gridLine))
	}
	for _, t := range p.yTicks {
		y := p.y.at(t)
		items = append(items, segment(b.X, y, b.X+b.WidthMM, y, gridLine))
	}
	return items
}

func (o PlotOptions) sheet(items []Item) Scene {
	return Scene{o.WidthMM, o.HeightMM, o.ID, o.Title, o.Desc, items}
}

// nothing is the drawing of no data: an empty box that says so.
func (o PlotOptions) nothing() (Scene, error) {
	around, room, err := o.page(nil)
	if err != nil {
		return Scene{}, err
	}
	box := room
	box.Fill, box.Stroke = Fill{Color: "#f4f4f2"}, line("#8a8f96", 0.25, 1.2, 0.8)
	return o.sheet(append(append(around, box), centred(o.Empty, room)...)), nil
}
