package sheet

import (
	"slices"
	"strings"

	"waterstrike/advisor"
	"waterstrike/geo/soil"
	"waterstrike/ui/draw"
	"waterstrike/ui/say"
)

const (
	drawnCellM = 1.0  // thickness of a drawn cell: thinner ones only add bytes
	drawnShare = 0.03 // odds below this are left blank: too thin to see
	belowHoleM = 3.0  // how far below the plan or the water the drawing goes
	leastDeepM = 10.0
)

// column draws the odds of the layers by depth, the most likely layers beside them and
// the three water levels. The second result tells whether there is anything to draw.
func (s speaker) column(a advisor.Advice) (draw.Scene, bool, error) {
	if a.Odds == nil || len(a.Odds.Odds) == 0 {
		return draw.Scene{}, false, nil
	}
	depth := drawnDepth(a)
	o := draw.ColumnOptions{
		WidthMM: 86, HeightMM: 104, ID: "column-", MaxDepthM: depth,
		Title:      s.Say("sheet.drawing"),
		Desc:       s.Say("drawing.column-title", say.With("place", say.Position(a.Question.At.Lat, a.Question.At.Lon))),
		DepthLabel: s.Say("drawing.depth-axis"), OddsLabel: s.Say("drawing.odds-axis"),
		Words: s.drawingWords(), Number: s.tick,
	}
	if a.Water != nil {
		for _, l := range levels(a.Water) {
			o.Levels = append(o.Levels, draw.ColumnLevel{Key: l.key, DepthM: l.depth.P50, LoM: l.depth.P10, HiM: l.depth.P90})
		}
	}
	cells := oddsCells(*a.Odds, depth)
	s.note(cells, a.Layers, depth)
	scene, err := draw.Column(cells, o)
	return scene, true, err
}

// drawnDepth ends the drawing below what matters: the hole, or the water.
func drawnDepth(a advisor.Advice) float64 {
	known := float64(len(a.Odds.Odds)) * a.Odds.CellM
	deepest := leastDeepM
	if a.Water != nil {
		deepest = max(deepest, a.Water.DesignLow.P90+belowHoleM)
		known = max(known, a.Water.DesignLow.P50+1)
	}
	if a.Plan != nil {
		deepest = max(deepest, a.Plan.BottomM.P90+belowHoleM)
	}
	return min(deepest, known)
}

// oddsCells joins the cells of the advice into drawn ones, each a mean.
func oddsCells(odds advisor.OddsColumn, depthM float64) []draw.ColumnLayer {
	each := max(1, int(drawnCellM/odds.CellM+0.5))
	var out []draw.ColumnLayer
	for from := 0; from < len(odds.Odds); from += each {
		to := min(from+each, len(odds.Odds))
		top, base := float64(from)*odds.CellM, float64(to)*odds.CellM
		if top >= depthM {
			break
		}
		out = append(out, draw.ColumnLayer{TopM: top, BaseM: base, Odds: meanOdds(odds.Classes, odds.Odds[from:to])})
	}
	return out
}

func meanOdds(classes []soil.Class, cells [][]float64) []draw.Odds {
	var out []draw.Odds
	for k, class := range classes {
		sum := 0.0
		for _, cell := range cells {
			sum += cell[k]
		}
		if share := sum / float64(len(cells)); share >= drawnShare {
			out = append(out, draw.Odds{Class: class.String(), Share: share})
		}
	}
	return out
}

// note writes each likely layer beside the drawn cell at its middle.
func (s speaker) note(cells []draw.ColumnLayer, layers []advisor.Layer, depthM float64) {
	for _, l := range layers {
		middle := (l.TopM + min(l.BaseM, depthM)) / 2
		at, found := slices.BinarySearchFunc(cells, middle, func(c draw.ColumnLayer, m float64) int {
			switch {
			case c.BaseM <= m:
				return -1
			case c.TopM > m:
				return 1
			}
			return 0
		})
		if found && l.TopM < depthM && cells[at].Note == "" {
			cells[at].Note = short(s.class(l.Class)) + ", " + s.chance(l.Chance)
		}
	}
}

// notedLetters is how many letters fit beside a column.
const notedLetters = 18

// short drops what stands in brackets, and the end of what is still too long.
func short(words string) string {
	words, _, _ = strings.Cut(words, " (")
	if letters := []rune(words); len(letters) > notedLetters {
		return string(letters[:notedLetters-1]) + "…"
	}
	return words
}

// tick writes a round number at an axis.
func (s speaker) tick(v float64) string {
	decimals := 0
	if v != float64(int(v)) {
		decimals = 1
	}
	return s.Say("value.number", say.With("effective", say.Number(v, decimals)))
}

// drawingWords names everything that a legend may have to explain.
func (s speaker) drawingWords() map[string]string {
	words := map[string]string{
		"site": s.Say("drawing.this-point"), "village": s.Say("drawing.village"), "river": s.Say("drawing.river"),
		"boundary": s.Say("drawing.boundary"), "ground": s.Say("drawing.ground"),
	}
	for _, look := range draw.Looks() {
		words["class."+look.Class] = s.Say("class." + look.Class)
	}
	for _, outcome := range draw.Outcomes() {
		words["outcome."+outcome] = s.Say("outcome." + outcome)
	}
	for _, line := range draw.WaterLines() {
		words["water."+line] = s.Say("drawing.water-" + line)
	}
	return words
}
