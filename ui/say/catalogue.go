package say

import (
	"embed"
	"io/fs"
	"maps"
	"slices"
)

//go:embed catalogue/*.json
var embedded embed.FS

// Catalogue holds every message in every language. It is read-only and safe for
// concurrent use.
type Catalogue struct {
	kinds   map[string]Kind // of placeholder names
	entries map[string]entry
}

// entry is one message: its parsed text in each language, in the order of Langs.
type entry [len(styles)][]part

// New returns the catalogue that is built into the program.
func New() (*Catalogue, error) {
	dir, err := fs.Sub(embedded, "catalogue")
	if err != nil {
		return nil, err
	}
	return Load(dir)
}

// Codes returns every code, sorted.
func (c *Catalogue) Codes() []string {
	return slices.Sorted(maps.Keys(c.entries))
}

// Has tells whether the catalogue holds a code.
func (c *Catalogue) Has(code string) bool {
	_, ok := c.entries[code]
	return ok
}

// Parameter is a placeholder that a message needs a value for.
type Parameter struct {
	Name string
	Kind Kind
}

// Parameters returns what a message asks for, sorted by name; nil for an unknown code.
func (c *Catalogue) Parameters(code string) []Parameter {
	e, ok := c.entries[code]
	if !ok {
		return nil
	}
	var out []Parameter
	for _, name := range names(e[EN]) {
		out = append(out, Parameter{Name: name, Kind: c.kinds[name]})
	}
	return out
}
