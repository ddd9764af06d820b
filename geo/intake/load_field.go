package intake

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"
)

// checkFields checks the fields of one table; formOf tells which the table may have.
func checkFields(where string, t Table, fields map[string]Field, formOf func(string) (form, bool)) error {
	for _, name := range slices.Sorted(maps.Keys(fields)) {
		f, known := formOf(name)
		if !known {
			return fmt.Errorf("%s: %s have no field %q; allowed: %s", where, t.Kind, name, strings.Join(fieldNames(where, t), ", "))
		}
		if err := fields[name].check(where+"."+name, t.Kind, name, f); err != nil {
			return err
		}
	}
	return nil
}

func fieldNames(where string, t Table) []string {
	if where == "analytes" {
		return analytes()
	}
	return slices.Sorted(maps.Keys(kinds[t.Kind].fields))
}

func (f Field) check(path, kind, name string, as form) error {
	switch {
	case (f.Column == "") == (f.Fixed == ""):
		return fmt.Errorf("%s: needs either a column or a fixed text", path)
	case f.Fixed != "" && len(f.Values) > 0:
		return fmt.Errorf("%s: a fixed text needs no values", path)
	case f.Otherwise != "" && f.Part != "":
		return fmt.Errorf("%s: otherwise and part do not go together", path)
	}
	return errors.Join(f.checkUnit(path, as), f.checkDates(path, as), f.checkValues(path), f.checkChoices(path, kind, name, as))
}

func (f Field) checkUnit(path string, as form) error {
	switch as {
	case formLength, formLengths:
		return unitOf(path, f, lengthUnits)
	case formRate:
		return unitOf(path, f, rateUnits)
	case formIntervals:
		if f.Unit == "cell" || f.UnitColumn != "" {
			return errors.New(path + ": intervals need one unit for the whole column")
		}
		return unitOf(path, f, lengthUnits)
	}
	if f.Max != 0 && as != formNumber || f.UnitColumn != "" {
		return errors.New(path + ": max is for numbers, unitColumn for lengths and yields")
	}
	return nil
}

// checkValues refuses two texts that differ in case alone and stand for different things.
func (f Field) checkValues(path string) error {
	folded := map[string]string{}
	for _, from := range slices.Sorted(maps.Keys(f.Values)) {
		low := strings.ToLower(from)
		if to, met := folded[low]; met && to != f.Values[from] {
			return fmt.Errorf("%s.values: %q stands for both %q and %q", path, low, to, f.Values[from])
		}
		folded[low] = f.Values[from]
	}
	return nil
}

func unitOf(path string, f Field, units map[string]float64) error {
	if f.Unit == "" && f.UnitColumn != "" {
		return nil
	}
	if _, known := units[unitName(f.Unit)]; known || f.Unit == "cell" {
		return nil
	}
	if f.Unit == "" {
		return fmt.Errorf("%s.unit: missing; give it here, or lengths and yields for the whole data set: cell, %s", path,
			strings.Join(slices.Sorted(maps.Keys(units)), ", "))
	}
	return fmt.Errorf("%s.unit: %q is not one of cell, %s", path, f.Unit, strings.Join(slices.Sorted(maps.Keys(units)), ", "))
}

func (f Field) checkDates(path string, as form) error {
	if as != formDate && (len(f.Dates) > 0 || f.YearsFrom != 0 || f.JanuaryFirst != "") {
		return errors.New(path + ": dates, yearsFrom and januaryFirst are for dates")
	}
	for _, d := range f.Dates {
		if err := oneOf(path+".dates", d, slices.Sorted(maps.Keys(dateForms))...); err != nil {
			return err
		}
	}
	if f.YearsFrom != 0 && (f.YearsFrom < 1900 || f.YearsFrom > 2000) {
		return fmt.Errorf("%s.yearsFrom: %d is not in 1900..2000; two-digit years run from it for 100 years", path, f.YearsFrom)
	}
	return oneOf(path+".januaryFirst", f.JanuaryFirst, "", "day", "year")
}

func (f Field) checkChoices(path, kind, name string, as form) error {
	if as != formChoice {
		return nil
	}
	targets := slices.Sorted(maps.Values(f.Values))
	if f.Fixed != "" {
		targets = append(targets, f.Fixed)
	}
	for _, target := range targets {
		if !allowed(kind, name, target) {
			return fmt.Errorf("%s: %q is not one of %s", path, target, strings.Join(choices(kind, name), ", "))
		}
	}
	return nil
}

// fillUnits gives the fields that name no unit the one of the whole data set.
func (m *Mapping) fillUnits() {
	for _, t := range m.Tables {
		m.fillTable(t)
		for _, p := range t.Parts {
			m.fillTable(p)
		}
	}
}

func (m *Mapping) fillTable(t Table) {
	for name, f := range t.Fields {
		if f.Unit != "" || f.UnitColumn != "" {
			continue
		}
		switch kinds[t.Kind].fields[name] {
		case formLength, formLengths, formIntervals:
			f.Unit = m.Lengths
		case formRate:
			f.Unit = m.Yields
		}
		t.Fields[name] = f
	}
}
