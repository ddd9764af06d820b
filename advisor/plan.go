package advisor

import (
	"math"

	"waterstrike/advisor/method"
	"waterstrike/advisor/strata"
	"waterstrike/geo"
)

// planFor turns the wells that worked in the ensemble into one plan: the middle hole,
// with its range for the pipe that is loaded.
func planFor(j joint, water Water, odds strata.Odds) *Plan {
	bottom, ok := j.wells.bottom()
	if !ok {
		return nil
	}
	screen := j.wells.screenAt(bottom.P50)
	p := &Plan{Method: j.driller.Code, BottomM: bottom, PlugM: sumpM}
	base := bottom.P50 - sumpM
	p.ScreenM = [2]float64{base - screen, base}
	p.PackM, p.ClayM, p.SealM = surround(p.ScreenM[0], bottom.P50)
	p.Tools = toolsByDepth(&j.driller.Method, odds, water.NormalLow.P50, bottom.P90)
	p.Rules = rulesFor(p.Tools)
	return p
}

// surround divides the space around the pipe. The seal wins over the pack: the pack
// reaches packBestM above the screen where seal and clay leave room, packMinM at least.
func surround(screenTopM, bottomM float64) (pack, clay, seal [2]float64) {
	above := min(packBestM, screenTopM-sealM-clayM)
	above = max(above, packMinM)
	pack = [2]float64{screenTopM - above, bottomM}
	clay = [2]float64{pack[0] - clayM, pack[0]}
	seal = [2]float64{0, clay[0]}
	return pack, clay, seal
}

// bottom returns the range of the depth of the holes that work.
func (w *wells) bottom() (Range, bool) {
	total := 0.0
	for _, p := range w.p {
		total += p
	}
	if total == 0 {
		return Range{}, false
	}
	at := func(share float64) float64 {
		sum := 0.0
		for i, p := range w.p {
			if sum += p; sum >= share*total {
				return float64(i) * strata.CellM
			}
		}
		return float64(len(w.p)-1) * strata.CellM
	}
	return Range{at(0.1), at(0.5), at(0.9)}, true
}

// screenAt is the usual length of the screens over a bottom, down to the half metre: a
// longer one might leave no room for the seal.
func (w *wells) screenAt(bottomM float64) float64 {
	cell := int(bottomM/strata.CellM + 0.5)
	if w.p[cell] == 0 {
		return screenM
	}
	return max(math.Floor(w.screenM[cell]/w.p[cell]/strata.CellM+1e-9)*strata.CellM, screenMinM)
}

// toolsByDepth follows the most likely layers down to the deepest hole planned for.
func toolsByDepth(m *method.Method, odds strata.Odds, waterM, bottomM float64) []ToolRange {
	var out []ToolRange
	for _, l := range odds.Layers() {
		for _, part := range splitAt(l, waterM) {
			ground := m.Ground[l.Class]
			tool := ground.Tool
			if part[0] >= waterM && ground.ToolBelowWater != "" {
				tool = ground.ToolBelowWater
			}
			if part[0] >= bottomM || tool == "" {
				return out
			}
			out = appendTool(out, ToolRange{part[0], min(part[1], bottomM), tool})
		}
	}
	return out
}

// splitAt cuts a layer at the water, to the half metre.
func splitAt(l strata.Layer, waterM float64) [][2]float64 {
	cut := math.Round(waterM/strata.CellM) * strata.CellM
	if cut <= l.TopM || cut >= l.BaseM {
		return [][2]float64{{l.TopM, l.BaseM}}
	}
	return [][2]float64{{l.TopM, cut}, {cut, l.BaseM}}
}

func appendTool(out []ToolRange, next ToolRange) []ToolRange {
	if n := len(out); n > 0 && out[n-1].Tool == next.Tool && out[n-1].BaseM == next.TopM {
		out[n-1].BaseM = next.BaseM
		return out
	}
	return append(out, next)
}

// rulesFor picks the working rules that the tools call for.
func rulesFor(tools []ToolRange) []geo.Message {
	has := map[method.Tool]bool{}
	for _, t := range tools {
		has[t.Tool] = true
	}
	var rules []geo.Message
	if has["bailer"] {
		rules = append(rules, geo.Say("plan.casing-rule"), geo.Say("plan.casing-water"), geo.Say("plan.casing-in-clay"))
	}
	if has["sludging-pipe"] || has["jetting-pipe"] {
		rules = append(rules, geo.Say("plan.fluid-level"))
	}
	return append(rules, geo.Say("plan.log-each-metre"), geo.Say("plan.stop-rule"), geo.Say("plan.backfill"), geo.Say("plan.apron"))
}
