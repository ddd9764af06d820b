package season

import (
	"maps"
	"slices"

	"waterstrike/advisor/coverage"
	"waterstrike/geo"
)

// tests are the days on which bottles of a bore were judged. The last results of each
// analyte count together: the water fails where one is out of its limit for health, and
// passes once every one that is needed was looked at, or a named person waived it. Until then
// it is not tested. A waiver takes no result away.
func tests(samples []geo.Sample) (out []coverage.Test) {
	byDay := map[geo.Date][]geo.Sample{}
	for _, s := range samples {
		day := s.On.Or(geo.Date{})
		byDay[day] = append(byDay[day], s)
	}
	last := map[string][]geo.Sample{}
	for _, day := range slices.SortedFunc(maps.Keys(byDay), geo.Date.Compare) {
		for code, results := range byAnalyte(byDay[day]) {
			if len(last[code]) == 0 || !allWaived(results) {
				last[code] = results
			}
		}
		if passed, judged := judge(last); judged {
			out = append(out, coverage.Test{On: day, Passed: passed})
		}
	}
	return out
}

func allWaived(results []geo.Sample) bool {
	return !slices.ContainsFunc(results, func(s geo.Sample) bool { return !s.Waived() })
}

// Waiver is a needed test that a named person answers for doing without.
type Waiver struct {
	Bore    string            `json:"bore"`
	Analyte string            `json:"analyte"`
	By      string            `json:"by"`
	Reason  string            `json:"reason"`
	On      geo.Opt[geo.Date] `json:"on,omitzero"`
}

// waivers lists those of a bore up to a day that no result has made idle.
func waivers(b *geo.Bore, upTo geo.Date) (out []Waiver) {
	var counted []geo.Sample
	for _, s := range b.Samples {
		if s.On.Or(geo.Date{}).Compare(upTo) <= 0 {
			counted = append(counted, s)
		}
	}
	by := byAnalyte(counted)
	for _, code := range geo.NeededAnalytes() {
		if results := by[code]; len(results) > 0 && allWaived(results) {
			s := results[len(results)-1]
			out = append(out, Waiver{string(b.ID), code, s.WaivedBy, s.Reason, s.On})
		}
	}
	return out
}

// byAnalyte sorts the results of a bottle; what is not a known analyte says nothing.
func byAnalyte(bottle []geo.Sample) map[string][]geo.Sample {
	out := map[string][]geo.Sample{}
	for _, s := range bottle {
		if a, _, known := geo.FindAnalyte(s.Analyte); known {
			out[a.Code] = append(out[a.Code], s)
		}
	}
	return out
}

// judge holds results against the limits for health; judged is false where none is out of
// its limit and a needed one is missing. Salt has no such limit: it only has to be known.
func judge(last map[string][]geo.Sample) (passed, judged bool) {
	if both, _ := geo.JudgeTogether(slices.Concat(last["nitrate"], last["nitrite"])); both == geo.Above {
		return false, true
	}
	looked := map[string]bool{}
	for code, results := range last {
		for _, s := range results {
			v, limit := geo.JudgeAs(geo.HealthLimit, s)
			if v == geo.Above || v == geo.Below {
				return false, true
			}
			looked[code] = looked[code] || limit.Kind == "" || v != geo.NotKnown || s.Waived()
		}
	}
	passed = !slices.ContainsFunc(geo.NeededAnalytes(), func(code string) bool { return !looked[code] })
	return passed, passed
}
