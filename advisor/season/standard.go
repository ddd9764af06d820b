package season

import (
	"strings"

	"waterstrike/advisor/coverage"
	"waterstrike/geo"
)

// Standard finds a standard of a list by its code, the first for no code. An unknown code
// is a [geo.NotFound] error that says which there are.
func Standard(list []coverage.Standard, code string) (coverage.Standard, error) {
	if code == "" {
		return list[0], nil
	}
	if s, ok := coverage.Find(list, code); ok {
		return s, nil
	}
	codes := make([]string, len(list))
	for i, s := range list {
		codes[i] = s.Code
	}
	return coverage.Standard{}, fail(geo.NotFound, "season.unknown-standard", geo.With("value", geo.Text(code)), geo.With("listed-text", geo.Text(strings.Join(codes, ", "))))
}
