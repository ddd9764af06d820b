package server_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"image"
	"image/png"
	"log/slog"
	"sync"
	"testing"
	"time"

	"waterstrike/advisor"
	"waterstrike/server"
	"waterstrike/server/sheet/sheettest"
	"waterstrike/ui"
)

// surveyed is a server that works surfaces out as it is told.
func surveyed(t *testing.T, asked func(advisor.SurfaceQuestion) error) bench {
	t.Helper()
	words, err := catalogue()
	if err != nil {
		t.Fatal(err)
	}
	b := bench{log: new(bytes.Buffer)}
	b.Server, err = server.New(server.Config{
		Advisor: &oracle{}, Ground: land{}, Atlas: atlas{land{}}, Judge: record{}, Learner: pupil{land{}}, Packer: porter{nil}, Seasons: seasons{}, Features: sheettest.Features{}, Surveyor: surveyor{asked}, Catalogue: words,
		Templates: ui.Templates(), Static: ui.Static(), Version: "0.0.1", Now: time.Now, Log: slog.New(slog.NewTextHandler(b.log, nil)),
	})
	if err != nil {
		t.Fatal(err)
	}
	return b
}

type far struct {
	Done, Total, Version int
	Tiles                string
	Classes              []struct{ Colour, Words string }
}

func (b bench) far(t *testing.T, query string) (f far) {
	t.Helper()
	w := b.get("/surface.json?" + query)
	if err := json.Unmarshal(w.Body.Bytes(), &f); err != nil || w.Code != 200 {
		t.Fatal(w.Code, err, w.Body)
	}
	return f
}

func (b bench) picture(t *testing.T, target string) image.Image {
	t.Helper()
	w := b.get(target)
	picture, err := png.Decode(w.Body)
	if err != nil || w.Code != 200 || picture.Bounds() != image.Rect(0, 0, 256, 256) {
		t.Fatal(w.Code, err)
	}
	return picture
}

// settled waits until nothing is left to do.
func (b bench) settled(t *testing.T) far {
	t.Helper()
	for range 500 {
		if f := b.far(t, "of=chance"); f.Done == f.Total {
			return f
		}
		time.Sleep(10 * time.Millisecond)
	}
	t.Fatal("the surface is never done")
	return far{}
}

// A tile is clear at first, coarse next and fine at last; another picture of the same tile
// costs no work. East of 0.35 degrees water is deep, south of the equator bores are few.
func TestSurfaceWhileItIsWorkedOut(t *testing.T) {
	var mutex sync.Mutex
	var sizes []int
	gate := make(chan struct{})
	b := surveyed(t, func(q advisor.SurfaceQuestion) error {
		<-gate
		mutex.Lock()
		defer mutex.Unlock()
		sizes = append(sizes, len(q.At))
		return nil
	})
	const north, south = "/tiles/surface/design-low/9/256/255", "/tiles/surface/design-low/9/256/256"
	clear := b.picture(t, north)
	if _, _, _, a := clear.At(10, 10).RGBA(); a != 0 {
		t.Error("a tile shows what is not known yet")
	}
	if f := b.far(t, "of=chance"); f.Done != 0 || f.Total != 2 {
		t.Errorf("%+v", f)
	}
	close(gate)
	f := b.settled(t)
	if f.Total != 2 || f.Version != 2 {
		t.Errorf("%+v", f)
	}
	fine := b.picture(t, north)
	west, east := fine.At(100, 100), fine.At(140, 100) // the tile is 0.703 degrees wide
	if west == east || west != fine.At(0, 255) || east != fine.At(255, 0) {
		t.Errorf("west %v, east %v", west, east)
	}
	b.picture(t, south)
	b.settled(t)
	hatched := b.picture(t, south)
	if hatched.At(0, 0) == hatched.At(4, 0) || hatched.At(0, 0) != hatched.At(8, 0) {
		t.Error("ground with few bores is not hatched")
	}
	evidence := b.picture(t, "/tiles/surface/evidence/9/256/256")
	if evidence.At(0, 0) != evidence.At(4, 0) {
		t.Error("the number of bores is hatched")
	}
	mutex.Lock()
	defer mutex.Unlock()
	if len(sizes) != 4 || sizes[0] != 16 || sizes[1] != 256 {
		t.Errorf("asked for %v places", sizes)
	}
}

// What fails is told in the log, tried again when asked for again, and leaves the map as
// it is.
func TestSurfaceThatFails(t *testing.T) {
	failing := true
	var mutex sync.Mutex
	b := surveyed(t, func(advisor.SurfaceQuestion) error {
		mutex.Lock()
		defer mutex.Unlock()
		if failing {
			return errors.New("no luck")
		}
		return nil
	})
	b.picture(t, "/tiles/surface/chance/9/256/255")
	b.settled(t)
	mutex.Lock()
	failing = false
	mutex.Unlock()
	b.picture(t, "/tiles/surface/chance/9/256/255")
	b.settled(t)
	if _, _, _, a := b.picture(t, "/tiles/surface/chance/9/256/255").At(9, 9).RGBA(); a == 0 {
		t.Error("what failed once is never shown")
	}
}

func TestSurfaceLegend(t *testing.T) {
	b := newBench(t, land{}, nil)
	f := b.far(t, "of=design-low&method=jetting&lang=en")
	if f.Tiles != "/tiles/surface/design-low/{z}/{x}/{y}?method=jetting" || len(f.Classes) != 6 {
		t.Errorf("%+v", f)
	}
	runAll(t, []scenario{
		{name: "chance", target: "/surface.json?of=chance", status: 200, holds: []string{"under 20%", "20% to 40%", "80% or more", "#134f73", "Too few bores"}, lacks: []string{"⟨"}},
		{name: "evidence in French", target: "/surface.json?of=evidence&lang=fr", status: 200, holds: []string{"moins de 1", "11 ou plus"}, lacks: []string{"⟨"}},
		{name: "refusal in Portuguese", target: "/surface.json?of=refusal-range&lang=pt", status: 200, holds: []string{"m ou mais"}, lacks: []string{"⟨"}},
		{name: "no such surface", target: "/surface.json?of=gold", status: 400, holds: []string{"gold"}},
		{name: "no such method", target: "/tiles/surface/chance/9/1/1?method=spade", status: 400, holds: []string{"spade"}},
		{name: "no such tile", target: "/tiles/surface/chance/9/1/x", status: 400},
		{name: "too far out", target: "/tiles/surface/chance/3/1/1", status: 404},
		{name: "beyond the edge", target: "/tiles/surface/chance/9/512/1", status: 404},
	})
}
