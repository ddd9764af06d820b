package draw

// columnLayers draws the layers; thin prediction cells get a fainter edge than the
// layers of a log, so that the edges do not hide the patterns.
func columnLayers(f frame, layers []ColumnLayer) []Item {
	var items []Item
	for _, l := range layers {
		top, base := f.y.at(l.TopM), f.y.at(l.BaseM)
		edge := line(ink, 0.2)
		if len(l.Odds) > 1 {
			edge = line(ink, 0.06)
		}
		from := 0.0
		for _, odds := range l.Odds {
			look, _ := LookOf(odds.Class) // checked by checkColumn
			left, right := f.x.at(from), f.x.at(from+odds.Share)
			from += odds.Share
			if odds.Share > 0 {
				items = append(items, Rect{left, top, right - left, base - top, look.Fill(), edge})
			}
		}
	}
	return items
}

// columnNotes sets the words beside the layers, pushed down where they would collide.
func columnNotes(f frame, layers []ColumnLayer, leadMM float64) []Item {
	var items []Item
	free := 0.0
	for _, l := range layers {
		if l.Note == "" || l.TopM >= f.y.to {
			continue
		}
		middle := (f.y.at(l.TopM) + f.y.at(min(l.BaseM, f.y.to))) / 2
		y := max(middle, free)
		free = y + 1.25*textMM
		x := f.x.toMM
		items = append(items, segment(x, middle, x+leadMM, y, line(ink, 0.12)),
			Text{At: Point{x + leadMM + 0.6, y + 0.35*textMM}, Words: l.Note, SizeMM: textMM})
	}
	return items
}

// columnLevels draws the water levels over the column: line, sign, and range as a bar
// standing at the right edge, each a little further out than the one before.
func columnLevels(f frame, levels []ColumnLevel) []Item {
	var items []Item
	for i, l := range levels {
		stroke, _ := waterStroke(l.Key) // checked by columnEntries
		y := f.y.at(max(l.DepthM, 0))
		items = append(items,
			segment(f.x.fromMM, y, f.x.toMM, y, line("#ffffff", 1.1)),
			segment(f.x.fromMM, y, f.x.toMM+6, y, stroke),
			waterSign(Point{f.x.fromMM + 2.5, y}))
		if l.HiM > l.LoM {
			x := f.x.toMM + 1.6 + 1.7*float64(i)
			s := stroke
			s.Dash = nil
			lo, hi := f.y.at(max(l.LoM, 0)), f.y.at(min(l.HiM, f.y.to))
			items = append(items, segment(x, lo, x, hi, s),
				segment(x-0.6, lo, x+0.6, lo, s), segment(x-0.6, hi, x+0.6, hi, s))
		}
	}
	return items
}

// columnEntries lists what the legend of a column must explain.
func columnEntries(layers []ColumnLayer, o ColumnOptions) ([]entry, error) {
	used := map[string]bool{}
	useClasses(used, layers)
	entries := classEntries(used, o.Words)
	for _, l := range o.Levels {
		stroke, err := waterStroke(l.Key)
		if err != nil {
			return nil, err
		}
		entries = append(entries, lineEntry(named("water."+l.Key, o.Words), stroke))
	}
	return entries, nil
}

// useClasses marks the classes that layers show.
func useClasses(used map[string]bool, layers []ColumnLayer) {
	for _, l := range layers {
		for _, odds := range l.Odds {
			used[odds.Class] = used[odds.Class] || odds.Share > 0
		}
	}
}
