package krige_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"waterstrike/advisor/krige"
	"waterstrike/advisor/variogram"
)

// The tree against the scan of all data, with and without sectors and anisotropy.
func TestLocalChoosesAsChoose(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 9))
	data := plain(scatter(300, 30000, 4))
	for k := range 200 {
		hood := krige.Neighbourhood{Nearest: 4 + r.IntN(40), Sectors: []int{0, 1, 3, 4}[k%4]}
		if k%3 == 0 {
			hood.Anisotropy = variogram.Anisotropy{AzimuthDeg: 360 * r.Float64(), Ratio: 0.1 + 0.9*r.Float64()}
		}
		if k%5 == 0 {
			hood.DistanceM = 3000 + 6000*r.Float64()
		}
		at := krige.XY{X: 40000*r.Float64() - 5000, Y: 40000*r.Float64() - 5000}
		want, err := hood.Choose(positions(data), at)
		if err != nil {
			t.Fatal(err)
		}
		p := local(t, data, spherical(t), krige.Ordinary{}, hood)
		_, err = p.Predict(at)
		if (err == nil) != (len(want) > 0) || !slices.Equal(p.Neighbours(), want) {
			t.Fatalf("%+v at %v: %v, want %v, %v", hood, at, p.Neighbours(), want, err)
		}
	}
}

// A village beside the target fills a plain neighbourhood; sectors look past it, and
// the estimate leans on all sides.
func TestSectorsSeeAllSides(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 4))
	var places []krige.XY
	for range 60 { // the village, to the east
		places = append(places, krige.XY{X: 2000 + 300*r.NormFloat64(), Y: 300 * r.NormFloat64()})
	}
	for range 60 { // the land around
		a := 2 * math.Pi * r.Float64()
		places = append(places, krige.XY{X: 6000 * math.Cos(a), Y: 6000 * math.Sin(a)})
	}
	seen := func(hood krige.Neighbourhood) (sides int) {
		ids, err := hood.Choose(places, krige.XY{})
		if err != nil || len(ids) != hood.Nearest {
			t.Fatal(ids, err)
		}
		var quarter [4]bool
		for k, i := range ids {
			p := places[i]
			quarter[int(2*(math.Atan2(p.Y, p.X)/math.Pi+1))%4] = true
			if k > 0 && p.DistanceTo(krige.XY{}) < places[ids[k-1]].DistanceTo(krige.XY{}) {
				t.Errorf("%+v: not nearest first", hood)
			}
		}
		for _, q := range quarter {
			if q {
				sides++
			}
		}
		return sides
	}
	if got := seen(krige.Neighbourhood{Nearest: 32}); got > 2 {
		t.Fatalf("the plain neighbourhood sees %d sides: the case shows nothing", got)
	}
	if got := seen(krige.Neighbourhood{Nearest: 32, Sectors: 8}); got != 4 {
		t.Errorf("%d sides seen, want 4", got)
	}
	// From outside the data only one side has any: the number is still made up.
	ids, err := krige.Neighbourhood{Nearest: 32, Sectors: 8}.Choose(places, krige.XY{X: -1e5})
	if err != nil || len(ids) != 32 {
		t.Errorf("from outside: %d neighbours, %v", len(ids), err)
	}
}

func TestChooseRefuses(t *testing.T) {
	places := []krige.XY{{}, {X: 1}}
	var bad *variogram.ParameterError
	for _, hood := range []krige.Neighbourhood{
		{},
		{Nearest: 4, Sectors: 5},
		{Nearest: 4, Sectors: -1},
		{Nearest: 4, Anisotropy: variogram.Anisotropy{Ratio: 2}},
		{Nearest: 4, Anisotropy: variogram.Anisotropy{AzimuthDeg: 20}},
	} {
		if _, err := hood.Choose(places, krige.XY{}); !errors.As(err, &bad) {
			t.Errorf("%+v accepted: %v", hood, err)
		}
	}
	if _, err := (krige.Neighbourhood{Nearest: 4, AtLeast: 3}).Choose(places, krige.XY{}); !errors.Is(err, variogram.ErrTooFewData) {
		t.Error("too few:", err)
	}
	if _, err := (krige.Neighbourhood{Nearest: 4}).Choose(places, krige.XY{X: math.NaN()}); !errors.Is(err, variogram.ErrNotFinite) {
		t.Error("NaN target:", err)
	}
}

// Two bores to the north, one to the south: of two neighbours, sectors take one each.
func ExampleNeighbourhood_Choose() {
	bores := []krige.XY{{X: 10, Y: 100}, {X: 10, Y: 150}, {X: 10, Y: -400}}
	plain, err1 := krige.Neighbourhood{Nearest: 2}.Choose(bores, krige.XY{})
	sides, err2 := krige.Neighbourhood{Nearest: 2, Sectors: 2}.Choose(bores, krige.XY{})
	fmt.Println(plain, sides, errors.Join(err1, err2))
	// Output: [0 1] [0 2] <nil>
}
