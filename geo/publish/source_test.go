package publish_test

import (
	"context"
	"fmt"
	"math/rand/v2"

	"github.com/paulmach/orb"

	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/soil"
)

// ground is a source of records held in lists.
type ground struct {
	bores      []geo.Bore
	villages   []geo.Village
	points     []geo.WaterPoint
	boundaries []geo.Boundary
	rivers     []geo.River
}

func (g ground) Bores(ctx context.Context, fn func(geo.Bore) error) error {
	return each(ctx, g.bores, fn)
}

func (g ground) Villages(ctx context.Context, fn func(geo.Village) error) error {
	return each(ctx, g.villages, fn)
}

func (g ground) WaterPoints(ctx context.Context, fn func(geo.WaterPoint) error) error {
	return each(ctx, g.points, fn)
}

func (g ground) Boundaries(ctx context.Context, fn func(geo.Boundary) error) error {
	return each(ctx, g.boundaries, fn)
}

func (g ground) Rivers(ctx context.Context, fn func(geo.River) error) error {
	return each(ctx, g.rivers, fn)
}

func each[T any](ctx context.Context, list []T, fn func(T) error) error {
	for _, v := range list {
		if ctx.Err() != nil {
			return ctx.Err()
		}
		if err := fn(v); err != nil {
			return err
		}
	}
	return nil
}

func id(n int) string { return fmt.Sprintf("00000000-0000-4000-8000-%012x", n) }

func reading(lon, lat float64) coord.Reading {
	return coord.Reading{Pos: coord.LonLat{Lon: lon, Lat: lat}, AsRead: "-0.1, 0.2", CRS: "WGS 84", PrecisionM: 5}
}

// awkward is what a table or a JSON text may stumble over.
var awkward = []string{
	"", "plain", "with, comma", `with "quotes"`, "two\nlines", "two\r\nlines", "old\rMac", "=HYPERLINK(\"x\")", "+12", "-12 m", "@sum",
	"\tindented", "\nbelow", "\rback", "'quoted", "''", " padded ", "é à ç ã – 水", "ends in \\", "<b>&amp;</b>", "\u2028", "bad \xff byte", "\x00", "null", "0",
}

// bores are n invented bores, some with everything and some with almost nothing.
func bores(n int) []geo.Bore {
	rng := rand.New(rand.NewPCG(21, 22))
	word := func() string { return awkward[rng.IntN(len(awkward))] }
	out := make([]geo.Bore, n)
	for i := range out {
		b := geo.Bore{ID: geo.BoreID(id(i)), Code: word(), Name: word(), Place: word(), Remarks: word(), Method: "sludging", Outcome: geo.Producing}
		if i%4 != 0 {
			b.Position = geo.Some(reading(rng.Float64()-0.5, rng.Float64()-0.5))
			b.DepthM, b.YieldLPS = geo.Some(float64(rng.IntN(300))/10), geo.Some(0.0)
			b.Completed = geo.Some(geo.Date{Year: 2010, Month: 1 + i%12})
			b.Ground = geo.Some(geo.Elevation{M: -3.25, Datum: "EGM96"})
			b.Cost = geo.Some(geo.Money{Amount: 420, Currency: "XTS"})
			b.Source = geo.Provenance{File: "log.csv", Row: i, By: "office", Licence: "CC0-1.0"}
			b.Layers = []geo.Layer{
				{TopM: 0, BaseM: 2.5, Words: word(), Class: soil.Clay, Confidence: 1, Colour: word(), Hardness: word()},
				{TopM: 2.5, BaseM: 9, Words: word(), Class: soil.Sand, Grade: soil.Coarse, Clayey: true, Confidence: 0.8, MinutesPerM: geo.Some(7.5)},
			}
			b.Levels = []geo.Level{
				{State: geo.LevelFlowing, Words: word()},
				{State: geo.LevelRest, DepthM: geo.Some(-0.25), On: geo.Some(geo.Date{Year: 2011}), ReferenceM: geo.Some(0.3)},
			}
		}
		out[i] = b
	}
	return out
}

// invented is a little of everything.
func invented() ground {
	return ground{
		bores:    bores(60),
		villages: []geo.Village{{ID: geo.VillageID(id(1)), Name: "Upper ford", Position: reading(0.1, -0.2), People: geo.Some(0)}},
		points: []geo.WaterPoint{
			{ID: geo.WaterPointID(id(2)), Kind: geo.DugWell, Position: reading(0.1, -0.2), DryMonths: geo.Some(geo.Months(3, 4)), Works: geo.Some(false)},
			{ID: geo.WaterPointID(id(3)), Kind: geo.Spring, Position: reading(0.3, 0.4), DryMonths: geo.Some(geo.MonthSet(0)), Users: geo.Some(120)},
		},
		boundaries: []geo.Boundary{{ID: geo.PlaceID(id(4)), Name: "Region", Kind: "region", Shape: orb.MultiPolygon{{square(0, 0, 1)}, {square(2, 0, 1)}}}},
		rivers:     []geo.River{{ID: geo.PlaceID(id(5)), Name: "Long river", Perennial: geo.Some(true), Line: orb.LineString{{0, 0}, {0.5, 0.25}}}},
	}
}

// square is counter-clockwise from its lower left corner.
func square(x, y, side float64) orb.Ring {
	return orb.Ring{{x, y}, {x + side, y}, {x + side, y + side}, {x, y + side}, {x, y}}
}
