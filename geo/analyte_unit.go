package geo

import (
	"fmt"
	"slices"
	"strings"
)

// resultUnits are the units of each analyte's own unit in which results are written, by
// folded name, with the factor to it. A part per million of fresh water is taken as a
// milligram per litre (common practice); a most probable number counts as colonies.
var resultUnits = map[string]map[string]float64{
	"mg/L": {
		"mg/l": 1, "g/l": 1000, "ug/l": 1e-3, "mcg/l": 1e-3, "ng/l": 1e-6, "ppm": 1, "ppb": 1e-3,
		"mg/dm3": 1, "g/m3": 1, "mg/m3": 1e-3,
	},
	"uS/cm": {
		"us/cm": 1, "ms/cm": 1000, "ds/m": 1000, "ms/m": 10, "s/m": 1e4, "umho/cm": 1, "umhos/cm": 1, "mmho/cm": 1000,
	},
	"CFU/100mL": {
		"cfu/100ml": 1, "ufc/100ml": 1, "mpn/100ml": 1, "nmp/100ml": 1, "npp/100ml": 1, "/100ml": 1, "100ml": 1, "n/100ml": 1,
		"col/100ml": 1, "cfu/ml": 100, "ufc/ml": 100, "cfu/dl": 1,
	},
	"NTU":  {"ntu": 1, "fnu": 1, "ftu": 1, "utn": 1, "unt": 1},
	"[pH]": {"[ph]": 1, "ph": 1, "unit": 1, "units": 1, "-": 1},
	"Cel":  {"cel": 1, "c": 1, "°c": 1, "ºc": 1, "degc": 1},
}

// storedUnits are the names under which results keep the unit they were written in.
var storedUnits = map[string]string{
	"g/l": "g/L", "ug/l": "ug/L", "mcg/l": "ug/L", "ng/l": "ng/L", "ppb": "ug/L", "mg/m3": "ug/L",
	"ms/cm": "mS/cm", "ds/m": "mS/cm", "mmho/cm": "mS/cm", "ms/m": "mS/m", "s/m": "S/m", "cfu/ml": "CFU/mL", "ufc/ml": "CFU/mL",
}

var unitFold = strings.NewReplacer("µ", "u", "μ", "u", "³", "3", "l-1", "/l", "l⁻¹", "/l", "cm-1", "/cm", " per ", "/", " ", "", "litre", "l", "liter", "l")

// ReadUnit reads the unit of a result as a column or a cell writes it, with the basis that
// may follow ("mg/L as N", "mg/l NO3-N"). An empty text is no unit, but for pH.
func (a Analyte) ReadUnit(text string) (unit, basis string, ok bool) {
	name := unitFold.Replace(strings.ToLower(text))
	known := resultUnits[a.Unit]
	if name == "" {
		return a.Unit, "", a.Unit == "[pH]"
	}
	for cut := len(name); cut > 0; cut-- {
		if _, ok := known[name[:cut]]; !ok {
			continue
		}
		unit = a.Unit
		if stored, other := storedUnits[name[:cut]]; other {
			unit = stored
		}
		if cut == len(name) {
			return unit, "", true
		}
		basis = a.basisAfter(name[cut:])
		return unit, basis, basis != ""
	}
	return "", "", false
}

// basisAfter reads what follows a unit, spaces and case already gone.
func (a Analyte) basisAfter(rest string) string {
	rest = strings.Trim(rest, "()-_.,;")
	for _, joining := range []string{"as", "en", "como"} {
		if after, cut := strings.CutPrefix(rest, joining); cut {
			rest = strings.Trim(after, "()-")
			break
		}
	}
	bases := []string{a.Basis}
	for basis := range a.Bases {
		bases = append(bases, basis)
	}
	slices.Sort(bases)
	for _, basis := range bases {
		sign := strings.ToLower(basis)
		if basis != "" && (rest == sign || rest == strings.ToLower(a.Basis)+"-"+sign) {
			return basis
		}
	}
	return ""
}

// In turns a result into the unit and basis of the analyte's limits.
//
//   - Units: value in unit, counted as basis (the analyte's own when empty); the answer in
//     a.Unit, counted as a.Basis. Conductivity is taken as given for 25 °C.
//   - Errors: [Invalid] for a unit or basis that this analyte has not.
//   - Source: atomic masses in analytes.csv.
func (a Analyte) In(value float64, unit, basis string) (float64, error) {
	factor, ok := resultUnits[a.Unit][unitFold.Replace(strings.ToLower(unit))]
	if !ok {
		return 0, Fail(Invalid, "geo.Analyte.In", Message{}, fmt.Errorf("%s is not measured in %q; give %s", a.Code, unit, a.Unit))
	}
	if basis == "" || strings.EqualFold(basis, a.Basis) {
		return value * factor, nil
	}
	for other, times := range a.Bases {
		if strings.EqualFold(other, basis) {
			return value * factor * times, nil
		}
	}
	return 0, Fail(Invalid, "geo.Analyte.In", Message{}, fmt.Errorf("%s is not counted as %q; give %s", a.Code, basis, a.Basis))
}
