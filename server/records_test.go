package server_test

import (
	"context"
	"encoding/json"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"

	"waterstrike/advisor/welldesign"
	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/soil"
	"waterstrike/geo/store"
	"waterstrike/server"
	"waterstrike/server/sheet"
)

// shelf is an empty knowledge base.
func shelf(t testing.TB) *store.Base {
	t.Helper()
	path := filepath.Join(t.TempDir(), "ground.gpkg")
	file, err := vacantBase()
	if err == nil {
		err = os.WriteFile(path, file, 0o644)
	}
	if err != nil {
		t.Fatal(err)
	}
	base, err := store.Open(path, store.DefaultOptions())
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { base.Close() })
	return base
}

// vacantBase is the file of a base without records, made once for all tests.
var vacantBase = sync.OnceValues(func() ([]byte, error) {
	dir, err := os.MkdirTemp("", "waterstrike-base-")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir)
	path := filepath.Join(dir, "ground.gpkg")
	base, err := store.Create(path, store.DefaultOptions())
	if err != nil {
		return nil, err
	}
	if err := base.Close(); err != nil {
		return nil, err
	}
	return os.ReadFile(path)
})

// rulebook finds the same in every well.
type rulebook struct{}

func (rulebook) Review(b geo.Bore) []geo.Issue {
	return []geo.Issue{{Severity: geo.Doubt, Message: geo.Say("asbuilt.no-seal", geo.With("to", geo.Metres(3)))}}
}

func (rulebook) Methods() []geo.Method {
	return []geo.Method{"auger", "percussion", "jetting", geo.MethodMachine, geo.MethodUnknown} // the first of testdata/livehole among them
}

func (rulebook) Apart() []welldesign.Distance {
	return []welldesign.Distance{{From: "apart.latrine", M: 30}, {From: "apart.graves", M: 50}}
}

func (rulebook) Visits(context.Context, coord.LonLat) ([]sheet.Visit, error) { return nil, nil }

// newShelved is a server over a base of its own, where nobody signs in.
func newShelved(t testing.TB) (bench, *store.Base) {
	t.Helper()
	b, base := newBench(t, land{}, nil), shelf(t)
	c := b.Config
	c.Records, c.Trade = base, rulebook{}
	var err error
	if b.Server, err = server.New(c); err != nil {
		t.Fatal(err)
	}
	return b, base
}

const drilledID = "3f6b1c9e-7d2a-4c58-9b41-5a0e8d7c2f10"

// drilled is a finished bore with something of everything; names and words try to be more
// than words.
func drilled() geo.Bore {
	on := func(day int) geo.Opt[geo.Date] { return geo.Some(geo.Date{Year: 2020, Month: 3, Day: day}) }
	return geo.Bore{
		ID: drilledID, Code: `AV<script>alert(1)</script>`, Place: `"><img src=x onerror=alert(2)>`, Method: "auger", Outcome: geo.Producing,
		Completed: on(5), DepthM: geo.Some(13.0), Remarks: "<b>second hole</b>",
		Layers: []geo.Layer{
			{TopM: 0, BaseM: 4, Class: soil.Clay, Words: "<i>red clay</i>", MinutesPerM: geo.Some(35.0)},
			{TopM: 4, BaseM: 13, Class: soil.Sand, Grade: soil.Coarse, MinutesPerM: geo.Some(22.0)},
		},
		Strikes: []geo.Strike{{DepthM: 6}},
		Levels:  []geo.Level{{State: geo.LevelRest, DepthM: geo.Some(5.4), On: on(5)}},
		Pipes:   []geo.Pipe{{Kind: geo.Casing, TopM: 0, BaseM: 9.5}, {Kind: geo.Screen, TopM: 9.5, BaseM: 12.5, DiameterMM: geo.Some(110.0)}},
		Fills:   []geo.Fill{{Kind: geo.Pack, TopM: 8, BaseM: 13}},
		Tests:   []geo.PumpTest{{Kind: geo.ConstantRate, RateLPS: geo.Some(0.35), Hours: geo.Some(2.0), RestM: geo.Some(5.4), PumpingM: geo.Some(6.9)}},
		Samples: []geo.Sample{{Analyte: "e-coli", Unit: "CFU/100mL", Value: geo.Some(3.0)}, {Analyte: "nitrate", Basis: "NO3", Unit: "mg/L", Value: geo.Some(12.0)}},
		Source:  geo.Provenance{By: "<u>crew</u>"},
	}
}

// sends posts a bore as a program does.
func (b bench) sends(t testing.TB, target string, body any) *httptest.ResponseRecorder {
	t.Helper()
	text, ok := body.(string)
	if !ok {
		data, err := json.Marshal(body)
		if err != nil {
			t.Fatal(err)
		}
		text = string(data)
	}
	r := httptest.NewRequest(http.MethodPost, target, strings.NewReader(text))
	r.Host = "127.0.0.1:8080"
	r.Header.Set("Content-Type", "application/json")
	r.Header.Set("Accept", "application/json")
	w := httptest.NewRecorder()
	b.Handler().ServeHTTP(w, r)
	return w
}

type sent struct {
	Bore  geo.Bore `json:"bore"`
	At    string   `json:"at,omitempty"`
	Since int64    `json:"since"`
	Why   string   `json:"why,omitempty"`
}

type answered struct {
	Seq    int64
	Again  bool
	Issues []struct{ Code, Words string }
}

func (b bench) mustSend(t testing.TB, body sent, status int) answered {
	t.Helper()
	w := b.sends(t, "/bores", body)
	var got answered
	if w.Code != status || status < 300 && json.Unmarshal(w.Body.Bytes(), &got) != nil {
		t.Fatalf("status %d, want %d: %s", w.Code, status, w.Body)
	}
	return got
}

// A log that is sent until it is answered is kept once; what others did meanwhile stands.
func TestSendBore(t *testing.T) {
	b, base := newShelved(t)
	first := sent{Bore: drilled(), At: "0.1N 0.2E"}
	got := b.mustSend(t, first, 201)
	if got.Again || got.Seq == 0 || len(got.Issues) == 0 {
		t.Errorf("first: %+v", got)
	}
	if again := b.mustSend(t, first, 200); !again.Again || again.Seq != got.Seq {
		t.Errorf("again: %+v", again)
	}
	kept, err := base.Bore(t.Context(), drilledID)
	if err != nil {
		t.Fatal(err)
	}
	if r, _ := kept.Position.Get(); r.Pos.Lat != 0.1 || r.AsRead != "0.1N 0.2E" || kept.Layers[0].Confidence != 1 {
		t.Errorf("kept %+v", kept)
	}
	next := sent{Bore: kept, Since: got.Seq, Why: "tape read again"}
	next.Bore.DepthM = geo.Some(13.5)
	second := b.mustSend(t, next, 200)
	if second.Again || second.Seq <= got.Seq {
		t.Errorf("correction: %+v", second)
	}
	late := sent{Bore: kept, Since: got.Seq}
	late.Bore.DepthM = geo.Some(12.0)
	b.mustSend(t, late, 409)
	b.mustSend(t, first, 200) // the very first, come again after all that
	if kept, err = base.Bore(t.Context(), drilledID); err != nil || kept.DepthM.Or(0) != 13.5 {
		t.Errorf("depth %v, %v: others' work was lost", kept.DepthM, err)
	}
}

// What no sender may say is set here: nobody claims that his log came with an import.
func TestSendBoreSource(t *testing.T) {
	b, base := newShelved(t)
	forged := drilled()
	forged.Source = geo.Provenance{Batch: "b", File: "f.csv", Row: 7, By: "crew", Licence: "any"}
	b.mustSend(t, sent{Bore: forged}, 201)
	kept, err := base.Bore(t.Context(), drilledID)
	if err != nil || kept.Source.By != "crew" || kept.Source.Batch+kept.Source.File+kept.Source.Licence != "" || kept.Source.Row != 0 {
		t.Errorf("%+v, %v", kept.Source, err)
	}
}

func TestSendBoreRefused(t *testing.T) {
	b, base := newShelved(t)
	upside := drilled()
	upside.Layers[1].BaseM = 1
	for _, c := range []struct {
		name   string
		body   any
		status int
		holds  string
	}{
		{"not JSON", "bore", 400, "cannot be kept"},
		{"cut off", `{"bore":{"id":"` + drilledID, 400, "cannot be kept"},
		{"two records", `{"bore":{"id":"` + drilledID + `"}} {}`, 400, "follows the record"},
		{"a field nobody knows", `{"bore":{"id":"` + drilledID + `","colour":"red"}}`, 400, "colour"},
		{"a number in words", `{"bore":{"id":"` + drilledID + `","depthM":"twelve"}}`, 400, "cannot be kept"},
		{"no id", `{"bore":{}}`, 400, "UUID"},
		{"upside down", sent{Bore: upside}, 400, "layer 2"},
		{"nowhere", sent{Bore: drilled(), At: "banana"}, 400, "not a position"},
		{"too large", `{"bore":{"remarks":"` + strings.Repeat("x", 600<<10) + `"}}`, 413, "too large"},
		{"a long reason", sent{Bore: drilled(), Why: strings.Repeat("x", 201)}, 400, "too long"},
	} {
		w := b.sends(t, "/bores", c.body)
		if w.Code != c.status || !strings.Contains(w.Body.String(), c.holds) || w.Header().Get("Content-Type") != "application/problem+json" {
			t.Errorf("%s: %d %s", c.name, w.Code, w.Body)
		}
	}
	if seq, err := base.Seq(t.Context()); seq != 0 || err != nil {
		t.Errorf("something was written: %d, %v", seq, err)
	}
}

// Checking keeps nothing.
func TestCheckBore(t *testing.T) {
	b, base := newShelved(t)
	early := drilled()
	early.DepthM = geo.Some(15.5)
	w := b.sends(t, "/bores/check", sent{Bore: early})
	if w.Code != 200 || !strings.Contains(w.Body.String(), "issue.layers-end-early") || !strings.Contains(w.Body.String(), "asbuilt.no-seal") {
		t.Errorf("%d %s", w.Code, w.Body)
	}
	if seq, err := base.Seq(t.Context()); seq != 0 || err != nil {
		t.Errorf("checking wrote: %d, %v", seq, err)
	}
}

func (b bench) acts(target string, fields url.Values) *httptest.ResponseRecorder {
	r := httptest.NewRequest(http.MethodPost, target, strings.NewReader(fields.Encode()))
	r.Host = "127.0.0.1:8080"
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	r.Header.Set("Accept", "text/html")
	w := httptest.NewRecorder()
	b.Handler().ServeHTTP(w, r)
	return w
}

// plain is a page with spaces that break.
func plain(w *httptest.ResponseRecorder) string {
	return strings.ReplaceAll(w.Body.String(), "\u00a0", " ")
}

func TestRecordPage(t *testing.T) {
	b, _ := newShelved(t)
	b.mustSend(t, sent{Bore: drilled(), At: "0.1N 0.2E"}, 201)
	w := b.get("/bores/"+drilledID, html...)
	page := plain(w)
	for _, want := range []string{
		"AV&lt;script&gt;", "13.0 m", "5.4 m", "3 CFU/100 mL", "✗ above", "≤ 50 mg/L NO3", "✓ within", "class=\"paper wide\"", "class=\"paper slim\"",
		"coarse sand", "lowered by 1.5 m", "&lt;u&gt;crew", "somebody at this computer", "/advice?lat=0.1",
	} {
		if !strings.Contains(page, want) {
			t.Errorf("the page lacks %q", want)
		}
	}
	for _, bad := range []string{"<script>alert", "<img src=x", "<b>second", "<i>red", "<u>crew", "⟨", "style="} {
		if strings.Contains(page, bad) {
			t.Errorf("the page holds %q", bad)
		}
	}
	if w := b.get("/bores/"+drilledID+"?lang=fr", html...); !strings.Contains(w.Body.String(), "productif") || strings.Contains(w.Body.String(), "⟨") {
		t.Error("not in French")
	}
	for _, none := range []string{"/bores/00000000-0000-4000-8000-000000000009", "/bores/7", "/bores/%3Cscript%3E"} {
		if w := b.get(none, html...); w.Code != 404 || strings.Contains(w.Body.String(), "<script>") {
			t.Errorf("%s: %d", none, w.Code)
		}
	}
}

// A change is taken back, the bore hidden and brought back; the page tells each.
func TestRecordHistory(t *testing.T) {
	b, base := newShelved(t)
	got := b.mustSend(t, sent{Bore: drilled()}, 201)
	next := drilled()
	next.DepthM = geo.Some(15.5)
	changed := b.mustSend(t, sent{Bore: next, Since: got.Seq, Why: "tape"}, 200)
	page := plain(b.get("/bores/"+drilledID, html...))
	if !strings.Contains(page, "13.0 m → 15.5 m") || !strings.Contains(page, "tape") {
		t.Error("the change is not told")
	}
	for _, wrong := range []string{"", "x", "1"} { // the first change brought it in: hide it instead
		if w := b.acts("/bores/"+drilledID+"/undo", url.Values{"seq": {wrong}}); w.Code != 400 {
			t.Errorf("undoing %q: %d", wrong, w.Code)
		}
	}
	undo := url.Values{"seq": {strconv.FormatInt(changed.Seq, 10)}}
	if w := b.acts("/bores/"+drilledID+"/undo", undo); w.Code != 303 {
		t.Fatalf("undo: %d %s", w.Code, w.Body)
	}
	if kept, err := base.Bore(t.Context(), drilledID); err != nil || kept.DepthM.Or(0) != 13 {
		t.Errorf("%v, %v", kept.DepthM, err)
	}
	if w := b.acts("/bores/"+drilledID+"/undo", undo); w.Code != 409 {
		t.Errorf("undone twice: %d", w.Code)
	}
	if w := b.acts("/bores/"+drilledID+"/hide", url.Values{"reason": {"entered twice"}}); w.Code != 303 {
		t.Fatalf("hide: %d", w.Code)
	}
	page = plain(b.get("/bores/"+drilledID, html...))
	if !strings.Contains(page, "is hidden") || !strings.Contains(page, "entered twice") || !strings.Contains(page, "Bring it back") {
		t.Errorf("hidden, the page says\n%s", page)
	}
	if w := b.acts("/bores/"+drilledID+"/restore", url.Values{}); w.Code != 303 {
		t.Fatalf("restore: %d", w.Code)
	}
	if _, err := base.Bore(t.Context(), drilledID); err != nil {
		t.Error(err)
	}
}
