package server

import (
	"context"
	"log/slog"
	"math"
	"slices"
	"sync"

	"waterstrike/advisor"
	"waterstrike/geo"
	"waterstrike/geo/coord"
)

// The steps of a tile: cells along its side, coarse first, so that a map is filled before
// it is fine. Most tiles kept: 16 MB.
const (
	coarseSide = 4
	fineSide   = 16
	tilesKept  = 512
	tilesAsked = 96 // waiting at once; those asked for longest ago are forgotten first
)

// surveyKey is one tile of a surface: zoom, column and row.
type surveyKey struct {
	z, x, y int
	method  geo.Method
}

// surveyed is what is known of a tile: spots by rows from its north-west corner.
type surveyed struct {
	side  int // cells along its side; 0 before the first step
	spots []advisor.Spot
	asked int // when it was last asked for
}

// survey works surfaces out behind the answers, one step of one tile after the other, and
// keeps them as long as the records stay as they are.
type survey struct {
	port    Surveyor
	log     *slog.Logger
	mutex   sync.Mutex
	state   string
	tiles   map[surveyKey]*surveyed
	queue   []surveyKey // tiles that are not fine yet, the one asked for last at the end
	running bool
	clock   int
	version int // rises with each step done
	done    int // steps of those asked for since the queue was empty
	total   int
}

// surveying is how far surfaces are.
type surveying struct {
	State   string `json:"state"`
	Version int    `json:"version"`
	Done    int    `json:"done"`
	Total   int    `json:"total"`
}

// far tells how far surfaces are.
func (s *survey) far() surveying {
	s.mutex.Lock()
	defer s.mutex.Unlock()
	return surveying{s.state, s.version, s.done, s.total}
}

// look returns what is known of a tile in a state of the records, and sees to it that it
// becomes fine. Work goes on until the context ends.
func (s *survey) look(ctx context.Context, state string, key surveyKey) surveyed {
	s.mutex.Lock()
	defer s.mutex.Unlock()
	s.begin(state)
	s.clock++
	t := s.tiles[key]
	if t == nil {
		t = new(surveyed)
		s.tiles[key] = t
		s.forget()
	}
	t.asked = s.clock
	if t.side < fineSide {
		s.ask(key, t)
	}
	if len(s.queue) > 0 && !s.running {
		s.running = true
		go s.work(ctx)
	}
	return *t
}

// begin forgets what is of another state.
func (s *survey) begin(state string) {
	if s.state != state || s.tiles == nil {
		s.state, s.tiles, s.queue = state, map[surveyKey]*surveyed{}, nil
	}
}

// ask puts a tile at the end of the queue.
func (s *survey) ask(key surveyKey, t *surveyed) {
	if len(s.queue) == 0 {
		s.done, s.total = 0, 0
	}
	if i := slices.Index(s.queue, key); i >= 0 {
		s.queue = slices.Delete(s.queue, i, i+1)
	} else {
		s.total += t.steps()
	}
	s.queue = append(s.queue, key)
	if len(s.queue) > tilesAsked {
		s.total -= s.tiles[s.queue[0]].steps()
		s.queue = s.queue[1:]
	}
}

// steps is how many are left to do.
func (t *surveyed) steps() int {
	if t.side == 0 {
		return 2
	}
	return 1
}

// forget makes room: the tile asked for longest ago goes, unless it waits.
func (s *survey) forget() {
	if len(s.tiles) <= tilesKept {
		return
	}
	var oldest surveyKey
	least := math.MaxInt
	for key, t := range s.tiles {
		if t.asked < least && !slices.Contains(s.queue, key) {
			oldest, least = key, t.asked
		}
	}
	delete(s.tiles, oldest)
}

// work does one step after the other until nothing waits or the context ends.
func (s *survey) work(ctx context.Context) {
	for {
		key, side, ok := s.next(ctx)
		if !ok {
			return
		}
		spots, state, err := s.port.Surface(ctx, advisor.SurfaceQuestion{At: key.middles(side), Method: key.method, Seed: 1})
		if err != nil && ctx.Err() == nil {
			s.log.Error("a surface could not be worked out", "error", err)
		}
		s.keep(key, side, spots, state, err)
	}
}

// next returns the step to do: the coarse ones first, of the tile asked for last.
func (s *survey) next(ctx context.Context) (key surveyKey, side int, ok bool) {
	s.mutex.Lock()
	defer s.mutex.Unlock()
	if len(s.queue) == 0 || ctx.Err() != nil {
		s.running = false
		return key, 0, false
	}
	for _, key := range slices.Backward(s.queue) {
		if s.tiles[key].side == 0 {
			return key, coarseSide, true
		}
	}
	return s.queue[len(s.queue)-1], fineSide, true
}

// keep takes a step in; one that failed is not tried again until it is asked for.
func (s *survey) keep(key surveyKey, side int, spots []advisor.Spot, state string, failed error) {
	s.mutex.Lock()
	defer s.mutex.Unlock()
	if failed == nil && state != s.state {
		s.begin(state)
		s.version++
		return
	}
	t := s.tiles[key]
	if t == nil {
		return
	}
	if failed == nil {
		t.side, t.spots = side, spots
		s.done++
	} else {
		s.total -= t.steps()
	}
	s.version++
	if failed != nil || side == fineSide {
		s.queue = slices.DeleteFunc(s.queue, func(k surveyKey) bool { return k == key })
	}
}

// middles lists the middles of the cells of a tile, by rows from the north-west.
func (t surveyKey) middles(side int) []coord.LonLat {
	out := make([]coord.LonLat, 0, side*side)
	across := float64(uint64(1)<<t.z) * float64(side)
	for row := range side {
		for col := range side {
			x := (float64(t.x*side+col) + 0.5) / across
			y := (float64(t.y*side+row) + 0.5) / across
			out = append(out, coord.LonLat{Lon: (x - 0.5) * 360, Lat: math.Atan(math.Sinh((0.5-y)*2*math.Pi)) * 180 / math.Pi})
		}
	}
	return out
}
