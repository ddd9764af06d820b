package evidence

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"waterstrike/geo"
)

// A catalogue holds what a map holds, through changes, whether or not ids begin alike.
func TestCatalogueAgainstMap(t *testing.T) {
	for name, id := range map[string]func(rng *rand.Rand) geo.BoreID{
		"random": func(rng *rand.Rand) geo.BoreID { return geo.BoreID(fmt.Sprintf("%016x-%d", rng.Uint64(), rng.IntN(9))) },
		"alike":  func(rng *rand.Rand) geo.BoreID { return geo.BoreID(fmt.Sprintf("00000000-%d", rng.IntN(5000))) },
		"short":  func(rng *rand.Rand) geo.BoreID { return geo.BoreID(fmt.Sprint(rng.IntN(5000))) },
	} {
		t.Run(name, func(t *testing.T) {
			rng := rand.New(rand.NewPCG(3, 1))
			all := map[geo.BoreID]*Bore{}
			var bores []*Bore
			for range 1500 {
				b := &Bore{ID: id(rng)}
				if all[b.ID] == nil {
					all[b.ID], bores = b, append(bores, b)
				}
			}
			c := newCatalogue(bores)
			for range 30 {
				now := map[geo.BoreID]*Bore{}
				var ids []geo.BoreID
				for range rng.IntN(200) {
					b := &Bore{ID: id(rng)}
					if _, again := now[b.ID]; again {
						continue
					}
					ids, now[b.ID], all[b.ID] = append(ids, b.ID), b, b
					if rng.IntN(3) == 0 {
						now[b.ID] = nil
						delete(all, b.ID)
					}
				}
				c = c.with(ids, now)
				for range 300 {
					if one := id(rng); c.get(one) != all[one] {
						t.Fatalf("%s is %v, want %v", one, c.get(one), all[one])
					}
				}
			}
			n := 0
			for _, p := range c.pages {
				for _, b := range p.bores {
					n++
					if c.get(b.ID) != b || all[b.ID] != b {
						t.Fatalf("%s is not found", b.ID)
					}
				}
			}
			if n != len(all) {
				t.Errorf("%d bores, want %d", n, len(all))
			}
		})
	}
	if (catalogue{}).get("x") != nil || newCatalogue(nil).with(nil, nil).get("x") != nil {
		t.Error("nothing holds something")
	}
}
