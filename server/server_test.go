package server_test

import (
	"context"
	"encoding/json"
	"io"
	"math"
	"net/http"
	"net/url"
	"os"
	"strconv"
	"strings"
	"testing"
	"time"

	"waterstrike/advisor"
	"waterstrike/geo"
	"waterstrike/server"
	"waterstrike/server/sheet"
)

func TestEveryRouteIsDescribed(t *testing.T) {
	doc, err := os.ReadFile("doc.go")
	if err != nil {
		t.Fatal(err)
	}
	routes := newBench(t, land{}, nil).Routes()
	if len(routes) == 0 {
		t.Error("no routes")
	}
	for _, route := range routes {
		if !strings.Contains(string(doc), "//\tGET  "+route+" ") {
			t.Errorf("doc.go does not describe GET %s", route)
		}
	}
}

func TestHeaders(t *testing.T) {
	b := newBench(t, land{}, nil)
	for _, target := range []string{"/", "/advice?at=0.1+0.2", "/advice.json?at=x", "/map.svg", "/trust", "/trust.json", "/health", "/static/js/page.js", "/none"} {
		h := b.get(target).Header()
		for name, want := range map[string]string{
			"Content-Security-Policy": "default-src 'self'; object-src 'none'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'",
			"X-Content-Type-Options":  "nosniff", "Referrer-Policy": "no-referrer", "Cache-Control": "no-cache",
		} {
			if h.Get(name) != want {
				t.Errorf("%s: %s is %q", target, name, h.Get(name))
			}
		}
	}
	if kind := b.get("/static/js/page.js").Header().Get("Content-Type"); !strings.HasPrefix(kind, "text/javascript") {
		t.Errorf("a module is served as %q", kind)
	}
}

func TestTags(t *testing.T) {
	b := newBench(t, land{}, nil)
	tags := map[string]string{}
	for _, target := range []string{
		"/", "/?lang=fr", "/advice?at=0.1+0.2", "/advice?at=0.1+0.3", "/advice?at=0.1+0.2&lang=fr", "/advice?at=0.1+0.2&map=near",
		"/advice.json?at=0.1+0.2", "/advice.json?at=0.1+0.2&seed=2", "/advice.json?village=v1", "/map.svg", "/map.svg?px=560", "/static/css/base.css",
	} {
		first := b.get(target)
		etag := first.Header().Get("ETag")
		if other, twice := tags[etag]; twice || etag == "" {
			t.Errorf("%s has the tag %q of %s", target, etag, other)
		}
		tags[etag] = target
		again := b.get(target, "If-None-Match", `"other", W/`+etag)
		if again.Code != http.StatusNotModified || again.Body.Len() != 0 {
			t.Errorf("%s: %d with %d bytes for a known tag", target, again.Code, again.Body.Len())
		}
	}
}

func TestAdviceJSON(t *testing.T) {
	b := newBench(t, land{}, nil)
	w := b.get("/advice.json?at=0.1+0.2&seed=18446744073709551615")
	want, err := sheet.JSON(answerTo(b.oracle.asked[0]))
	if err != nil || w.Body.String() != string(want) {
		t.Errorf("the body is not the sheet's JSON: %v", err)
	}
	if q := b.oracle.asked[0]; q.Seed != math.MaxUint64 || q.At.Lat != 0.1 || q.At.Lon != 0.2 {
		t.Errorf("asked %+v", q)
	}
	if kind := w.Header().Get("Content-Type"); kind != "application/json" || !json.Valid(w.Body.Bytes()) {
		t.Errorf("served as %q", kind)
	}
}

// TestClick checks that a click means the place that the picture shows there: the square
// of half a degree fills the map but for a border of 4 %.
func TestClick(t *testing.T) {
	b := newBench(t, land{}, nil)
	tests := []struct {
		name, query string
		lat, lon    float64
	}{
		{"middle of the small map", "s.x=160&s.y=160", 0.25, 0.25},
		{"middle of the large map", "l.x=280&l.y=280", 0.25, 0.25},
		{"right edge of the square", "s.x=314&s.y=160", 0.25, 0.5},
		{"upper edge of the square", "s.x=160&s.y=6", 0.5, 0.25},
		{"around a point", "s.x=160&s.y=160&around=0.1,0.2", 0.1, 0.2},
		{"beside it", "s.x=320&s.y=160&around=0.1,0.2", 0.1, 0.2449},
	}
	const tol = 0.003 // degrees: a pixel of the small map is 0.0016; the square is not quite one on the plane
	for _, tt := range tests {
		w := b.get("/advice?lang=pt&" + tt.query)
		to, err := url.Parse(w.Header().Get("Location"))
		if err != nil || w.Code != http.StatusSeeOther || to.Path != "/advice" || to.Query().Get("lang") != "pt" {
			t.Fatalf("%s: %d to %v, %v", tt.name, w.Code, to, err)
		}
		lat, _ := strconv.ParseFloat(to.Query().Get("lat"), 64)
		lon, _ := strconv.ParseFloat(to.Query().Get("lon"), 64)
		if math.Abs(lat-tt.lat) > tol || math.Abs(lon-tt.lon) > tol {
			t.Errorf("%s: %v, %v; want %v, %v", tt.name, lat, lon, tt.lat, tt.lon)
		}
	}
}

func TestLanguageIsKept(t *testing.T) {
	b := newBench(t, land{}, nil)
	cookies := b.get("/?lang=pt").Result().Cookies()
	if len(cookies) != 1 || cookies[0].Value != "pt" || !cookies[0].HttpOnly || cookies[0].SameSite != http.SameSiteLaxMode {
		t.Errorf("cookies %v", cookies)
	}
	if set := b.get("/").Header().Get("Set-Cookie"); set != "" {
		t.Errorf("a language nobody asked for is kept: %q", set)
	}
}

func TestNothingKnown(t *testing.T) {
	b := newBench(t, land{empty: true}, geo.Fail(geo.NotFound, "x", geo.Say("problem.no-data"), nil))
	first := b.get("/").Body.String()
	if strings.Contains(first, `type="image"`) || !strings.Contains(first, "0 bores known") || !strings.Contains(first, "0 villages") {
		t.Errorf("the first page of an empty base:\n%s", first)
	}
	if w := b.get("/advice?at=0+0", "Accept", "text/html"); w.Code != 404 || !strings.Contains(w.Body.String(), "No bores are recorded yet") {
		t.Errorf("advice from an empty base: %d", w.Code)
	}
}

func TestTheLogKeepsQuestionsPrivate(t *testing.T) {
	b := newBench(t, land{}, nil)
	b.get("/advice?at=0.12345+0.2")
	if log := b.log.String(); strings.Contains(log, "0.12345") || !strings.Contains(log, "path=/advice") {
		t.Errorf("log: %s", log)
	}
}

func TestListenKeepsToThisComputer(t *testing.T) {
	for _, address := range []string{"127.0.0.1:0", "localhost:0"} {
		l, err := server.Listen(t.Context(), address)
		if err != nil {
			t.Fatalf("%s: %v", address, err)
		}
		l.Close()
	}
	for _, address := range []string{":8080", "0.0.0.0:0", "192.0.2.1:0", "example.com:80", "nonsense", ""} {
		if l, err := server.Listen(t.Context(), address); geo.KindOf(err) != geo.Invalid {
			t.Errorf("%q: %v, %v", address, l, err)
		}
	}
}

// slow holds its answer until it is let go.
type slow struct{ begun, letGo chan struct{} }

func (s slow) Advise(_ context.Context, q advisor.Question) (advisor.Advice, error) {
	close(s.begun)
	<-s.letGo
	return answerTo(q), nil
}

func TestServeLetsAnswersFinish(t *testing.T) {
	b := newBench(t, land{}, nil)
	c := b.Config
	held := slow{make(chan struct{}), make(chan struct{})}
	c.Advisor = held
	s, err := server.New(c)
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(t.Context())
	l, err := server.Listen(ctx, "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	served, answered := make(chan error, 1), make(chan string, 1)
	go func() { served <- s.Serve(ctx, l) }()
	go func() { answered <- fetch("http://" + l.Addr().String() + "/advice.json?at=0.1+0.2") }()
	<-held.begun
	stop()
	time.AfterFunc(50*time.Millisecond, func() { close(held.letGo) })
	if body := <-answered; !strings.Contains(body, advisor.Schema) {
		t.Errorf("the running answer was cut: %.100s", body)
	}
	if err := <-served; err != nil {
		t.Errorf("Serve ended with %v", err)
	}
}

func fetch(address string) string {
	r, err := http.Get(address)
	if err != nil {
		return err.Error()
	}
	defer r.Body.Close()
	body, _ := io.ReadAll(r.Body)
	return string(body)
}

func TestNewNeedsItsParts(t *testing.T) {
	if _, err := server.New(server.Config{}); err == nil {
		t.Error("a server without parts was made")
	}
}
