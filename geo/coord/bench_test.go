package coord_test

import (
	"math"
	"testing"

	"waterstrike/geo/coord"
)

var (
	origin = coord.LonLat{Lon: 0.3, Lat: -0.4}
	near30 = coord.LonLat{Lon: 0.5, Lat: -0.2}
)

func BenchmarkDistance(b *testing.B) {
	var sum float64
	for b.Loop() {
		sum += coord.DistanceM(origin, near30)
	}
	sink(b, sum)
}

// BenchmarkDistanceSphere is the baseline: the haversine formula, off by up to 0.6 %.
func BenchmarkDistanceSphere(b *testing.B) {
	var sum float64
	for b.Loop() {
		const rad = math.Pi / 180
		dlat, dlon := (near30.Lat-origin.Lat)*rad/2, (near30.Lon-origin.Lon)*rad/2
		s, u := math.Sin(dlat), math.Sin(dlon)
		sum += 2 * 6371008.8 * math.Asin(math.Sqrt(s*s+math.Cos(origin.Lat*rad)*math.Cos(near30.Lat*rad)*u*u))
	}
	sink(b, sum)
}

func BenchmarkDistanceAntipodal(b *testing.B) {
	far := coord.LonLat{Lon: 179.9, Lat: 0.6}
	var sum float64
	for b.Loop() {
		sum += coord.DistanceM(origin, far)
	}
	sink(b, sum)
}

func BenchmarkPlaneXY(b *testing.B) {
	pl := coord.NewPlane(origin)
	var sum float64
	for b.Loop() {
		sum += pl.XY(near30).X
	}
	sink(b, sum)
}

func BenchmarkPlaneLonLat(b *testing.B) {
	pl := coord.NewPlane(origin)
	xy := pl.XY(near30)
	var sum float64
	for b.Loop() {
		sum += pl.LonLat(xy).Lat
	}
	sink(b, sum)
}

func BenchmarkProject(b *testing.B) {
	c := coord.UTM(origin)
	var sum float64
	for b.Loop() {
		q, _, _ := c.Project(near30)
		sum += q.EastingM
	}
	sink(b, sum)
}

func BenchmarkReadAngle(b *testing.B) {
	for b.Loop() {
		if _, _, err := coord.ReadAngle(`5°30'15.5"S`, coord.Latitude); err != nil {
			b.Fatal(err)
		}
	}
}

func sink(b *testing.B, sum float64) {
	b.Helper()
	if math.IsNaN(sum) {
		b.Fatal("not a number")
	}
}
