package server_test

import (
	"context"
	"net/http"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"waterstrike/advisor"
	"waterstrike/advisor/trust"
	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/server"
)

// record takes an account in one go, or holds it until it is let go.
type record struct {
	runs  *atomic.Int32
	letGo chan struct{} // nil: at once
	fails error
	ended chan error // told when it was let go by the end of the program
}

func (r record) Judge(ctx context.Context, progress trust.Progress) (trust.Report, error) {
	r.runs.Add(1)
	progress(3, 40)
	if r.letGo != nil {
		select {
		case <-r.letGo:
		case <-ctx.Done():
			r.ended <- ctx.Err()
			return trust.Report{}, ctx.Err()
		}
	}
	return accountOf(40), r.fails
}

// accountOf is an invented account of n depths, logs and chances in ten squares of land.
func accountOf(n int) trust.Report {
	out := trust.Report{Schema: trust.Schema, Snapshot: "7", Bores: 60, Asked: n, Rounds: 10, Options: trust.DefaultOptions()}
	out.Blocks = trust.Blocks{SideM: 4000, ReachM: 3000, Count: 10}
	for i := range n {
		p := (float64(i%10) + 0.5) / 10
		c := trust.Case{ID: "b", At: coord.LonLat{Lon: 0.1 + p/10, Lat: 0.1}, Block: i % 10}
		out.Cases.Levels = append(out.Cases.Levels, trust.LevelCase{
			Case: c, FoundM: 5 + p, Said: []trust.Forecast{{4, 5, 6, 7}, {9}, {4}, {5, 6, 7}, {6}},
		})
		out.Cases.Layers = append(out.Cases.Layers, trust.LayerCase{Case: c, Cells: []trust.CellSaid{
			{TopM: 2, Odds: []float64{p, 0.4, 0.3, 0.2}, Hit: []bool{p > 0.5, true, false, false}},
			{TopM: 12, Odds: []float64{0.5, p, 0.3, 0.2}, Hit: []bool{true, false, false, false}},
		}})
		out.Cases.Outcomes = append(out.Cases.Outcomes, trust.OutcomeCase{
			Case: c, Method: "auger",
			Works: i%3 == 0, Said: []float64{p, 0.4, 1 - p}, Width: 0.2, NearestM: 100, Enough: i%2 == 0,
		})
	}
	out.Account = trust.Judge(out.Cases)
	out.Misses = []trust.Miss{{
		Kind: "miss.level", ID: "b", Label: "the bore behind the school, near the old market", FoundM: geo.Some(40.2),
		SaidM:    geo.Some(advisor.Range{P10: 4, P50: 5.5, P90: 7}),
		Evidence: []advisor.EvidenceBore{{ID: "c", Label: "AV-1", DistanceM: 300, LevelM: geo.Some(4.0)}},
	}}
	return out
}

// moving is land whose state can be set.
type moving struct {
	land
	state *atomic.Value
}

func (m moving) State(context.Context) (string, error) { return m.state.Load().(string), nil }

// judged is a server with a judge and land that can move on.
func judged(t *testing.T, r record) (bench, *atomic.Value) {
	t.Helper()
	b := newBench(t, land{}, nil)
	state := new(atomic.Value)
	state.Store("7")
	c := b.Config
	c.Judge, c.Ground = r, moving{land{}, state}
	var err error
	if b.Server, err = server.New(c); err != nil {
		t.Fatal(err)
	}
	return b, state
}

// until asks again until the page holds a text.
func until(t *testing.T, b bench, target, want string, headers ...string) string {
	t.Helper()
	for range 500 {
		if body := b.get(target, headers...).Body.String(); strings.Contains(body, want) {
			return body
		}
		time.Sleep(2 * time.Millisecond)
	}
	t.Fatalf("%s never holds %q", target, want)
	return ""
}

func TestTrustIsTakenInTheBackgroundWhileOthersAsk(t *testing.T) {
	r := record{runs: new(atomic.Int32), letGo: make(chan struct{}), ended: make(chan error, 1)}
	b, state := judged(t, r)
	waiting := until(t, b, "/trust", "3 of 40 bores asked about", html...)
	for _, want := range []string{`<noscript><meta http-equiv="refresh" content="3"></noscript>`, "The account is being taken", `max="40" value="3">`, `data-wait="/trust.json"`} {
		if !strings.Contains(waiting, want) {
			t.Errorf("while it is taken the page lacks %q", want)
		}
	}
	if w := b.get("/trust.json"); w.Code != http.StatusAccepted || !strings.Contains(w.Body.String(), `"total":40`) {
		t.Errorf("data while it is taken: %d %s", w.Code, w.Body)
	}
	if w := b.get("/advice?at=0.1+0.2"); w.Code != 200 {
		t.Errorf("an advice meanwhile: %d", w.Code)
	}
	close(r.letGo)
	taken := until(t, b, "/trust?lang=pt", "Balanço: os pareceres", html...)
	for _, bad := range []string{"⟨", "style=", "<script>", `http-equiv="refresh"`, "onclick"} {
		if strings.Contains(taken, bad) {
			t.Errorf("the account holds %q", bad)
		}
	}
	b.get("/trust")
	if n := r.runs.Load(); n != 1 {
		t.Errorf("%d runs for one state", n)
	}
	state.Store("8")
	if body := b.get("/trust").Body.String(); !strings.Contains(body, "The records have changed since this account") {
		t.Error("an account of earlier records is not told as such")
	}
	until(t, b, "/trust.json", `"snapshot": "7"`)
	if n := r.runs.Load(); n != 2 {
		t.Errorf("%d runs for two states", n)
	}
}

func TestTrustScenarios(t *testing.T) {
	b, _ := judged(t, record{runs: new(atomic.Int32)})
	until(t, b, "/trust", "Chance of success")
	b.runAll(t, []scenario{
		{name: "account", target: "/trust?lang=en", headers: html, status: 200, holds: []string{
			`<html lang="en">`, "Track record", "Do", "squares of land, 4.0\u00a0km wide", "the rate of the region", "<svg", "/trust.json", "/trust?lang=fr", "data-label=",
		}},
		{name: "in French", target: "/trust?lang=fr", status: 200, holds: []string{`<html lang="fr">`, "Bilan"}, lacks: []string{"⟨"}},
		{name: "data", target: "/trust.json", status: 200, holds: []string{`"schema": "waterstrike.trust.1"`, `"rounds": 10`}},
		{name: "link from the first page", target: "/?lang=en", status: 200, holds: []string{`href="/trust?lang=en"`, "Track record"}},
		{name: "writing", method: http.MethodPost, target: "/trust", status: 405},
		{name: "head", method: http.MethodHead, target: "/trust", status: 200},
	})
}

func TestTrustThatFailsSaysWhyAndIsNotTriedInCircles(t *testing.T) {
	r := record{runs: new(atomic.Int32), fails: geo.Fail(geo.TooFewData, "x", geo.Say("problem.too-few-data"), nil)}
	b, _ := judged(t, r)
	until(t, b, "/trust", `role="alert"`, html...)
	for range 3 {
		if w := b.get("/trust", html...); w.Code != http.StatusUnprocessableEntity {
			t.Errorf("status %d", w.Code)
		}
	}
	if n := r.runs.Load(); n != 1 {
		t.Errorf("%d runs", n)
	}
}

func TestTrustEndsWithTheServer(t *testing.T) {
	r := record{runs: new(atomic.Int32), letGo: make(chan struct{}), ended: make(chan error, 1)}
	b, _ := judged(t, r)
	ctx, stop := context.WithCancel(t.Context())
	l, err := server.Listen(ctx, "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	served := make(chan error, 1)
	go func() { served <- b.Serve(ctx, l) }()
	fetch("http://" + l.Addr().String() + "/trust")
	stop()
	if err := <-served; err != nil {
		t.Fatal(err)
	}
	select {
	case <-r.ended:
	case <-time.After(5 * time.Second):
		t.Error("the account goes on after the end")
	}
}
