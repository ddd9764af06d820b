package advisor

import (
	"io/fs"

	"waterstrike/advisor/hydraulics"
	"waterstrike/advisor/level"
	"waterstrike/advisor/method"
	"waterstrike/advisor/rule"
	"waterstrike/advisor/welldesign"
	"waterstrike/geo"
)

// Rules are what a programme may set: methods, thresholds, the season, and how wells are
// built.
type Rules struct {
	Methods    []method.Method
	Thresholds Thresholds
	Season     geo.Opt[level.Season] // by latitude when missing
	Well       welldesign.Rules
	Pumps      []welldesign.Pump
	Prices     *welldesign.Prices // nil where the programme keeps no list
	Papers     []welldesign.Paper
	Timed      map[geo.Method][]method.Timed // logged paces, for hours of work; may be nil
}

// standardsFile is the programme's list of standards of service, which coverage reads.
const standardsFile = "standards.json"

// DefaultRules returns the embedded methods and rules and thresholds.
func DefaultRules() (Rules, error) { return RulesFromFolder(nil) }

// RulesFromFolder returns the rules of a programme: the embedded ones, changed by the
// files of its rules folder where there are any; nil for no folder.
//
// A wrong file is a [geo.Invalid] error whose message names the file, the entry, the
// field, the value and what to do.
func RulesFromFolder(folder fs.FS) (r Rules, err error) {
	if err := rule.Known(folder, method.FileName, welldesign.RulesFile, welldesign.PumpsFile, welldesign.PricesFile,
		welldesign.PapersFile, ThresholdsFile, standardsFile); err != nil {
		return Rules{}, err
	}
	if r.Thresholds, err = ThresholdsFromFolder(folder); err != nil {
		return Rules{}, err
	}
	if r.Methods, err = method.FromFolder(folder); err != nil {
		return Rules{}, err
	}
	if r.Well, err = welldesign.RulesFromFolder(folder); err != nil {
		return Rules{}, err
	}
	if r.Pumps, err = welldesign.PumpsFromFolder(folder); err != nil {
		return Rules{}, err
	}
	if r.Prices, err = welldesign.PricesFromFolder(folder); err != nil {
		return Rules{}, err
	}
	r.Papers, err = welldesign.PapersFromFolder(folder)
	return r, err
}

// kit is what wells by a method are built with.
func (r *Rules) kit(m *method.Method, ground *hydraulics.Conductivities) welldesign.Kit {
	return welldesign.Kit{
		Method: m, Rates: m.Learn(r.Timed[m.Code]), Rules: &r.Well, Pumps: r.Pumps, Prices: r.Prices,
		Ground: ground,
	}
}
