package evidence_test

import (
	"context"
	"fmt"

	"waterstrike/advisor/evidence"
	"waterstrike/geo"
	"waterstrike/geo/coord"
)

func ExampleSnapshot_Advance() {
	ctx, src := context.Background(), newBase()
	src.save(geo.Bore{ID: idOf(1), Code: "K-1", Position: geo.Some(at(0.10, 0.20)), Outcome: geo.Dry})
	before, err := evidence.Load(ctx, src)
	if err != nil {
		fmt.Println(err)
		return
	}
	src.save(geo.Bore{ID: idOf(2), Code: "K-2", Position: geo.Some(at(0.11, 0.20)), Outcome: geo.Producing})
	after, err := before.Advance(ctx, src)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, s := range []*evidence.Snapshot{before, after} {
		near := s.Nearest(coord.LonLat{Lon: 0.12, Lat: 0.20}, 1)[0]
		fmt.Printf("%d bores, nearest %s at %.0f m\n", s.Len(), near.Label, near.DistanceM)
	}
	// Output:
	// 1 bores, nearest K-1 at 2226 m
	// 2 bores, nearest K-2 at 1113 m
}
