package draw

import (
	"cmp"
	"slices"
)

// The looks of what stands in and around the pipe, and the signs of the water.
var (
	pipeFills = map[string]Fill{
		"casing": {Color: "#ffffff"},
		"screen": {Color: "#ffffff"},
		"plug":   {Color: "#3a3a3a"},
	}
	spaceFills = map[string]Fill{
		"pack":     {Color: "#f3e09a", Pattern: "sand-coarse"},
		"clay":     {Color: "#8fa39b", Pattern: "clay"},
		"grout":    {Color: "#b9bcc0"},
		"backfill": {Color: "#f4f4f2", Pattern: "unknown"},
	}
	markSigns = map[string]func(Point) []Item{
		"rest":    func(at Point) []Item { return []Item{waterSign(at)} },
		"flowing": flowSign,
		"dry-to":  drySign,
		"strike":  strikeSign,
	}
)

const noteMM = 2.1 // size of the words inside a lane

// flowSign is an arrow out of the ground.
func flowSign(at Point) []Item {
	s := line(waterBlue, 0.4)
	return []Item{
		segment(at.X, at.Y+2.2, at.X, at.Y-0.6, s),
		segment(at.X-0.8, at.Y+0.4, at.X, at.Y-0.6, s), segment(at.X+0.8, at.Y+0.4, at.X, at.Y-0.6, s),
	}
}

// drySign is a cross: no water down to here.
func drySign(at Point) []Item {
	s := line("#8e1f1f", 0.4)
	return []Item{segment(at.X-0.8, at.Y-0.8, at.X+0.8, at.Y+0.8, s), segment(at.X-0.8, at.Y+0.8, at.X+0.8, at.Y-0.8, s)}
}

// strikeSign is a filled arrow head into the hole.
func strikeSign(at Point) []Item {
	return []Item{Path{
		Points: []Point{{at.X - 1, at.Y - 0.8}, {at.X + 0.9, at.Y}, {at.X - 1, at.Y + 0.8}},
		Closed: true, Fill: Fill{Color: waterBlue},
	}}
}

func (d LogData) drawLayers(o LogOptions, leftMM float64) func(*lane) []Item {
	return func(l *lane) []Item {
		f := frame{x: l.x, y: l.y}
		out := []Item{Group{Clip: f.clip(), Items: columnLayers(f, d.Layers)}}
		if !o.Notes {
			return out
		}
		free := 0.0
		for _, layer := range d.Layers {
			middle := (l.y.at(layer.TopM) + l.y.at(layer.BaseM)) / 2
			lines := wrapped(layer.Note, noteMM, leftMM-5)
			y := max(middle-0.6*noteMM*float64(len(lines)-1), free)
			if len(lines) > 0 {
				out = append(out, segment(l.x.toMM, middle, l.x.toMM+2.4, y, line(ink, 0.12)))
			}
			for _, words := range lines {
				out = append(out, Text{At: Point{l.x.toMM + 3, y + 0.35*noteMM}, Words: words, SizeMM: noteMM})
				y += 1.2 * noteMM
				free = y
			}
		}
		return out
	}
}

// drawBuild draws the pipe in the middle and what fills the space on both sides of it.
func (d LogData) drawBuild(l *lane) []Item {
	var out []Item
	at := func(from, to float64, p LogPart, fill Fill) Rect {
		return Rect{l.x.at(from), l.y.at(p.TopM), l.x.at(to) - l.x.at(from), l.y.at(p.BaseM) - l.y.at(p.TopM), fill, line(ink, 0.12)}
	}
	for _, f := range d.Fills {
		out = append(out, at(0.14, 0.36, f, spaceFills[f.Kind]), at(0.64, 0.86, f, spaceFills[f.Kind]))
	}
	for _, p := range d.Pipes {
		out = append(out, pipe(at(0.36, 0.64, p, pipeFills[p.Kind]), p.Kind)...)
	}
	return out
}

// pipe draws a length of pipe: thick walls, and slots across where it is a screen.
func pipe(r Rect, kind string) []Item {
	out := []Item{r}
	wall := line(ink, 0.6)
	if kind == "screen" {
		wall = line(ink, 0.35)
		const pitchMM = 1.1
		for y := r.Y + pitchMM/2; y < r.Y+r.HeightMM; y += pitchMM {
			out = append(out, segment(r.X+0.5, y, r.X+r.WidthMM-0.5, y, line(ink, 0.22)))
		}
	}
	right := r.X + r.WidthMM
	return append(out, segment(r.X, r.Y, r.X, r.Y+r.HeightMM, wall), segment(right, r.Y, right, r.Y+r.HeightMM, wall))
}

// drawWater draws each reading at its depth, its words pushed down where they would collide.
func (d LogData) drawWater(l *lane) []Item {
	var out []Item
	free := 0.0
	byDepth := slices.SortedStableFunc(slices.Values(d.Marks), func(a, b LogMark) int { return cmp.Compare(a.DepthM, b.DepthM) })
	for _, m := range byDepth {
		y := l.y.at(max(m.DepthM, 0))
		if m.Kind == "rest" {
			out = append(out, segment(l.x.fromMM, y, l.x.toMM, y, line(waterBlue, 0.35)))
		}
		out = append(out, markSigns[m.Kind](Point{l.x.fromMM + 2, y})...)
		lines := wrapped(m.Note, noteMM, l.widthMM()-5)
		at := max(y+1.1*noteMM, free)
		for _, words := range lines {
			out = append(out, Text{At: Point{l.x.fromMM + 4, at}, Words: words, SizeMM: noteMM, Halo: true})
			at += 1.2 * noteMM
			free = at
		}
	}
	return out
}

// drawPaces draws the minutes that each metre took as bars, their number beside them.
func (d LogData) drawPaces(number func(float64) string) func(*lane) []Item {
	return func(l *lane) []Item {
		slowest := 0.0
		for _, p := range d.Paces {
			slowest = max(slowest, p.MinutesPerM)
		}
		const words = 0.42 // of the lane, kept for the numbers
		var out []Item
		free := 0.0
		for _, p := range d.Paces {
			top, base := l.y.at(p.TopM), l.y.at(p.BaseM)
			right := l.x.at((1 - words) * p.MinutesPerM / slowest)
			out = append(out, Rect{l.x.fromMM, top, right - l.x.fromMM, base - top, Fill{Color: "#a9cbe6"}, line(ink, 0.12)})
			if at := (top+base)/2 + 0.35*noteMM; at >= free {
				out = append(out, Text{At: Point{right + 0.7, at}, Words: number(p.MinutesPerM), SizeMM: noteMM})
				free = at + 1.1*noteMM
			}
		}
		return out
	}
}

// drawTests draws how far each test lowered the water.
func (d LogData) drawTests(l *lane) []Item {
	var out []Item
	n := float64(len(d.Tests))
	free := 0.0
	for i, t := range d.Tests {
		x := l.x.at((float64(i) + 0.5) / n)
		rest, lowest := l.y.at(max(t.RestM, 0)), l.y.at(max(t.LowestM, 0))
		s := line(waterBlue, 0.35)
		if lowest > rest {
			wide := min(2.2, 0.3*l.widthMM()/n)
			out = append(out, Rect{x - wide, rest, 2 * wide, lowest - rest, Fill{Color: "#a9cbe6"}, s})
		}
		out = append(out, segment(x-2.4, rest, x+2.4, rest, s), waterSign(Point{x, rest}))
		at := max(lowest+1.6*noteMM, free)
		for _, words := range wrapped(t.Note, noteMM, l.widthMM()-1) {
			out = append(out, Text{At: Point{l.x.at(0.5), at}, Words: words, SizeMM: noteMM, Anchor: Middle, Halo: true})
			at += 1.2 * noteMM
			free = at
		}
	}
	return out
}

// entries explain what the log shows: classes, kinds of pipe and fill, signs of the water.
func (d LogData) entries(words map[string]string) []entry {
	used := map[string]bool{}
	useClasses(used, d.Layers)
	out := classEntries(used, words)
	for _, kind := range []string{"casing", "screen", "plug"} {
		if hasPart(d.Pipes, kind) {
			out = append(out, entry{named("pipe."+kind, words), func(at Rect) []Item {
				at.X, at.WidthMM, at.Fill = at.X+1.5, at.WidthMM-3, pipeFills[kind]
				return pipe(at, kind)
			}})
		}
	}
	for _, kind := range []string{"grout", "clay", "pack", "backfill"} {
		if hasPart(d.Fills, kind) {
			out = append(out, entry{named("fill."+kind, words), func(at Rect) []Item {
				at.Fill, at.Stroke = spaceFills[kind], line(ink, 0.2)
				return []Item{at}
			}})
		}
	}
	for _, kind := range []string{"strike", "rest", "flowing", "dry-to"} {
		for _, m := range d.Marks {
			if m.Kind == kind {
				out = append(out, entry{named("mark."+kind, words), func(at Rect) []Item { return markSigns[kind](at.center()) }})
				break
			}
		}
	}
	return out
}

func hasPart(parts []LogPart, kind string) bool {
	for _, p := range parts {
		if p.Kind == kind {
			return true
		}
	}
	return false
}
