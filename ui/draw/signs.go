package draw

import "fmt"

// SignMM is the side of the square that a sign of [Signs] stands in: 24 CSS pixels.
const SignMM = 24 * 25.4 / 96

// The signs of water points, which stand behind those of the bores.
const (
	PointWorks   = "works"
	PointBroken  = "broken"
	PointUnknown = "unknown-point"
	VillageSign  = "village"
)

// ages are the fills that tell how long ago a bore was finished, the newest first; the
// last is for those without a date. They fall off in lightness alone, so that they can be
// told apart without colour.
func ages() []string { return []string{"#08306b", "#3f7fb5", "#8fbbd9", "#d6e4ee", "#ffffff"} }

// SignKeys lists the keys of [Sign], in the order of the columns of [Signs].
func SignKeys() []string {
	return append(Outcomes(), VillageSign, PointWorks, PointBroken, PointUnknown)
}

// Signs draws all signs on one sheet, a column for each key and a row for each age; pages
// and the map cut them out.
func Signs() (Scene, error) {
	keys, rows := SignKeys(), len(ages())+1
	s := Scene{WidthMM: SignMM * float64(len(keys)), HeightMM: SignMM * float64(rows), ID: "signs-", Title: "Signs", Desc: "Signs"}
	for row := range rows {
		for col, key := range keys {
			items, err := Sign(key, row, Point{(float64(col) + 0.5) * SignMM, (float64(row) + 0.5) * SignMM})
			if err != nil {
				return Scene{}, err
			}
			s.Items = append(s.Items, items...)
		}
	}
	return s, nil
}

// Sign draws one sign about a point. Age 0 is in the sign's own colours, 1 to 5 tell by
// the fill how old a bore is.
//
//   - Errors: a key that is not of [SignKeys], another age.
func Sign(key string, age int, at Point) ([]Item, error) {
	if age < 0 || age > len(ages()) {
		return nil, fmt.Errorf("draw: no age %d; there are 0 to %d", age, len(ages()))
	}
	var items []Item
	switch key {
	case VillageSign:
		items = []Item{villageSign(at)}
	case PointWorks:
		items = []Item{drop(at, "#00796b")}
	case PointBroken:
		items = []Item{drop(at, "#ffffff"), segment(at.X-1.3, at.Y+1.3, at.X+1.3, at.Y-1.3, line(ink, 0.45))}
	case PointUnknown:
		items = []Item{drop(at, "#ffffff")}
	default:
		marked, err := marker(key, at)
		if err != nil {
			return nil, err
		}
		if age > 0 {
			marked = aged(marked, ages()[age-1], key == "low-yield")
		}
		items = marked
	}
	return append(haloed(items), items...), nil
}

// drop is a drop of water standing on its round end.
func drop(at Point, color string) Item {
	points := around(Point{at.X, at.Y + 0.45}, 1.15, 13, -30, 260)
	return Path{Points: append(points, Point{at.X, at.Y - 1.75}), Closed: true, Fill: Fill{Color: color}, Stroke: line(ink, 0.3)}
}

// aged fills the areas of a sign by age; one that is told by its open half keeps that.
func aged(items []Item, fill string, openStays bool) []Item {
	out := make([]Item, len(items))
	for i, it := range items {
		switch v := it.(type) {
		case Circle:
			if v.Fill.Color != "" && !(openStays && v.Fill.Color == "#ffffff") {
				v.Fill.Color = fill
			}
			it = v
		case Path:
			if v.Fill.Color != "" {
				v.Fill.Color = fill
			}
			it = v
		}
		out[i] = it
	}
	return out
}

// haloed returns the outlines of items in broad white, to lie below them: a sign then
// stands off from whatever ground it is on.
func haloed(items []Item) []Item {
	white := line("#ffffff", 1)
	var out []Item
	for _, it := range items {
		switch v := it.(type) {
		case Circle:
			v.Stroke = white
			out = append(out, v)
		case Path:
			v.Stroke = white
			out = append(out, v)
		}
	}
	return out
}
