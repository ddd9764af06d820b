package advisor

import (
	"cmp"
	_ "embed"
	"fmt"
	"io/fs"
	"math"

	"waterstrike/advisor/rule"
)

// Thresholds are the programme's lines between the verdicts.
type Thresholds struct {
	Go        float64 `json:"go"`        // chance from which the verdict is to go
	Care      float64 `json:"care"`      // chance from which it is worth a try
	Effective int     `json:"effective"` // least number of separate bores within reach
	Width     float64 `json:"width"`     // a range wider than this that straddles Go is not enough evidence
}

// ThresholdsFile is the name of the thresholds in the rules folder.
const ThresholdsFile = "thresholds.json"

//go:embed thresholds.json
var embeddedThresholds []byte

// ThresholdsFromFolder returns the thresholds of a programme: the embedded ones, changed by
// its thresholds.json where the rules folder holds one.
//
// A wrong file is a [geo.Invalid] error whose message names the file, the field, the value
// and what to do.
func ThresholdsFromFolder(rules fs.FS) (Thresholds, error) {
	edited, err := rule.Edited(rules, ThresholdsFile)
	if err != nil {
		return Thresholds{}, err
	}
	var read struct {
		Go        rule.Number `json:"go"`
		Care      rule.Number `json:"care"`
		Effective rule.Number `json:"effective"`
		Width     rule.Number `json:"width"`
	}
	at := rule.Fault{File: ThresholdsFile, Entry: "thresholds"}
	if err := rule.Fill(at, embeddedThresholds, &read); err != nil {
		return Thresholds{}, err
	}
	if edited != nil {
		at.File = rule.Named(ThresholdsFile)
		if err := rule.Fill(at, edited, &read); err != nil {
			return Thresholds{}, err
		}
	}
	t := Thresholds{Go: read.Go.Value, Care: read.Care.Value, Effective: int(read.Effective.Value), Width: read.Width.Value}
	return t, t.check(at, read.Effective.Value)
}

// check refuses thresholds that would call every place, or none, worth a hole; effective is
// that number as it was written.
func (t Thresholds) check(at rule.Fault, effective float64) error {
	var half error
	if effective != math.Trunc(effective) {
		at.Kind, at.Field, at.Value, at.Allowed = rule.WrongValue, "effective", fmt.Sprint(effective), "1, 2, 3 ..."
		half = rule.Refuse(at)
	}
	return cmp.Or(
		at.Within("go", t.Go, 0.05, 0.99), at.Within("care", t.Care, 0.01, t.Go),
		at.Within("effective", effective, 1, 100), at.Within("width", t.Width, 0.05, 1), half,
	)
}
