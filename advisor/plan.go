package advisor

import (
	"cmp"
	"math"
	"slices"

	"waterstrike/advisor/method"
	"waterstrike/advisor/strata"
	"waterstrike/advisor/welldesign"
	"waterstrike/geo"
)

// plan designs wells for the grounds in which it may succeed. Where the rules
// of the well say that it could not be kept clean there, or that none can be built, the
// verdict gives way to them.
func (out *Advice) plan(columns []welldesign.Possible, b *builder, odds strata.Odds) error {
	if len(columns) == 0 {
		return nil
	}
	forecast, wells, err := welldesign.Foresee(columns, b.Kit)
	if err != nil {
		return err
	}
	if _, ok := forecast.Well.Get(); !ok || forecast.Unsafe > forecast.Fits {
		out.Verdict = refusedBy(forecast, wells, b.Method.Code)
		return nil
	}
	p := &Plan{Method: b.Method.Code, BottomM: bottoms(wells)}
	site, well, err := out.typical(columns, wells, odds, p.BottomM, b)
	if err != nil {
		return err
	}
	forecast.Cover(well, b.Kit)
	p.Forecast = forecast
	if len(well.Notes) > 0 && (well.Notes[0].Code == otherGround || well.Notes[0].Code == otherDepth) {
		p.Drawn = downTo(site.Layers, well.BottomM)
	}
	out.Evidence.flows(&well)
	p.Well, p.Rules = well, welldesign.WorkingRules(b.Method, well, b.Rules)
	if p.Building, err = b.building(site, well); err != nil {
		return err
	}
	p.Tools = toolsByDepth(b.Method, odds, out.Water.NormalLow.P50, p.BottomM.P90)
	out.Plan = p
	return nil
}

// downTo are the layers above a depth, neighbours of one class joined.
func downTo(layers []welldesign.Layer, depthM float64) (out []welldesign.Layer) {
	for _, l := range layers {
		if l.TopM >= depthM {
			break
		}
		base := min(l.BaseM, depthM)
		if n := len(out); n > 0 && out[n-1].Class == l.Class {
			out[n-1].BaseM = base
			continue
		}
		out = append(out, welldesign.Layer{TopM: l.TopM, BaseM: base, Class: l.Class})
	}
	return out
}

// refusedBy is the verdict where the rules of the well leave none, with the most frequent
// reason in the words of the likeliest ground that has it.
func refusedBy(f welldesign.Forecast, wells []welldesign.Well, by geo.Method) Verdict {
	v := Verdict{Code: Avoid, Method: by}
	if f.Unsafe > f.Fits {
		v.Code = Unsafe
	}
	for _, w := range wells {
		if len(w.Why) > 0 && (w.Verdict == welldesign.Unsafe || v.Code == Avoid) {
			v.Because = w.Why[:1]
			break
		}
	}
	return v
}

// bottoms is the range of the depth of the wells that fit; each counts by its chance to
// yield.
func bottoms(wells []welldesign.Well) Range {
	at := bottomsBetween(wells, 0.1, 0.5, 0.9)
	return Range{at[0], at[1], at[2]}
}

// bottomsBetween returns the depths that shares of the wells that fit do not exceed. At
// least one fits.
func bottomsBetween(wells []welldesign.Well, shares ...float64) []float64 {
	fit := slices.DeleteFunc(slices.Clone(wells), func(w welldesign.Well) bool { return w.Verdict != welldesign.Fits })
	slices.SortStableFunc(fit, func(a, b welldesign.Well) int { return cmp.Compare(a.BottomM, b.BottomM) })
	total := 0.0
	for _, w := range fit {
		total += w.Chance
	}
	out := make([]float64, len(shares))
	for i, share := range shares {
		sum := 0.0
		out[i] = fit[len(fit)-1].BottomM
		for _, w := range fit {
			if sum += w.Chance; sum >= share*total {
				out[i] = w.BottomM
				break
			}
		}
	}
	return out
}

// toolsByDepth follows the most likely layers down to the deepest hole planned for.
func toolsByDepth(m *method.Method, odds strata.Odds, waterM, bottomM float64) []ToolRange {
	var out []ToolRange
	for _, l := range odds.Layers() {
		for _, part := range splitAt(l, waterM) {
			ground := m.Ground[l.Class]
			tool := ground.Tool
			if part[0] >= toCell(waterM) && ground.ToolBelowWater != "" {
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
	cut := toCell(waterM)
	if cut <= l.TopM || cut >= l.BaseM {
		return [][2]float64{{l.TopM, l.BaseM}}
	}
	return [][2]float64{{l.TopM, cut}, {cut, l.BaseM}}
}

// toCell is a depth to the half metre.
func toCell(depthM float64) float64 { return math.Round(depthM/strata.CellM) * strata.CellM }

func appendTool(out []ToolRange, next ToolRange) []ToolRange {
	if n := len(out); n > 0 && out[n-1].Tool == next.Tool && out[n-1].BaseM == next.TopM {
		out[n-1].BaseM = next.BaseM
		return out
	}
	return append(out, next)
}
