package store

import (
	"context"
	"strings"
	"unicode"

	"waterstrike/geo"

	"golang.org/x/text/cases"
	"golang.org/x/text/runes"
	"golang.org/x/text/transform"
	"golang.org/x/text/unicode/norm"
)

// VillagesNamed returns the villages of a name, by id. Case, accents and spaces around
// words do not matter; several villages may share a name.
func (b *Base) VillagesNamed(ctx context.Context, name string) ([]geo.Village, error) {
	want, err := plain(name)
	if err != nil {
		return nil, fail("store.VillagesNamed", err)
	}
	var out []geo.Village
	err = b.Villages(ctx, func(v geo.Village) error {
		got, err := plain(v.Name)
		if err == nil && got == want {
			out = append(out, v)
		}
		return err
	})
	return out, err
}

// plain is a name without what people write differently.
func plain(name string) (string, error) {
	t := transform.Chain(norm.NFD, runes.Remove(runes.In(unicode.Mn)), cases.Fold(), norm.NFC)
	out, _, err := transform.String(t, name)
	return strings.Join(strings.Fields(out), " "), err
}
