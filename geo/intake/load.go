package intake

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"maps"
	"reflect"
	"slices"
	"strings"

	"waterstrike/geo"
	"waterstrike/geo/coord"
)

// maxMapping bounds the mapping file, bytes.
const maxMapping = 1 << 20

// maxHeaderRow bounds how far down a sheet its header may stand.
const maxHeaderRow = 1000

// LoadMapping reads and checks a mapping file (JSON). An error is [geo.Invalid] and names
// the key that is wrong and what it may be.
func LoadMapping(r io.Reader) (Mapping, error) {
	data, err := io.ReadAll(io.LimitReader(r, maxMapping+1))
	if err == nil && len(data) > maxMapping {
		err = fmt.Errorf("larger than %d bytes", maxMapping)
	}
	var m Mapping
	if err == nil {
		err = decode(data, &m)
	}
	if err == nil {
		m.fillUnits()
		err = m.check()
	}
	if err != nil {
		return Mapping{}, geo.Fail(geo.Invalid, "intake.LoadMapping", geo.Message{}, err)
	}
	return m, nil
}

func decode(data []byte, m *Mapping) error {
	var loose any
	if err := json.Unmarshal(data, &loose); err != nil {
		return fmt.Errorf("not JSON: %w", err)
	}
	if err := unknownKeys("", loose, reflect.TypeFor[Mapping]()); err != nil {
		return err
	}
	return json.Unmarshal(data, m)
}

func (m Mapping) check() error {
	if m.Dataset == "" {
		return errors.New("dataset: missing; give the data set a short name that never changes")
	}
	if err := oneOf("language", m.Language, "", "en", "fr", "pt"); err != nil {
		return err
	}
	if n := len(m.Within); n != 0 && (n != 4 || m.Within[0] > m.Within[2] || m.Within[1] > m.Within[3]) {
		return errors.New("within: give west, south, east, north in degrees")
	}
	if len(m.Tables) == 0 {
		return errors.New("tables: missing; map at least one")
	}
	for i, t := range m.Tables {
		if err := t.check(); err != nil {
			return fmt.Errorf("tables[%d].%w", i, err)
		}
	}
	return nil
}

func (t Table) check() error {
	return errors.Join(t.checkFile(), t.checkContent(), t.checkParts())
}

// checkParts checks the tables inside a table of bores.
func (t Table) checkParts() error {
	for i, p := range t.Parts {
		if t.Kind != "bores" || !kinds[p.Kind].part {
			return fmt.Errorf("parts[%d]: %q in %q; only bores have parts, such as layers", i, p.Kind, t.Kind)
		}
		bare := Table{Kind: p.Kind, Missing: p.Missing, Fields: p.Fields, Analytes: p.Analytes}
		if !reflect.DeepEqual(bare, p) {
			return fmt.Errorf("parts[%d]: only kind, missing, fields and analytes; the rest is the bore's", i)
		}
		if err := p.checkContent(); err != nil {
			return fmt.Errorf("parts[%d].%w", i, err)
		}
	}
	return nil
}

func (t Table) checkContent() error {
	k, known := kinds[t.Kind]
	if !known {
		return oneOf("kind", t.Kind, kindNames()...)
	}
	return errors.Join(
		t.checkPosition(k),
		checkFields("fields", t, t.Fields, func(name string) (form, bool) { f, ok := k.fields[name]; return f, ok }),
		checkNeeds(k, t),
		checkFields("analytes", t, t.Analytes, func(name string) (form, bool) {
			return formNumber, t.Kind == "samples" && slices.Contains(analytes(), name)
		}),
	)
}

func (t Table) checkFile() error {
	if t.File == "" {
		return errors.New("file: missing")
	}
	if len(t.Key) == 0 && t.NoKey != "whole-row" {
		return errors.New(`key: missing; name the columns that tell one record from another, or set noKey to "whole-row"`)
	}
	if len([]rune(t.Delimiter)) > 1 || len([]rune(t.Comment)) > 1 {
		return errors.New("delimiter, comment: one character each")
	}
	if w := t.When; w != nil && (w.Column == "" || (len(w.In) == 0) == (len(w.NotIn) == 0)) {
		return errors.New("when: needs a column and either in or notIn")
	}
	if t.HeaderRow < 0 || t.HeaderRow > maxHeaderRow {
		return fmt.Errorf("headerRow: %d is not in 0..%d", t.HeaderRow, maxHeaderRow)
	}
	return errors.Join(
		oneOf("format", t.Format, append(slices.Sorted(maps.Keys(formats)), "")...),
		oneOf("encoding", t.Encoding, append(slices.Sorted(maps.Keys(encodings)), "")...),
		oneOf("decimal", t.Decimal, "", ".", ","),
		oneOf("noKey", t.NoKey, "", "reject", "whole-row", "row-above"),
	)
}

func (t Table) checkPosition(k kind) error {
	p := t.Position
	if p == nil {
		return nil
	}
	if !k.position {
		return fmt.Errorf("position: %s have none of their own", t.Kind)
	}
	needs := map[string][]string{"lon-lat": {p.Lon, p.Lat}, "projected": {p.East, p.North, p.CRS}, "pair": {p.Pair}}
	columns, known := needs[p.Kind]
	if !known {
		return oneOf("position.kind", p.Kind, slices.Sorted(maps.Keys(needs))...)
	}
	if slices.Contains(columns, "") {
		return fmt.Errorf("position: a %q position needs lon and lat, or east, north and crs, or pair", p.Kind)
	}
	if err := oneOf("position.order", p.Order, "", "lon-lat", "lat-lon"); err != nil {
		return err
	}
	if p.Kind == "projected" && !strings.Contains(p.CRS, "{") {
		if _, err := coord.ParseProjection(p.CRS); err != nil {
			return fmt.Errorf("position.crs: %w", err)
		}
	}
	if p.Datum != "" {
		if _, err := coord.ParseDatum(p.Datum); err != nil {
			return fmt.Errorf("position.datum: %w", err)
		}
	}
	if p.AtBestM < 0 || p.AtBestM > 1e6 {
		return fmt.Errorf("position.atBestM: %g is not in 0..1e6 metres", p.AtBestM)
	}
	return checkPrecision(t, p.Precision)
}

func checkPrecision(t Table, f *Field) error {
	if f == nil {
		return nil
	}
	return f.check("position.precision", t.Kind, "precision", formLength)
}

func checkNeeds(k kind, t Table) error {
	needs := k.needs
	if t.Kind == "samples" && len(t.Analytes) == 0 {
		needs = []string{"analyte", "value"}
		if t.Fields["value"].Unit == "" {
			needs = append(needs, "unit")
		}
	}
	for _, name := range slices.Sorted(maps.Keys(t.Analytes)) {
		if t.Analytes[name].Unit == "" {
			return fmt.Errorf("analytes.%s.unit: missing; write it as the laboratory does, such as mg/L", name)
		}
		if a, _, _ := geo.FindAnalyte(name); !unitOfResult(a, t.Analytes[name].Unit) {
			return fmt.Errorf("analytes.%s.unit: %q is no unit of it; write cell or one such as %s", name, t.Analytes[name].Unit, a.Unit)
		}
	}
	for _, name := range needs {
		if _, mapped := t.Fields[name]; !mapped {
			return fmt.Errorf("fields: %s need %q", t.Kind, name)
		}
	}
	return nil
}

func oneOf(key, value string, list ...string) error {
	if slices.Contains(list, value) {
		return nil
	}
	list = slices.DeleteFunc(slices.Clone(list), func(s string) bool { return s == "" })
	return fmt.Errorf("%s: %q is not one of %s", key, value, strings.Join(list, ", "))
}

func unitOfResult(a geo.Analyte, unit string) bool {
	_, _, ok := a.ReadUnit(unit)
	return ok || unit == "cell"
}
