package demoland

import (
	"fmt"
	"math"
	"math/rand/v2"
	"time"

	"waterstrike/geo"
)

// bores drills the region's history: 2009 to 2024, in any month, near villages and there
// in low places, where people expected water, by crews that mostly suited the ground.
func (l *Land) bores(villages []geo.Village) []geo.Bore {
	r := stream(l.seed, "bores")
	crews := Crews()
	weights := make([]float64, len(villages))
	for i, v := range villages {
		weights[i] = math.Pow(float64(v.People.Or(0)), 0.6)
	}
	from := time.Date(2009, 1, 5, 0, 0, 0, 0, time.UTC)
	out := make([]geo.Bore, boreCount)
	for i := range out {
		v := villages[weighted(r, weights)]
		q := l.boreSpot(r, l.frame(v.Position.Pos))
		on := from.AddDate(0, 0, r.IntN(5830))
		crew := crews[weighted(r, l.crewWeights(q))]
		out[i] = l.bore(i, q, v, crew, on)
	}
	return out
}

func weighted(r *rand.Rand, weights []float64) int {
	sum := 0.0
	for _, w := range weights {
		sum += w
	}
	draw := r.Float64() * sum
	for i, w := range weights {
		if draw -= w; draw < 0 {
			return i
		}
	}
	return len(weights) - 1
}

// boreSpot is the lowest-looking of a few spots around a village.
func (l *Land) boreSpot(r *rand.Rand, village pt) pt {
	best, low := village, math.Inf(1)
	tries := 7
	if r.Float64() < 0.2 {
		tries = 1 // where the village asked for it
	}
	for range tries {
		q := village.plus(heading(between(r, 0, 2*math.Pi)).times(between(r, 100, 1300)))
		land := l.reliefAt(q)
		if !l.inside(q) || land.toM < 40 || land.shoreM < 80 {
			continue
		}
		if h := land.overM + 3*r.NormFloat64(); h < low {
			best, low = q, h
		}
	}
	return best
}

// crewWeights is how readily each of [Crews] is sent to a spot.
func (l *Land) crewWeights(q pt) []float64 {
	switch l.column(q).Setting {
	case Coast:
		return []float64{0.3, 0.03, 0.22, 0.05, 0.4, 0}
	case Valley:
		return []float64{0.25, 0.1, 0.27, 0.13, 0.25, 0}
	case Plateau:
		return []float64{0.04, 0.58, 0, 0.16, 0, 0.22}
	}
	return []float64{0.07, 0.62, 0.02, 0.12, 0, 0.17}
}

// bore writes one record of what a crew found.
func (l *Land) bore(number int, q pt, v geo.Village, crew Crew, on time.Time) geo.Bore {
	b := geo.Bore{ID: geo.BoreID(l.id("bore", number)), Place: v.Name, VillageID: v.ID, Method: crew.Method}
	reading := l.position(q)
	b.Position = geo.Some(reading)
	h := l.Drill(reading.Pos, crew, on)
	r := rand.New(rand.NewPCG(l.seed, uint64(number)+9_000_000))
	office := officeAt(reading.Pos)
	b.Code = fmt.Sprintf("%s-%03d", office.Prefix, number+1)
	b.Source = provenance(office.Name)
	b.Driller = fmt.Sprintf("%s crew %d", office.Prefix, 1+r.IntN(4))
	b.Outcome = h.Outcome
	depth := math.Max(round(h.DepthM, 0.1), 0.3)
	b.DepthM = geo.Some(depth)
	b.Completed = dateOf(on)
	b.Started = dateOf(on.AddDate(0, 0, -1-int(depth/6)))
	b.Ground = geo.Some(geo.Elevation{M: math.Round(l.reliefAt(q).groundM + 4*r.NormFloat64()), Source: "gps"})
	if h.RefusalM.Known() {
		b.RefusalM = geo.Some(depth)
	}
	b.Layers = describe(r, h.Layers, office.Lang, depth)
	b.Strikes = strikes(h, office.Lang)
	b.Levels = levels(r, h, depth, on)
	l.complete(r, &b, h, crew, on)
	return b
}

func strikes(h Hole, lang Lang) []geo.Strike {
	var out []geo.Strike
	if at, ok := h.PerchedM.Get(); ok {
		out = append(out, geo.Strike{DepthM: round(at, 0.1), Words: perchedWords[lang]})
	}
	if at, ok := h.StrikeM.Get(); ok {
		out = append(out, geo.Strike{DepthM: round(max(at, 0), 0.1)})
	}
	return out
}

// levels is the reading at completion: rest to within a few centimetres, some of them in
// half metres; a flowing bore as such; a dry hole as dry to its bottom.
func levels(r *rand.Rand, h Hole, depth float64, on time.Time) []geo.Level {
	read := h.RestM.Or(0) + 0.08*r.NormFloat64()
	step := 0.1
	if r.Float64() < 0.15 {
		step = 0.5
	}
	rest, met := h.RestM.Get()
	switch {
	case !met:
		return []geo.Level{{State: geo.LevelDryTo, DepthM: geo.Some(depth), On: dateOf(on)}}
	case r.Float64() < 0.08:
		return nil // nobody measured
	case rest < 0:
		return []geo.Level{{State: geo.LevelFlowing, On: dateOf(on)}}
	}
	return []geo.Level{{State: geo.LevelRest, DepthM: geo.Some(clamp(round(read, step), 0, depth)), On: dateOf(on)}}
}
