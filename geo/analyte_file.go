package geo

import (
	_ "embed"
	"encoding/csv"
	"fmt"
	"strconv"
	"strings"
	"sync"
)

//go:embed analytes.csv
var analyteFile string

// analytes reads the embedded file, once.
var analytes = sync.OnceValue(func() []Analyte {
	file := csv.NewReader(strings.NewReader(analyteFile))
	file.Comment = '#'
	rows, err := file.ReadAll()
	if err != nil {
		panic(err) // the embedded file is tested
	}
	out := make([]Analyte, 0, len(rows))
	for _, row := range rows[1:] {
		cell := map[string]string{}
		for i, name := range rows[0] {
			cell[name] = row[i]
		}
		out = append(out, analyteOf(cell))
	}
	return out
})

func analyteOf(cell map[string]string) Analyte {
	a := Analyte{Code: cell["code"], Unit: cell["unit"], Basis: cell["basis"], Bases: map[string]float64{}}
	for _, pair := range split(cell["bases"]) {
		basis, factor, _ := strings.Cut(pair, "=")
		a.Bases[basis] = mustFloat(factor)
	}
	if cell["health"] != "" {
		year := int(mustFloat(cell["year"]))
		a.Limits = append(a.Limits, Limit{
			Kind: HealthLimit, High: maybeFloat(cell["health"]), Year: Some(year),
			Provisional: cell["provisional"] == "yes", Mark: cell["mark"],
		})
	}
	if cell["low"] != "" || cell["high"] != "" {
		a.Limits = append(a.Limits, Limit{
			Kind: AcceptLimit, Low: maybeFloat(cell["low"]), High: maybeFloat(cell["high"]), Mark: cell["accept_mark"],
		})
	}
	for _, lang := range []string{"en", "fr", "pt"} {
		a.names = append(a.names, split(cell[lang])...)
	}
	return a
}

func split(text string) []string {
	return strings.FieldsFunc(text, func(r rune) bool { return r == ';' })
}

func maybeFloat(text string) Opt[float64] {
	if text == "" {
		return Opt[float64]{}
	}
	return Some(mustFloat(text))
}

// mustFloat reads a figure of the embedded file, which a test reads whole.
func mustFloat(text string) float64 {
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		panic(fmt.Sprintf("geo: analytes: %v", err))
	}
	return v
}
