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
	middle, ok := forecast.Well.Get()
	if !ok || forecast.Unsafe > forecast.Fits {
		out.Verdict = refusedBy(forecast, wells, b.Method.Code)
		return nil
	}
	p := &Plan{Method: b.Method.Code, BottomM: bottoms(wells), Forecast: forecast}
	site, well := columns[middle].Site, wells[middle]
	if likely, w, err := likeliest(columns[middle].AltitudeM, *out.Water, odds, b); err != nil {
		return err
	} else if w.Verdict == welldesign.Fits && p.BottomM.P10 <= w.BottomM && w.BottomM <= p.BottomM.P90 {
		site, well = likely, w
	}
	p.Well, p.Rules = well, welldesign.WorkingRules(b.Method, well, b.Rules)
	if p.Building, err = b.building(site, well); err != nil {
		return err
	}
	p.Tools = toolsByDepth(b.Method, odds, out.Water.NormalLow.P50, p.BottomM.P90)
	out.Plan = p
	return nil
}

// likeliest designs a well into the most likely layers, which the advice shows, with the
// middle of each level.
func likeliest(altitudeM geo.Opt[float64], water Water, odds strata.Odds, b *builder) (welldesign.Site, welldesign.Well, error) {
	site := welldesign.Site{
		Water:     welldesign.Water{WetHighM: water.WetHigh.P50, NormalLowM: water.NormalLow.P50, DesignLowM: water.DesignLow.P50},
		AltitudeM: altitudeM,
	}
	for _, l := range odds.Layers() {
		site.Layers = append(site.Layers, welldesign.Layer{TopM: l.TopM, BaseM: l.BaseM, Class: l.Class})
	}
	well, err := welldesign.Design(site, b.Kit)
	return site, well, err
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
	fit := slices.DeleteFunc(slices.Clone(wells), func(w welldesign.Well) bool { return w.Verdict != welldesign.Fits })
	slices.SortStableFunc(fit, func(a, b welldesign.Well) int { return cmp.Compare(a.BottomM, b.BottomM) })
	total := 0.0
	for _, w := range fit {
		total += w.Chance
	}
	at := func(share float64) float64 {
		sum := 0.0
		for _, w := range fit {
			if sum += w.Chance; sum >= share*total {
				return w.BottomM
			}
		}
		return fit[len(fit)-1].BottomM
	}
	return Range{at(0.1), at(0.5), at(0.9)}
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
