package server_test

import (
	"bytes"
	"context"
	"encoding/json"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"os"
	"strconv"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"waterstrike/advisor"
	"waterstrike/advisor/evidence"
	"waterstrike/advisor/livehole"
	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/soil"
	"waterstrike/server"
	"waterstrike/server/sheet"
	"waterstrike/server/sheet/sheettest"
	"waterstrike/server/tile"
	"waterstrike/ui"
	"waterstrike/ui/say"

	"github.com/paulmach/orb"
)

// oracle answers every question in the same way, or fails in the way it is told to.
type oracle struct {
	fails error
	asked []advisor.Question
}

func (o *oracle) Advise(ctx context.Context, q advisor.Question) (advisor.Advice, error) {
	o.asked = append(o.asked, q)
	if o.fails != nil {
		return advisor.Advice{}, o.fails
	}
	return answerTo(q), ctx.Err()
}

func answerTo(q advisor.Question) advisor.Advice {
	return advisor.Advice{
		Schema: advisor.Schema, Question: q,
		Verdict: advisor.Verdict{Code: advisor.Go, Method: "auger"},
		Methods: []advisor.MethodChance{{Method: "auger", Chance: 0.8, Lo: 0.7, Hi: 0.9, Reasons: []advisor.Reason{{Code: "reason.yield-too-low", Share: 0.2}}}},
		Water: &advisor.Water{
			NormalLow: advisor.Range{P10: 4, P50: 5, P90: 6}, DesignLow: advisor.Range{P10: 5, P50: 6, P90: 7},
			WetHigh: advisor.Range{P10: 1, P50: 2, P90: 3}, SeasonIdentified: true, Readings: 9, NearestM: 300,
		},
		Layers:  []advisor.Layer{{TopM: 0, BaseM: 3, Class: soil.Clay, Chance: 0.8}, {TopM: 3, BaseM: 12, Class: soil.Sand, Chance: 0.7}},
		Odds:    &advisor.OddsColumn{CellM: 3, Classes: []soil.Class{soil.Clay, soil.Sand}, Odds: [][]float64{{0.8, 0.2}, {0.3, 0.7}, {0.3, 0.7}, {0.3, 0.7}}},
		Plan:    sheettest.Plan(),
		Quality: advisor.Quality{Verdict: advisor.FitIsNotKnown}, Cautions: []geo.Message{geo.Say("caution.never-enter")},
		Evidence: advisor.Evidence{NearestM: geo.Some(300.0), Bores: []advisor.EvidenceBore{{
			ID: "1", Label: "AV-1", At: coord.LonLat{Lon: q.At.Lon, Lat: q.At.Lat + 0.002}, DistanceM: 300, Outcome: geo.Collapsed,
			Completed: geo.Some(geo.Date{Year: 2014, Month: 12, Day: 28}), LevelM: geo.Some(11.2),
		}}},
		Provenance: advisor.Provenance{Snapshot: "7", Bores: 3, Version: "0.0.1"},
	}
}

// land is an invented square of half a degree with three villages.
type land struct {
	empty bool
	fails error
}

func (g land) State(context.Context) (string, error) { return "7", g.fails }

func (g land) Villages(context.Context) ([]geo.Village, error) {
	if g.empty {
		return nil, g.fails
	}
	at := func(lon, lat float64) coord.Reading { return coord.Reading{Pos: coord.LonLat{Lon: lon, Lat: lat}} }
	return []geo.Village{
		{ID: "v1", Name: "Anse Étoile", Position: at(0.1, 0.1), People: geo.Some(420)},
		{ID: "v2", Name: "Belle", Position: at(0.3, 0.1)},
		{ID: "v3", Name: "Belle", Position: at(0.3, 0.3)},
	}, g.fails
}

func (g land) Bores(_ context.Context, box orb.Bound, limit int) ([]sheet.MapBore, int, error) {
	if g.empty {
		return nil, 0, g.fails
	}
	all := []sheet.MapBore{{At: coord.LonLat{Lon: 0.12, Lat: 0.12}, Outcome: geo.Producing}, {At: coord.LonLat{Lon: 0.4, Lat: 0.4}, Outcome: geo.Dry}}
	var in []sheet.MapBore
	for _, b := range all {
		if box.Contains(b.At.Point()) {
			in = append(in, b)
		}
	}
	return in[:min(limit, len(in))], len(in), g.fails
}

func (g land) Outcomes(context.Context) (map[geo.Outcome]int, error) {
	if g.empty {
		return nil, g.fails
	}
	return map[geo.Outcome]int{geo.Producing: 3, geo.Dry: 1}, g.fails
}

func (g land) Boundaries(context.Context) ([]geo.Boundary, error) {
	if g.empty {
		return nil, g.fails
	}
	square := orb.Ring{{0, 0}, {0.5, 0}, {0.5, 0.5}, {0, 0.5}, {0, 0}}
	return []geo.Boundary{{Name: "Land", Shape: orb.MultiPolygon{{square}}}}, g.fails
}

func (g land) Rivers(context.Context) ([]geo.River, error) {
	return []geo.River{{Line: orb.LineString{{0.05, 0}, {0.2, 0.5}}}}, g.fails
}

// bench is a server over fakes.
type bench struct {
	*server.Server
	oracle  *oracle
	seasons seasons
	log     *bytes.Buffer
}

// catalogue is read once for all tests: nothing changes it.
var catalogue = sync.OnceValues(say.New)

func newBench(t testing.TB, ground server.Ground, fails error, change ...func(*server.Config)) bench {
	t.Helper()
	words, err := catalogue()
	if err != nil {
		t.Fatal(err)
	}
	b := bench{oracle: &oracle{fails: fails}, seasons: seasons{make(chan struct{})}, log: new(bytes.Buffer)}
	c := server.Config{
		Advisor: b.oracle, Ground: ground, Atlas: atlas{ground}, Judge: record{runs: new(atomic.Int32)}, Learner: pupil{ground}, Packer: porter{fails}, Seasons: b.seasons, Features: sheettest.Features{}, Surveyor: surveyor{}, Catalogue: words, Templates: ui.Templates(), Static: ui.Static(), Version: "0.0.1",
		Now: func() time.Time { return time.Date(2024, 3, 9, 0, 0, 0, 0, time.UTC) },
		Log: slog.New(slog.NewTextHandler(b.log, nil)),
	}
	for _, f := range change {
		f(&c)
	}
	b.Server, err = server.New(c)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// send asks as a browser on this computer does; headers are name, value, name, value.
func (b bench) send(method, target string, headers ...string) *httptest.ResponseRecorder {
	r := httptest.NewRequest(method, target, nil)
	r.Host = "127.0.0.1:8080"
	for i := 0; i+1 < len(headers); i += 2 {
		if headers[i] == "Host" {
			r.Host = headers[i+1]
		}
		r.Header.Set(headers[i], headers[i+1])
	}
	w := httptest.NewRecorder()
	b.Handler().ServeHTTP(w, r)
	return w
}

func (b bench) get(target string, headers ...string) *httptest.ResponseRecorder {
	return b.send(http.MethodGet, target, headers...)
}

// pupil has learnt from too few bores, and fails as its ground does.
type pupil struct{ ground server.Ground }

func (p pupil) Fits(ctx context.Context) (advisor.Fits, error) {
	_, err := p.ground.State(ctx)
	return advisor.Fits{Schema: advisor.FitsSchema, Snapshot: "7", Now: "8", Bores: 3, Kinds: advisor.Kinds{Stated: 3, Rest: 2, Dry: 1}}, err
}

// atlas arranges what its ground has, and fails as it does.
type atlas struct{ ground server.Ground }

func (a atlas) Arranged(ctx context.Context) (*tile.Bores, error) {
	shown, _, err := a.ground.Bores(ctx, orb.Bound{Min: orb.Point{-180, -90}, Max: orb.Point{180, 90}}, 1000)
	if err != nil {
		return nil, err
	}
	var bores []*evidence.Bore
	for i, b := range shown {
		bores = append(bores, &evidence.Bore{
			ID: geo.BoreID(strconv.Itoa(i)), Label: "AV-" + strconv.Itoa(i), Pos: b.At, Outcome: b.Outcome, Method: "auger",
			Completed: geo.Date{Year: 2014, Month: 12}, DepthM: geo.Some(18.5), Levels: []evidence.Level{{DepthM: 6.2}},
		})
	}
	return tile.NewBores(bores), nil
}

func (a atlas) Places(ctx context.Context) (*tile.Places, error) {
	villages, err := a.ground.Villages(ctx)
	if err != nil {
		return nil, err
	}
	boundaries, err := a.ground.Boundaries(ctx)
	if err != nil {
		return nil, err
	}
	rivers, err := a.ground.Rivers(ctx)
	at := coord.Reading{Pos: coord.LonLat{Lon: 0.21, Lat: 0.11}}
	points := []geo.WaterPoint{{ID: "w1", Name: "Old well", Kind: geo.DugWell, Position: at, Works: geo.Some(true), DepthM: geo.Some(9.0)}}
	roads := []tile.Named[orb.LineString]{{Name: "<script>alert(1)</script> road", Shape: orb.LineString{{0, 0}, {0.1, 0}, {0.2, 0}}}}
	marks := []tile.Named[orb.Point]{{Name: "School", Shape: orb.Point{0.3, 0.3}}, {Shape: orb.Point{0.1, 0.1}}}
	return tile.NewPlaces(tile.Ground{Villages: villages, Points: points, Boundaries: boundaries, Rivers: rivers, Roads: roads, Marks: marks}), err
}

func (a atlas) Along(ctx context.Context, from, to coord.LonLat, asideM, deepM float64) (sheet.Line, error) {
	line := sheet.Line{From: from, To: to, AsideM: asideM, DeepM: deepM}
	for i := range 3 {
		told := answerTo(advisor.Question{At: from})
		line.Stations = append(line.Stations, sheet.Station{AlongM: float64(i) / 2 * coord.DistanceM(from, to), GroundM: 100 + float64(i), Odds: told.Odds, Water: told.Water})
	}
	for i, lon := range []float64{0.1, 0.15} {
		line.Bores = append(line.Bores, geo.Bore{ID: geo.BoreID("b" + strconv.Itoa(i)), Code: "LINE-" + strconv.Itoa(i), Outcome: geo.Dry, Position: geo.Some(coord.Reading{Pos: coord.LonLat{Lon: lon, Lat: lon}})})
	}
	_, err := a.ground.State(ctx)
	return line, err
}

func (atlas) Relief() *tile.Relief { return nil }

func (atlas) Charts() []server.Chart {
	return []server.Chart{{Name: "Old <sheet>", Attribution: "Survey", Bound: orb.Bound{Max: orb.Point{1, 1}}, Most: 9, Pictures: onePicture{}}}
}

// onePicture is a chart of one tile.
type onePicture struct{}

func (onePicture) Picture(_ context.Context, z, x, y int) ([]byte, string, error) {
	if z != 0 || x != 0 || y != 0 {
		return nil, "", geo.Fail(geo.NotFound, "fake", geo.Say("problem.no-tile"), nil)
	}
	return []byte("\x89PNG\r\n\x1a\n"), "image/png", nil
}

// porter packs the same for every question.
type porter struct{ fails error }

func (p porter) Pack(ctx context.Context, q advisor.Question) (out livehole.Pack, err error) {
	if p.fails != nil {
		return out, p.fails
	}
	data, err := os.ReadFile("../testdata/livehole/pack.json")
	if err != nil {
		return out, err
	}
	err = json.Unmarshal(data, &out)
	out.At, out.Village = q.At, q.Village
	return out, err
}

// surveyor says of every place that deep water lies in the east.
type surveyor struct {
	asked func(advisor.SurfaceQuestion) error
}

func (v surveyor) Surface(_ context.Context, q advisor.SurfaceQuestion) ([]advisor.Spot, string, error) {
	if v.asked != nil {
		if err := v.asked(q); err != nil {
			return nil, "", err
		}
	}
	out := make([]advisor.Spot, len(q.At))
	for i, p := range q.At {
		low := 1.0
		if p.Lon > 0.35 {
			low = 30
		}
		out[i] = advisor.Spot{
			Method: "auger", Chance: geo.Some(advisor.Spread{Value: 0.9, Lo: 0.1, Hi: 1}), DesignLowM: geo.Some(advisor.Spread{Value: low, Lo: low, Hi: low + 1}),
			Bores: advisor.BoresNear{ForWater: 7, ForLayers: 5}, Few: p.Lat < 0,
		}
	}
	return out, "7", nil
}

func (surveyor) SurfaceMethods() []geo.Method { return []geo.Method{"auger", "jetting"} }
