package sheet

import (
	_ "embed"
	"encoding/json"

	"waterstrike/advisor"
)

//go:embed advice.md
var fields string

//go:embed season.md
var seasonFields string

// Fields returns the description of every field of the JSON form, as Markdown.
func Fields() string { return fields }

// SeasonFields is the same of a season.
func SeasonFields() string { return seasonFields }

// JSON writes an advice as indented JSON with a line break at its end. The same advice
// gives the same bytes. It fails on a number that is not finite.
func JSON(a advisor.Advice) ([]byte, error) {
	out, err := json.MarshalIndent(a, "", "  ")
	if err != nil {
		return nil, err
	}
	return append(out, '\n'), nil
}
