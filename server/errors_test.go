package server_test

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"net/http"
	"slices"
	"strings"
	"testing"

	"waterstrike/geo"
	"waterstrike/server"
)

// TestErrorShape asks every route in a way that fails and compares the shape with
// RFC 9457: media type, and members type, title, status and detail; code is ours.
func TestErrorShape(t *testing.T) {
	broken := geo.Fail(geo.Internal, "store.read", geo.Message{}, errors.New("disk /secret/path at fault"))
	tests := []struct {
		name, method, target string
		ground               server.Ground
		status               int
		code                 string
	}{
		{"first page", "GET", "/", land{fails: broken}, 500, "problem.internal"},
		{"advice", "GET", "/advice?at=x", land{}, 400, "problem.bad-position"},
		{"advice as data", "GET", "/advice.json?at=x", land{}, 400, "problem.bad-position"},
		{"building sheet for paper", "GET", "/building.pdf?at=x", land{}, 400, "problem.bad-position"},
		{"building sheet", "GET", "/building?at=x", land{}, 400, "problem.bad-position"},
		{"map", "GET", "/map.svg?px=1", land{}, 400, "problem.bad-parameter"},
		{"map of nothing", "GET", "/map.svg", land{empty: true}, 422, "problem.no-data"},
		{"atlas", "GET", "/map?outcome=wet", land{}, 400, "problem.bad-parameter"},
		{"list", "GET", "/list?of=all", land{}, 400, "problem.bad-parameter"},
		{"short answer", "GET", "/spot?at=x", land{}, 400, "problem.bad-position"},
		{"search", "GET", "/find.json?q=belle", land{fails: broken}, 500, "problem.internal"},
		{"section", "GET", "/section?a=0.0,0.0&b=0.0,0.0", land{}, 400, "section.no-length"},
		{"drawing of a section", "GET", "/section.svg", land{}, 400, "problem.no-position"},
		{"tile of bores", "GET", "/tiles/bores/0/0/9", land{}, 404, "problem.no-tile"},
		{"tile of some bores", "GET", "/tiles/bores/0/0/0?outcome=wet", land{}, 400, "problem.bad-parameter"},
		{"tile of places", "GET", "/tiles/places/0/0/0", land{fails: broken}, 500, "problem.internal"},
		{"contours", "GET", "/tiles/contours/0/0/0", land{}, 404, "problem.no-tile"},
		{"shade", "GET", "/tiles/shade/0/0/0", land{}, 404, "problem.no-tile"},
		{"chart", "GET", "/tiles/charts/7/0/0/0", land{}, 404, "problem.no-tile"},
		{"surface", "GET", "/surface.json?of=gold", land{}, 400, "problem.bad-parameter"},
		{"tile of a surface", "GET", "/tiles/surface/chance/9/256/255", land{fails: broken}, 500, "problem.internal"},
		{"track record", "GET", "/trust", land{fails: broken}, 500, "problem.internal"},
		{"track record as data", "GET", "/trust.json", land{fails: broken}, 500, "problem.internal"},
		{"learnt", "GET", "/learnt", land{fails: broken}, 500, "problem.internal"},
		{"learnt as data", "GET", "/learnt.json", land{fails: broken}, 500, "problem.internal"},
		{"pumping test", "GET", "/pumping?readings=time", land{}, 400, "pumping.no-unit"},
		{"pumping test for paper", "GET", "/pumping.pdf?readings=time", land{}, 400, "pumping.no-unit"},
		{"pumping test as data", "GET", "/pumping.json", land{}, 400, "pumping.no-readings"},
		{"many sheets", "PUT", "/sheets", land{}, 405, "problem.read-only"},
		{"many sheets for paper", "GET", "/sheets.pdf?points=nowhere", land{}, 400, "sheets.unreadable"},
		{"season", "GET", "/choose?budget=1&weeks=x", land{}, 400, "season.bad-weeks"},
		{"season as data", "GET", "/choose.json?budget=x&weeks=1", land{}, 400, "season.bad-number"},
		{"season as a table", "GET", "/choose.csv?budget=1&weeks=1&floors=x", land{}, 400, "season.bad-floor"},
		{"season as a PDF", "GET", "/choose.pdf?budget=1&weeks=1&floors=x", land{}, 400, "season.bad-floor"},
		{"account", "GET", "/served?on=x", land{}, 400, "season.bad-day"},
		{"account as data", "GET", "/served.json?standard=x", land{}, 404, "season.unknown-standard"},
		{"account for paper", "GET", "/served.pdf?on=x", land{}, 400, "season.bad-day"},
		{"account to keep", "GET", "/served.html?on=x", land{}, 400, "season.bad-day"},
		{"features in a form that is none", "GET", "/features?f=x", land{}, 400, "problem.bad-parameter"},
		{"interface in a form that is none", "GET", "/features/api?f=x", land{}, 400, "problem.bad-parameter"},
		{"classes in a form that is none", "GET", "/features/conformance?f=x", land{}, 400, "problem.bad-parameter"},
		{"collections in a form that is none", "GET", "/features/collections?f=x", land{}, 400, "problem.bad-parameter"},
		{"a collection that is none", "GET", "/features/collections/:collection", land{}, 404, "problem.page-not-found"},
		{"a page of features", "GET", "/features/collections/:collection/items", land{}, 404, "problem.page-not-found"},
		{"a feature of none", "GET", "/features/collections/:collection/items/:feature", land{}, 404, "problem.page-not-found"},
		{"an unknown parameter", "GET", "/features/collections/bores/items?colour=red", land{}, 400, "problem.bad-parameter"},
		{"a feature that is none", "GET", "/features/collections/bores/items/none", land{}, 404, "features.none"},
		{"beside the hole", "PUT", "/hole", land{}, 405, "problem.read-only"},
		{"worker of the hole", "PUT", "/hole/keeper.js", land{}, 405, "problem.read-only"},
		{"pack of a site", "GET", "/hole/pack.json?at=x", land{}, 400, "problem.bad-position"},
		{"health", "GET", "/health", land{fails: broken}, 500, "problem.internal"},
		{"static", "GET", "/static/none", land{}, 404, "problem.page-not-found"},
		{"no route", "GET", "/none", land{}, 404, "problem.page-not-found"},
		{"no method", "PUT", "/advice.json", land{}, 405, "problem.read-only"},
	}
	var seen []string
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			b := newBench(t, tt.ground, nil)
			w := b.send(tt.method, tt.target, "Accept", "application/json", "Accept-Language", "fr")
			checkProblem(t, w.Code, w.Header(), w.Body.Bytes(), tt.status, tt.code)
			if strings.Contains(w.Body.String(), "secret") {
				t.Error("what went wrong inside was told")
			}
			if tt.status >= 500 && !strings.Contains(b.log.String(), "secret") {
				t.Error("what went wrong inside was not logged")
			}
		})
		path, _, _ := strings.Cut(tt.target, "?")
		seen = append(seen, path)
	}
	for _, route := range newBench(t, land{}, nil).Routes() {
		if !slices.ContainsFunc(seen, func(path string) bool { return strings.HasPrefix(path, fixedPart(route)) }) {
			t.Errorf("%s is not asked in a way that fails", route)
		}
	}
}

func checkProblem(t *testing.T, got int, header http.Header, body []byte, status int, code string) {
	t.Helper()
	if got != status || header.Get("Content-Type") != "application/problem+json" {
		t.Errorf("status %d as %q, want %d as application/problem+json", got, header.Get("Content-Type"), status)
	}
	var members map[string]any
	if err := json.Unmarshal(body, &members); err != nil {
		t.Fatalf("%v in %s", err, body)
	}
	want := map[string]any{"type": "about:blank", "title": http.StatusText(status), "status": float64(status), "code": code}
	for name, value := range want {
		if members[name] != value {
			t.Errorf("%s is %v, want %v", name, members[name], value)
		}
	}
	if detail, _ := members["detail"].(string); detail == "" || strings.Contains(detail, "⟨") || len(members) != 5 {
		t.Errorf("members %v", members)
	}
	if header.Get("Content-Language") != "fr" || header.Get("ETag") != "" {
		t.Errorf("language %q, tag %q", header.Get("Content-Language"), header.Get("ETag"))
	}
}

// TestKinds checks every kind, so that a new one cannot be forgotten.
func TestKinds(t *testing.T) {
	want := map[geo.Kind]int{
		geo.Internal: 500, geo.Invalid: 400, geo.NotFound: 404, geo.Conflict: 409,
		geo.TooFewData: 422, geo.Unsolvable: 422, geo.Newer: 500,
	}
	for kind := geo.Kind(0); !strings.HasPrefix(kind.String(), "kind("); kind++ {
		b := newBench(t, land{}, fmt.Errorf("wrapped: %w", geo.Fail(kind, "x", geo.Message{}, nil)))
		if got := b.get("/advice.json?at=0.1+0.2").Code; got != want[kind] {
			t.Errorf("%v is %d, want %d", kind, got, want[kind])
		}
	}
}

func TestOtherFailures(t *testing.T) {
	tests := []struct {
		name   string
		err    error
		status int
		told   string
	}{
		{"too slow", context.DeadlineExceeded, 503, "took too long"},
		{"of no kind", errors.New("secret"), 500, "Something went wrong"},
		{"with its own message", geo.Fail(geo.NotFound, "x", geo.Say("problem.no-data"), nil), 404, "No bores are recorded yet"},
		{"internal with a message", geo.Fail(geo.Internal, "x", geo.Say("problem.no-data"), nil), 500, "Something went wrong"},
	}
	for _, tt := range tests {
		b := newBench(t, land{}, tt.err)
		w := b.get("/advice?at=0.1+0.2", "Accept", "text/html")
		if w.Code != tt.status || !strings.Contains(w.Body.String(), tt.told) || strings.Contains(w.Body.String(), "secret") {
			t.Errorf("%s: %d\n%.300s", tt.name, w.Code, w.Body)
		}
	}
}

type panicky struct{ land }

func (panicky) State(context.Context) (string, error) { panic("secret") }

func TestPanicIsAFailure(t *testing.T) {
	b := newBench(t, panicky{}, nil)
	w := b.get("/")
	if w.Code != 500 || strings.Contains(w.Body.String(), "secret") || !strings.Contains(b.log.String(), "secret") {
		t.Errorf("status %d, body %.200s, log %.300s", w.Code, w.Body, b.log)
	}
}

// fixedPart is the part of a route before what changes.
func fixedPart(route string) string {
	fixed, _, _ := strings.Cut(strings.TrimSuffix(route, "*"), ":")
	return fixed
}
