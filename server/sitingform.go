package server

import (
	"strings"
	"time"

	"waterstrike/geo"
)

// partsOfSiting is the form of a siting visit from its top.
var partsOfSiting = []string{"spot", "near", "settled", "ground", "who"}

// sitingCells are what the form asks of the spot as a whole.
func sitingCells() map[string][]cell[geo.Siting] {
	answers := []geo.Answer{"", geo.Yes, geo.No}
	return map[string][]cell[geo.Siting]{
		"spot": {
			words("place", "text", func(v *geo.Siting) *string { return &v.Place }),
			maybeDate("on", func(v *geo.Siting) *geo.Opt[geo.Date] { return &v.On }),
		},
		"settled": {
			openChoice("consent", "entry.answer.", answers[1:], "", func(v *geo.Siting) *geo.Answer { return &v.Consent }),
			words("consent-by", "text", func(v *geo.Siting) *string { return &v.ConsentBy }),
			openChoice("services", "entry.answer.", answers[1:], "", func(v *geo.Siting) *geo.Answer { return &v.Services }),
			words("services-by", "text", func(v *geo.Siting) *string { return &v.ServicesBy }),
			openChoice("ordnance", "siting.ordnance.", []geo.Clearance{geo.NeverSuspected, geo.Cleared, geo.NotCleared}, "", func(v *geo.Siting) *geo.Clearance { return &v.Ordnance }),
			words("ordnance-by", "text", func(v *geo.Siting) *string { return &v.OrdnanceBy }),
		},
		"ground": {
			maybeNumber("flood", "metres", func(v *geo.Siting) *geo.Opt[float64] { return &v.FloodM }),
			words("access", "text", func(v *geo.Siting) *string { return &v.Access }),
			words("remarks", "long", func(v *geo.Siting) *string { return &v.Remarks }),
		},
		"who": {words("by", "text", func(v *geo.Siting) *string { return &v.Source.By })},
	}
}

func nearRows() rows[geo.Siting] {
	return rowsOf[geo.Siting, geo.Nearby]{
		name: "near", blanks: 2, at: func(v *geo.Siting) *[]geo.Nearby { return &v.Near },
		cells: []cell[geo.Nearby]{
			neededChoice("kind", "nearby.", geo.NearKinds(), func(n *geo.Nearby) *geo.NearKind { return &n.Kind }),
			maybeNumber("distance", "metres", func(n *geo.Nearby) *geo.Opt[float64] { return &n.DistanceM }),
			maybeNumber("bearing", "number", func(n *geo.Nearby) *geo.Opt[float64] { return &n.BearingDeg }),
			maybeNumber("depth", "metres", func(n *geo.Nearby) *geo.Opt[float64] { return &n.DepthM }),
			{
				name: "dry", kind: "months",
				get: func(n *geo.Nearby) string { return writtenMonths(n.DryMonths) },
				set: func(n *geo.Nearby, text string) (wrong geo.Code) { n.DryMonths, wrong = readMonths(text); return wrong },
			},
			words("said-by", "text", func(n *geo.Nearby) *string { return &n.SaidBy }),
			words("words", "text", func(n *geo.Nearby) *string { return &n.Words }),
		},
	}
}

// neverDry is how people write that a well is dry in no month.
var neverDry = []string{"never", "jamais", "nunca", "0"}

func writtenMonths(o geo.Opt[geo.MonthSet]) string {
	set, known := o.Get()
	if !known {
		return ""
	}
	var out []string
	for _, m := range set.List() {
		out = append(out, decimal(int64(m)))
	}
	if len(out) == 0 {
		return neverDry[0]
	}
	return strings.Join(out, " ")
}

// readMonths reads months as numbers, or that there are none; blank is not known.
func readMonths(text string) (out geo.Opt[geo.MonthSet], wrong geo.Code) {
	if text == "" {
		return out, ""
	}
	for _, word := range neverDry {
		if strings.EqualFold(text, word) {
			return geo.Some(geo.MonthSet(0)), ""
		}
	}
	var months []time.Month
	for _, field := range strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == ',' || r == ';' }) {
		n, wrong := readNumber(field)
		m := time.Month(n.Or(0))
		if wrong != "" || m < time.January || m > time.December || float64(m) != n.Or(0) {
			return out, "entry.fault.months"
		}
		months = append(months, m)
	}
	return geo.Some(geo.Months(months...)), ""
}
