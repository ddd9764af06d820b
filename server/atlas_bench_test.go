package server_test

import (
	"context"
	"math/rand/v2"
	"net/http/httptest"
	"slices"
	"strconv"
	"testing"

	"waterstrike/advisor/evidence"
	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/server"
	"waterstrike/server/tile"
	"waterstrike/ui/say"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"
)

// crowd is a land with many bores.
type crowd struct {
	atlas
	bores *tile.Bores
}

func (c crowd) Arranged(context.Context) (*tile.Bores, error) { return c.bores, nil }

// crowded scatters n bores over the half degree of the fake land, most of them about towns.
func crowded(n int) crowd {
	rng := rand.New(rand.NewPCG(3, 4))
	bores := make([]*evidence.Bore, n)
	for i := range bores {
		at := coord.LonLat{Lon: rng.Float64() / 2, Lat: rng.Float64() / 2}
		if i%4 > 0 {
			at = coord.LonLat{Lon: float64(i%29)/58 + 0.01*rng.NormFloat64(), Lat: float64(i%31)/62 + 0.01*rng.NormFloat64()}
		}
		bores[i] = &evidence.Bore{
			ID: geo.BoreID(strconv.Itoa(i)), Label: "B-" + strconv.Itoa(i), Pos: at, Outcome: geo.Outcomes()[rng.IntN(8)], Method: "auger",
			Completed: geo.Date{Year: 1990 + rng.IntN(30)}, DepthM: geo.Some(float64(5 + rng.IntN(30))),
		}
	}
	return crowd{atlas{land{}}, tile.NewBores(bores)}
}

// slowed makes the browser that of a cheap phone on a weak mobile network.
func slowed(ctx context.Context, t *chromedp.Target) (chromedp.Void, error) {
	const bytesPerS = 1.6e6 / 8
	_, err := cdp.Call(ctx, t, network.EmulateNetworkConditionsByRule, network.EmulateNetworkConditionsByRuleParams{
		MatchedNetworkConditions: []*network.Conditions{{Latency: 150, DownloadThroughput: bytesPerS, UploadThroughput: bytesPerS}},
	})
	if err == nil {
		_, err = cdp.Call(ctx, t, emulation.SetCPUThrottlingRate, emulation.SetCPUThrottlingRateParams{Rate: 4})
	}
	return chromedp.Void{}, err
}

// forget drops what the browser keeps of pages seen.
func forget(ctx context.Context, t *chromedp.Target) (chromedp.Void, error) {
	_, err := cdp.Call(ctx, t, network.ClearBrowserCache, cdp.Empty{})
	return chromedp.Void{}, err
}

// panned moves the map to and fro for three seconds and returns the time between frames,
// ms.
const panned = `new Promise((done) => {
	const map = document.querySelector(".atlas").map, view = map.getView(), centre = view.getCenter(), step = view.getResolution() * 200;
	view.beginInteraction(); // as a finger does
	const took = []; const begun = performance.now(); let last = begun;
	const frame = (now) => {
		took.push(now - last); last = now;
		if (now - begun > 3000) return view.endInteraction(), done(took.slice(1));
		const turn = (now - begun) / 700;
		view.setCenter([centre[0] + step * Math.sin(turn), centre[1] + step * Math.cos(turn)]);
		requestAnimationFrame(frame);
	};
	requestAnimationFrame(frame);
})`

// drawn moves the map by a pixel thirty times and returns how long one drawing of it takes,
// ms: the least of three such runs, for others use the processor too.
const drawn = `(() => {
	const map = document.querySelector(".atlas").map, view = map.getView(), step = view.getResolution();
	const runs = [0, 1, 2].map(() => {
		view.beginInteraction();
		const begun = performance.now();
		for (let i = 0; i < 30; i++) {
			const [x, y] = view.getCenter();
			view.setCenter([x + (i % 2 ? step : -step), y]);
			map.renderSync();
		}
		const took = (performance.now() - begun) / 30;
		view.endInteraction();
		return took;
	});
	return Math.min(...runs);
})()`

// BenchmarkMapOnAPhone opens the list and the map of 100,000 bores at a quarter of the
// processor's speed over 1.6 Mbit/s and 150 ms, with nothing kept from before, and moves
// the map: seconds until the list can be used and until the map is whole, and the median
// of frames a second. The baseline is the same without the brakes.
func BenchmarkMapOnAPhone(b *testing.B) {
	for _, brakes := range []bool{true, false} {
		b.Run(map[bool]string{true: "slowed", false: "free"}[brakes], func(b *testing.B) {
			h := newBench(b, land{}, nil)
			c := h.Config
			c.Atlas = crowded(100_000)
			s, err := server.New(c)
			if err != nil {
				b.Fatal(err)
			}
			served := httptest.NewServer(s.Handler())
			b.Cleanup(served.Close)
			for range b.N {
				ctx := browser(b)
				do(b, ctx, "size", chromedp.EmulateViewport(360, 740))
				if brakes {
					do(b, ctx, "brakes", slowed)
				}
				v := visit{ctx, served.URL, say.EN, 360, h.Catalogue}
				do(b, ctx, "list", chromedp.Navigate(served.URL+"/list"), chromedp.WaitReady("main table"))
				b.ReportMetric(eval[float64](b, ctx, `performance.getEntriesByType("navigation")[0].domContentLoadedEventEnd / 1000`), "s/list")
				do(b, ctx, "forget", chromedp.Navigate("about:blank"), forget)
				v.mapped(b, "")
				b.ReportMetric(eval[float64](b, ctx, `+document.querySelector(".atlas").dataset.ready / 1000`), "s/map")
				b.ReportMetric(eval[float64](b, ctx, drawn), "ms/drawing")
				took, err := chromedp.Run(ctx, chromedp.Evaluate[[]float64](panned, chromedp.EvalAwaitPromise))
				if err != nil {
					b.Fatal(err)
				}
				slices.Sort(took)
				b.ReportMetric(1000/took[len(took)/2], "frames/s")
			}
		})
	}
}
