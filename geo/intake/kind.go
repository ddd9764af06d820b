package intake

import (
	"maps"
	"regexp"
	"slices"

	"waterstrike/geo"
)

// form is how a field's cell is read.
type form uint8

const (
	formText form = iota
	formLength
	formRate
	formNumber
	formDate
	formChoice
	formYesNo
	formMonths
	formLengths   // several depths in one cell
	formIntervals // several depth intervals in one cell
)

// kind is a kind of record that a table can hold.
type kind struct {
	fields   map[string]form
	needs    []string
	position bool // a table of it says where its records lie
	part     bool // its rows belong to bores
	remarks  bool // text in a number column is kept as a remark
	apply    func(*run, *cells) (bool, error)
}

var kinds = map[string]kind{
	"bores": {
		fields: map[string]form{
			"code": formText, "name": formText, "place": formText, "driller": formText, "remarks": formText,
			"ground": formLength, "groundDatum": formText, "groundSource": formText,
			"started": formDate, "completed": formDate, "method": formChoice, "outcome": formChoice,
			"depth": formLength, "refusal": formLength, "yield": formRate, "cost": formNumber, "currency": formText,
			"level": formLength, "levelDate": formDate, "levelReference": formLength,
			"strikes": formLengths, "screens": formIntervals,
		},
		position: true, remarks: true, apply: (*run).boreRow,
	},
	"layers": {
		fields: map[string]form{"top": formLength, "base": formLength, "words": formText, "minutesPerM": formNumber, "colour": formText, "hardness": formText},
		needs:  []string{"top", "base", "words"}, part: true, apply: (*run).layer,
	},
	"levels": {
		fields: map[string]form{"level": formLength, "date": formDate, "reference": formLength},
		needs:  []string{"level"}, part: true, apply: (*run).levelRow,
	},
	"strikes": {
		fields: map[string]form{"depth": formLength, "words": formText},
		needs:  []string{"depth"}, part: true, apply: (*run).strike,
	},
	"pipes": {
		fields: map[string]form{
			"kind": formChoice, "top": formLength, "base": formLength,
			"diameter": formLength, "slot": formLength, "material": formText,
		},
		needs: []string{"kind", "top", "base"}, part: true, apply: (*run).pipe,
	},
	"fills": {
		fields: map[string]form{"kind": formChoice, "top": formLength, "base": formLength},
		needs:  []string{"kind", "top", "base"}, part: true, apply: (*run).fill,
	},
	"samples": {
		fields: map[string]form{
			"analyte": formChoice, "value": formNumber, "unit": formText, "basis": formText,
			"limit": formNumber, "date": formDate, "laboratory": formText,
			"waivedBy": formText, "reason": formText,
		},
		part: true, apply: (*run).sample,
	},
	"tests": {
		fields: map[string]form{
			"kind": formChoice, "date": formDate, "rate": formRate, "hours": formNumber, "rest": formLength,
			"pumping": formLength, "bail": formNumber, "halfMinutes": formNumber, "threeQuarterMinutes": formNumber,
			"remarks": formText,
		},
		needs: []string{"kind"}, part: true, remarks: true, apply: (*run).test,
	},
	"villages": {
		fields: map[string]form{"name": formText, "people": formNumber},
		needs:  []string{"name"}, position: true, apply: (*run).village,
	},
	"water-points": {
		fields: map[string]form{
			"name": formText, "place": formText, "kind": formChoice, "depth": formLength, "works": formYesNo, "users": formNumber,
			"dryMonths": formMonths, "visited": formDate, "level": formLength, "remarks": formText,
		},
		position: true, apply: (*run).waterPoint,
	},
}

// kindNames lists the kinds in alphabetical order.
func kindNames() []string { return slices.Sorted(maps.Keys(kinds)) }

// methodCode is the form of a method's code; the list of methods is the advisor's and
// can be edited, so that any code is taken.
var methodCode = regexp.MustCompile(`^[a-z]+(-[a-z]+)*$`)

// allowed reports whether code is a choice for the field of a kind of table.
func allowed(kind, field, code string) bool {
	if field == "method" {
		return methodCode.MatchString(code)
	}
	return slices.Contains(choices(kind, field), code)
}

func choices(kind, field string) []string {
	switch kind + "." + field {
	case "bores.outcome":
		return texts(geo.Outcomes())
	case "pipes.kind":
		return texts([]geo.PipeKind{geo.Casing, geo.Screen, geo.Plug})
	case "fills.kind":
		return texts([]geo.FillKind{geo.Pack, geo.ClaySeal, geo.Grout, geo.Backfill})
	case "tests.kind":
		return texts([]geo.TestKind{geo.ConstantRate, geo.StepTest, geo.Recovery, geo.BailerTest})
	case "water-points.kind":
		return texts([]geo.PointKind{
			geo.TubeWell, geo.DugWell, geo.Spring, geo.OpenWater, geo.PipedPoint, geo.PointUnknown,
		})
	case "samples.analyte":
		return analytes()
	}
	return nil
}

// analytes are the codes of what a sample may be tested for.
func analytes() []string {
	all := geo.Analytes()
	out := make([]string, len(all))
	for i, a := range all {
		out[i] = a.Code
	}
	return out
}

func texts[T ~string](list []T) []string {
	out := make([]string, len(list))
	for i, v := range list {
		out[i] = string(v)
	}
	return out
}
