package coverage_test

import (
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"
	"time"

	"waterstrike/advisor/coverage"
	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/intake"
	"waterstrike/geo/outside"
)

// surveyed reads the 11,409 points of an open survey that is not part of the project. It
// does not say what kind they are: they are taken for tube wells.
func surveyed(t *testing.T) (points []coverage.Point) {
	t.Helper()
	folder := outside.Shared(t, "data", "waterpoints")
	f, err := os.Open(filepath.Join("..", "..", "testdata", "mappings", "waterpoints.json"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	m, err := intake.LoadMapping(f)
	if err != nil {
		t.Fatal(err)
	}
	var bag intake.Memory
	if _, err := intake.Read(context.Background(), m, os.DirFS(folder), &bag, nil); err != nil {
		t.Fatal(err)
	}
	for _, w := range bag.WaterPoints {
		if w.Source.File != "waterpointfunctionality.csv" {
			continue
		}
		p := coverage.Point{ID: string(w.ID), Kind: geo.TubeWell, At: w.Position.Pos, DryMonths: w.DryMonths}
		for _, v := range w.Visits {
			if works, known := v.Works.Get(); known {
				p.Visits = append(p.Visits, coverage.Visit{On: v.On, Works: works})
			}
		}
		points = append(points, p)
	}
	return points
}

// TestSurveyedPoints counts made-up villages around real points and is checked pair by
// pair: a few hundred villages, all of them under WATERSTRIKE_LONG=1.
func TestSurveyedPoints(t *testing.T) {
	points := surveyed(t)
	if len(points) != 11409 {
		t.Fatalf("%d points", len(points))
	}
	rng := rand.New(rand.NewPCG(1, 11409))
	villages := make([]coverage.Village, len(points))
	for i := range villages {
		at := points[rng.IntN(len(points))].At
		villages[i] = coverage.Village{
			ID: fmt.Sprintf("v%05d", i), District: fmt.Sprintf("%.1f", at.Lat), People: geo.Some(10 + rng.IntN(500)),
			At: coord.LonLat{Lon: at.Lon + 0.01*rng.NormFloat64(), Lat: at.Lat + 0.01*rng.NormFloat64()},
		}
	}
	asked := villages
	if os.Getenv("WATERSTRIKE_LONG") != "1" {
		asked = villages[:400]
	}
	s := standard(t, "sphere-2018")
	begin := time.Now()
	l := prepared(t, asked, points, s.WalkM)
	for _, on := range []string{"2022-06-01", "2022-10-31", "2023-10-31", "2024-05-01"} {
		c := counted(t, l, coverage.Ask{Standard: s, On: day(t, on)})
		t.Logf("%s: %d of %d people served by %d points, %s", on, c.Served.N, c.Living.N, len(c.Served.Points), time.Since(begin).Round(time.Millisecond))
		sameServed(t, c, bruteServed(asked, c, points, s.WalkM))
		checkShares(t, c)
	}
}
