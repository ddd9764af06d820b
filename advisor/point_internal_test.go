package advisor

import (
	"context"
	"math"
	"testing"

	"waterstrike/advisor/evidence"
	"waterstrike/advisor/level"
	"waterstrike/geo"
	"waterstrike/geo/demoland"
)

// shallowOffice holds bores, and wells if it is asked for them.
type shallowOffice struct{ demoland.Records }

func (o shallowOffice) Seq(context.Context) (int64, error) { return 1, nil }

func (o shallowOffice) Bores(_ context.Context, fn func(geo.Bore) error) error {
	for _, b := range o.Records.Bores {
		if err := fn(b); err != nil {
			return err
		}
	}
	return nil
}

func (o shallowOffice) ChangedSince(context.Context, int64) ([]geo.BoreID, int64, error) {
	return nil, 1, nil
}

func (o shallowOffice) BoresByID(context.Context, []geo.BoreID, func(geo.Bore) error) error {
	return nil
}

// fullOffice holds the wells too.
type fullOffice struct{ shallowOffice }

func (o fullOffice) WaterPoints(_ context.Context, fn func(geo.WaterPoint) error) error {
	for _, p := range o.Points {
		if err := fn(p); err != nil {
			return err
		}
	}
	return nil
}

func (o fullOffice) PointsChangedSince(context.Context, int64) (bool, error) { return false, nil }

// The wells that people dug, with their dry months and what visitors measured, bring the
// stated low nearer to the truth. The region is not one of those reported.
func TestWellsTeachTheLevel(t *testing.T) {
	land := demoland.New(11)
	office := shallowOffice{land.Records()}
	sites := land.VillageSites(60, 2)
	missed := func(src evidence.Source) (miss float64) {
		s, err := evidence.Load(t.Context(), src)
		if err != nil {
			t.Fatal(err)
		}
		f := &fits{}
		if err := f.fitLevel(t.Context(), s, geo.Opt[level.Season]{}); err != nil {
			t.Fatal(err)
		}
		a := &Advisor{snapshot: s, fits: f}
		for _, site := range sites {
			said, ok, err := a.At(site).Level()
			if err != nil || !ok {
				t.Fatal(ok, err)
			}
			miss += math.Abs(said.Low(0.5)-land.Column(site).NormalLowM) / float64(len(sites))
		}
		return miss
	}
	bores, wells := missed(office), missed(fullOffice{office})
	t.Logf("the low is missed by %.2f m from bores, by %.2f m from bores and wells", bores, wells)
	if wells > 0.95*bores {
		t.Errorf("the low is missed by %.2f m from bores, by %.2f m from bores and wells", bores, wells)
	}
}
