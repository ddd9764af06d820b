package demoland_test

import (
	"math"
	"reflect"
	"slices"
	"sync"
	"testing"

	"waterstrike/geo/coord"
	"waterstrike/geo/demoland"
	"waterstrike/geo/soil"
)

// lands makes a few regions once for all laws.
var lands = sync.OnceValue(func() []*demoland.Land {
	var out []*demoland.Land
	for seed := range uint64(3) {
		out = append(out, demoland.New(seed+1))
	}
	return out
})

func everyColumn(t *testing.T, check func(t *testing.T, l *demoland.Land, p coord.LonLat, c demoland.Column)) {
	t.Helper()
	for _, l := range lands() {
		for _, p := range slices.Concat(l.UniformSites(400, 5), l.VillageSites(200, 5)) {
			check(t, l, p, l.Column(p))
		}
	}
}

func TestColumnLaws(t *testing.T) {
	everyColumn(t, func(t *testing.T, _ *demoland.Land, p coord.LonLat, c demoland.Column) {
		depth := 0.0
		for _, l := range c.Layers {
			if l.TopM != depth || !(l.BaseM > l.TopM) {
				t.Fatalf("at %v: layer %v-%v does not follow on %v m", p, l.TopM, l.BaseM, depth)
			}
			if l.Class == soil.Unknown || !(l.Log10K > -14 && l.Log10K < -1) {
				t.Fatalf("at %v: layer of class %v with log10 K %v", p, l.Class, l.Log10K)
			}
			depth = l.BaseM
		}
		if depth != demoland.ColumnM {
			t.Fatalf("at %v: column ends at %v m", p, depth)
		}
		if c.Setting == demoland.Sea {
			t.Fatalf("at %v: a site on land is at sea", p)
		}
	})
}

func TestLevelOrder(t *testing.T) {
	everyColumn(t, func(t *testing.T, _ *demoland.Land, p coord.LonLat, c demoland.Column) {
		if !(c.WetHighM <= c.NormalLowM && c.NormalLowM <= c.DesignLowM) {
			t.Errorf("at %v: high %v, low %v, 1-in-10 low %v are not in order", p, c.WetHighM, c.NormalLowM, c.DesignLowM)
		}
	})
}

func TestRestStandsAboveStrikeOnlyWhereConfined(t *testing.T) {
	confined, flowing, sites := 0, 0, 0
	everyColumn(t, func(t *testing.T, _ *demoland.Land, p coord.LonLat, c demoland.Column) {
		sites++
		if c.StrikeM < c.NormalLowM {
			t.Errorf("at %v: water comes in at %v m, above its rest level %v m", p, c.StrikeM, c.NormalLowM)
		}
		if above := c.StrikeM > c.NormalLowM+0.5; above != c.Confined {
			t.Errorf("at %v: strike %v, rest %v, confined %v", p, c.StrikeM, c.NormalLowM, c.Confined)
		}
		if c.Confined {
			confined++
		}
		if c.NormalLowM < 0 {
			flowing++
			if !c.Confined {
				t.Errorf("at %v: flows without being confined", p)
			}
		}
	})
	if confined == 0 || confined > sites/2 || flowing > sites/50 {
		t.Errorf("of %d sites %d are confined and %d flow; both should be, and be the smaller part", sites, confined, flowing)
	}
}

func TestPerchedWaterStandsOnCrust(t *testing.T) {
	everyColumn(t, func(t *testing.T, _ *demoland.Land, p coord.LonLat, c demoland.Column) {
		at, perched := c.PerchedM.Get()
		if perched != (c.Setting == demoland.Plateau) {
			t.Errorf("at %v: perched %v in a %s", p, perched, c.Setting)
		}
		if perched && c.LayerAt(at).Class != soil.Hardpan {
			t.Errorf("at %v: perched at %v m, in %v", p, at, c.LayerAt(at).Class)
		}
	})
}

func TestCrustLiesOnHighGround(t *testing.T) {
	var plateau, other []float64
	everyColumn(t, func(_ *testing.T, _ *demoland.Land, _ coord.LonLat, c demoland.Column) {
		if c.Setting == demoland.Plateau {
			plateau = append(plateau, c.AboveDrainageM)
		} else {
			other = append(other, c.AboveDrainageM)
		}
	})
	slices.Sort(plateau)
	if n := len(plateau); n < 30 || median(plateau) < 1.5*median(other) || plateau[n/20] < 5 {
		t.Errorf("%d plateaus, median %.1f m above drainage, 19 of 20 above %.1f m; elsewhere %.1f m",
			n, median(plateau), plateau[n/20], median(other))
	}
}

// The water table is a subdued replica of the land: it follows it, and rises less.
func TestWaterTableIsASubduedReplica(t *testing.T) {
	for _, l := range lands() {
		var ground, water, above, depth []float64
		for _, p := range l.UniformSites(600, 8) {
			c := l.Column(p)
			ground, water = append(ground, c.GroundM), append(water, c.GroundM-c.NormalLowM)
			above, depth = append(above, c.AboveDrainageM), append(depth, c.NormalLowM)
		}
		if r := correlation(ground, water); r < 0.98 {
			t.Errorf("water table and ground correlate by %.3f", r)
		}
		if r := correlation(above, depth); r < 0.5 || r > 0.95 {
			t.Errorf("depth and height above drainage correlate by %.3f: terrain should tell much of it, not all", r)
		}
	}
}

func TestColumnDoesNotDependOnOrder(t *testing.T) {
	l := lands()[0]
	sites := l.UniformSites(200, 3)
	first := make([]demoland.Column, len(sites))
	for i, p := range sites {
		first[i] = l.Column(p)
	}
	again := demoland.New(1)
	var wait sync.WaitGroup
	for worker := range 2 {
		wait.Go(func() {
			for i := len(sites) - 1 - worker; i >= 0; i -= 2 {
				if !reflect.DeepEqual(again.Column(sites[i]), first[i]) {
					t.Errorf("site %d is another one when asked in another order", i)
				}
			}
		})
	}
	wait.Wait()
}

// Neighbouring columns differ little: the ground has no steps but scarps, and water none.
func TestGroundAndWaterAreContinuous(t *testing.T) {
	const (
		apartDeg = 5 / 111320.0
		groundM  = 0.8 // the steepest scarp, over 5 m
		waterM   = 0.5
	)
	everyColumn(t, func(t *testing.T, l *demoland.Land, p coord.LonLat, c demoland.Column) {
		n := l.Column(coord.LonLat{Lon: p.Lon + apartDeg, Lat: p.Lat})
		if math.Abs(n.GroundM-c.GroundM) > groundM || math.Abs(n.NormalLowM-c.NormalLowM) > waterM {
			t.Errorf("at %v: 5 m on, ground goes from %.2f to %.2f m and water from %.2f to %.2f m",
				p, c.GroundM, n.GroundM, c.NormalLowM, n.NormalLowM)
		}
	})
}

// Old channels run on for hundreds of metres and end within kilometres.
func TestLensesAreContinuous(t *testing.T) {
	const degPerM = 1 / 111320.0
	hundred, far, lenses := 0, 0, 0
	everyColumn(t, func(_ *testing.T, l *demoland.Land, p coord.LonLat, c demoland.Column) {
		for _, layer := range c.Layers {
			if layer.Body == 0 {
				continue
			}
			lenses++
			if holds(l.Column(coord.LonLat{Lon: p.Lon, Lat: p.Lat + 100*degPerM}), layer.Body) {
				hundred++
			}
			if holds(l.Column(coord.LonLat{Lon: p.Lon, Lat: p.Lat + 6000*degPerM}), layer.Body) {
				far++
			}
		}
	})
	if lenses < 100 || hundred*10 < lenses*6 || far > 0 {
		t.Errorf("of %d lenses %d run on for 100 m and %d for 6 km", lenses, hundred, far)
	}
}

func holds(c demoland.Column, body int) bool {
	return slices.ContainsFunc(c.Layers, func(l demoland.Layer) bool { return l.Body == body })
}

func median(x []float64) float64 {
	x = slices.Clone(x)
	slices.Sort(x)
	return x[len(x)/2]
}

func correlation(x, y []float64) float64 {
	var mx, my, xx, yy, xy float64
	n := float64(len(x))
	for i := range x {
		mx, my = mx+x[i]/n, my+y[i]/n
	}
	for i := range x {
		xx, yy, xy = xx+(x[i]-mx)*(x[i]-mx), yy+(y[i]-my)*(y[i]-my), xy+(x[i]-mx)*(y[i]-my)
	}
	return xy / math.Sqrt(xx*yy)
}
