package publish

import (
	"encoding/json"
	"errors"
	"fmt"
	"strconv"
	"strings"
	"time"

	"waterstrike/geo"
	"waterstrike/geo/intake"
)

// row is one row of a file that is read back.
type row struct {
	file    string
	number  int
	columns []string
	at      map[string]int
	cells   []string
	table   bool // of CSV or a workbook: parts stand in tables of their own
	guarded bool // of CSV: words carry a guard
}

// newRow names the columns; the geometry of a feature is the position of a table.
func newRow(file string, header []string, table bool) *row {
	r := &row{file: file, at: map[string]int{}, table: table}
	for i, name := range header {
		switch name {
		case "geometry.lon":
			name = lonColumn
		case "geometry.lat":
			name = latColumn
		}
		r.columns = append(r.columns, name)
		r.at[name] = i
	}
	return r
}

func (r *row) ragged() bool { return len(r.cells) != len(r.columns) }

// cell returns the text of a column, empty where there is none.
func (r *row) cell(name string) string {
	if i, has := r.at[name]; has {
		return r.cells[i]
	}
	return ""
}

// fault is why a row is not taken.
type fault struct {
	code   geo.Code
	column string
	read   string
}

func (f *fault) Error() string { return fmt.Sprintf("%s: %s: %s", f.code, f.column, f.read) }

// record makes a record of a row: its own JSON, cell by cell.
func record[T any](r *row, columns []column[T]) (v T, err error) {
	tree := map[string]any{}
	for _, c := range columns {
		text := r.cell(c.name)
		if text == "" || c.path == "" {
			continue
		}
		member, err := c.kind.json(text, r.guarded)
		if err != nil {
			return v, &fault{intake.UnknownValue, c.name, text}
		}
		plant(tree, c.path, member)
	}
	for _, c := range columns {
		if c.need != never && r.cell(c.name) == "" && (c.need == always || grows(tree, c.path)) {
			return v, &fault{intake.MissingValue, c.name, ""}
		}
	}
	data, err := json.Marshal(tree)
	if err == nil {
		err = json.Unmarshal(data, &v)
	}
	if err != nil {
		return v, &fault{intake.InvalidRecord, columns[0].name, err.Error()}
	}
	return v, nil
}

// plant puts a member where its path says.
func plant(tree map[string]any, path string, member json.RawMessage) {
	name, rest, deeper := strings.Cut(path, ".")
	if !deeper {
		tree[name] = member
		return
	}
	branch, grown := tree[name].(map[string]any)
	if !grown {
		branch = map[string]any{}
		tree[name] = branch
	}
	plant(branch, rest, member)
}

// grows reports that something stands in the group that a path begins with.
func grows(tree map[string]any, path string) bool {
	group, _, _ := strings.Cut(path, ".")
	return tree[group] != nil
}

var errCell = errors.New("publish: not what the column holds")

// json returns the JSON of a cell.
func (k kind) json(text string, guarded bool) (json.RawMessage, error) {
	switch k {
	case number:
		return literal[float64](text)
	case yesNo:
		switch text { // a workbook holds 1 and 0 (ECMA-376, 18.18.11), and spreadsheets write TRUE
		case "1":
			text = "true"
		case "0":
			text = "false"
		}
		return literal[bool](strings.ToLower(text))
	case months:
		return monthsJSON(text)
	case raw:
		return literal[any](text)
	case words:
		if guarded {
			text = strings.TrimPrefix(text, guard)
		}
	}
	return json.Marshal(text)
}

// literal checks that a text is JSON of a type.
func literal[T any](text string) (json.RawMessage, error) {
	var v *T
	if err := json.Unmarshal([]byte(text), &v); err != nil || v == nil {
		return nil, errCell
	}
	return json.RawMessage(text), nil
}

func monthsJSON(text string) (json.RawMessage, error) {
	var set geo.MonthSet
	if text != neverDry {
		for _, word := range strings.Fields(text) {
			m, err := strconv.Atoi(word)
			if err != nil || m < 1 || m > 12 {
				return nil, errCell
			}
			set |= geo.Months(time.Month(m))
		}
		if set == 0 {
			return nil, errCell
		}
	}
	return json.Marshal(set)
}
