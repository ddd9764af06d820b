package store

import (
	"context"

	"waterstrike/geo"
)

// VillagesNamed returns the villages of a name, by id. Case, accents and spaces around
// words do not matter; several villages may share a name.
func (b *Base) VillagesNamed(ctx context.Context, name string) ([]geo.Village, error) {
	want := geo.FoldName(name)
	var out []geo.Village
	err := b.Villages(ctx, func(v geo.Village) error {
		if geo.FoldName(v.Name) == want {
			out = append(out, v)
		}
		return nil
	})
	return out, err
}
