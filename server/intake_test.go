package server_test

import (
	"bytes"
	"context"
	"fmt"
	escaped "html"
	"io"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"net/url"
	"regexp"
	"strings"
	"testing"
	"time"

	"waterstrike/geo"
	"waterstrike/geo/arrival"
	"waterstrike/geo/intake"
	"waterstrike/geo/soil"
	"waterstrike/geo/store"
	"waterstrike/server"
	"waterstrike/server/account"
)

// taking lets files be handed in, over an empty base.
func taking(t testing.TB) func(*server.Config) {
	t.Helper()
	folder := store.Folder(t.TempDir())
	if err := folder.Make(); err != nil {
		t.Fatal(err)
	}
	base, err := store.Create(folder.Ground(), store.DefaultOptions())
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(context.Background())
	desk := arrival.New(ctx, arrival.Config{
		Folder: folder, Base: base, Now: func() time.Time { return time.Date(2021, 3, 9, 8, 5, 0, 0, time.UTC) },
		Known: func(context.Context) (intake.Known, error) { return intake.Known{Words: soil.DefaultReader()}, nil },
	})
	t.Cleanup(func() {
		stop()
		desk.Wait()
		if err := base.Close(); err != nil {
			t.Error(err)
		}
	})
	return func(c *server.Config) { c.Intake = desk }
}

// wells is a file of 20 bores, two of which hold something that cannot be read; nothing
// tells the unit of their depths.
func wells() string {
	rows := "no,longitude,latitude,depth,date completed,result\n1,0.1,0.2,12,2011-03-04,producing\n" +
		"2,0.2,<b>nowhere</b>,9,2011-03-05,dry\n3,0.3,0.2,twelve,2011-03-05,wet feet\n"
	for n := 4; n <= 20; n++ {
		rows += fmt.Sprintf("%d,0.%d,0.3,%d,2011-04-%02d,producing\n", n, n, 8+n, n)
	}
	return rows
}

// handsIn sends files, name and content in turn, as the page does.
func (b *browsing) handsIn(files ...string) *httptest.ResponseRecorder {
	var body bytes.Buffer
	w := multipart.NewWriter(&body)
	for ; len(files) > 0; files = files[2:] {
		part, _ := w.CreateFormFile("files", files[0])
		_, _ = io.WriteString(part, files[1])
	}
	_ = w.Close()
	return b.do(http.MethodPost, "/intake", body.String(), "Content-Type", w.FormDataContentType())
}

// rested is the page of an arrival once nothing is being done about it.
func (b *browsing) rested(t *testing.T, at string) string {
	t.Helper()
	for begun := time.Now(); time.Since(begun) < 20*time.Second; time.Sleep(2 * time.Millisecond) {
		w := b.get(at)
		if w.Code != http.StatusOK {
			t.Fatalf("%s: %d", at, w.Code)
		}
		if !strings.Contains(w.Body.String(), `http-equiv="refresh"`) {
			return escaped.UnescapeString(w.Body.String())
		}
	}
	t.Fatal("work does not end")
	return ""
}

// asProposed reads the fields of the form of a matching as a browser would send them.
func asProposed(page string) url.Values {
	out := url.Values{}
	for _, m := range regexp.MustCompile(`<input[^>]* name="((?:dataset|office|was|grid|datum)[^"]*)"[^>]* value="([^"]*)"`).FindAllStringSubmatch(page, -1) {
		out.Set(m[1], m[2])
	}
	for _, m := range regexp.MustCompile(`(?s)<select id="[^"]*" name="([^"]*)">(.*?)</select>`).FindAllStringSubmatch(page, -1) {
		if chosen := regexp.MustCompile(`value="([^"]*)" selected`).FindStringSubmatch(m[2]); chosen != nil {
			out.Set(m[1], chosen[1])
		}
	}
	return out
}

func holds(t *testing.T, what, page string, wants ...string) {
	t.Helper()
	for _, want := range wants {
		if !strings.Contains(page, want) {
			t.Errorf("%s lacks %q", what, want)
		}
	}
	for _, bad := range []string{"⟨", "style=", "onclick"} {
		if strings.Contains(page, bad) {
			t.Errorf("%s holds %q", what, bad)
		}
	}
}

// TestFilesBecomeRecords goes the whole way: handed in, matched by hand, read, looked at,
// applied, taken back.
func TestFilesBecomeRecords(t *testing.T) {
	h := housed(t, taking(t))
	h.joins(t, "Ben Planner", account.Planner)
	b := h.signedIn(t, "Ben Planner")
	holds(t, "the empty list", b.get("/intake").Body.String(), "Nothing was taken in yet", `type="file"`)
	w := b.handsIn(`C:\logs\wells.csv`, wells())
	at := w.Header().Get("Location")
	if w.Code != http.StatusSeeOther || !strings.HasPrefix(at, "/intake/") {
		t.Fatalf("handed in: %d, %q", w.Code, at)
	}
	page := b.rested(t, at)
	if raw := b.get(at).Body.String(); strings.Contains(raw, "<b>nowhere") || !strings.Contains(raw, "&lt;b&gt;nowhere") {
		t.Error("a cell is taken for markup")
	}
	holds(t, "the matching", page, "wells.csv", "Unit missing:", "longitude", "twelve", "1 of 3 words not known", "Ben Planner, 9 March 2021, 08:05")
	sent := asProposed(page)
	if sent.Get("means.0.3") != "depth" || sent.Get("kind.0") != "bores" || sent.Get("dataset") != "wells" {
		t.Fatalf("the form would send %v", sent)
	}
	sent.Set("do", "read")
	b.post(at+"/match", sent)
	holds(t, "without a unit", b.rested(t, at), "Nothing tells the unit of depth in wells.csv")
	sent.Set("written.0.3", "ft")
	sent.Set("value.0.5.2", "bad-water")
	sent.Set("office", "Well Office")
	b.post(at+"/match", sent)
	page = b.rested(t, at)
	holds(t, "the draft", page, "20 rows read", "20 bores.", "20 new, 0 changed", "What is wrong", "wells.csv, data row 2", "wells.csv, data row 3", "Apply: 20 new", "1 to 2 of 2")
	link := regexp.MustCompile(`href="(/intake/[0-9a-f]+\?issue=issue\.bad-position[^"#]*)`).FindStringSubmatch(page)
	if link == nil {
		t.Fatalf("no way to one kind of issue: %s", page)
	}
	holds(t, "one kind of issue", b.get(escaped.UnescapeString(link[1])).Body.String(), "1 to 1 of 1", "Show all again", "row 2")
	holds(t, "the matching again", b.get(at+"?show=matching").Body.String(), "Read the files", `value="ft" selected`, `value="bad-water" selected`)
	mapping := b.get(at + "/mapping.json")
	if m, err := intake.LoadMapping(mapping.Body); err != nil || m.By != "Well Office" || m.Tables[0].Fields["depth"].Unit != "ft" || m.Tables[0].Fields["outcome"].Values["wet feet"] != "bad-water" {
		t.Errorf("the mapping file: %+v, %v", m, err)
	}
	b.post(at+"/apply", nil)
	holds(t, "applied", b.rested(t, at), "Applied: 20 new", "can be taken back")
	if w := b.post(at+"/apply", nil); w.Code != http.StatusConflict {
		t.Errorf("applied twice: %d", w.Code)
	}
	page = b.rested(t, "/intake")
	holds(t, "the list", page, "wells", "20 new, 0 changed, 0 as they were", "Ben Planner", "Take it all back")
	back := regexp.MustCompile(`action="(/intake/imports/[^"]+/take-back)"`).FindStringSubmatch(page)
	if back == nil {
		t.Fatal("no way to take it back")
	}
	if w := b.post(back[1], nil); w.Code != http.StatusSeeOther {
		t.Errorf("taken back: %d", w.Code)
	}
	page = b.rested(t, "/intake")
	holds(t, "the list after", page, "Taken back: Ben Planner, ")
	if strings.Contains(page, "/take-back") {
		t.Error("it can be taken back twice")
	}
	page = b.rested(t, at)
	holds(t, "its own page after", page, "Taken back: Ben Planner, ", "hand the same files in once more", `href="/intake"`)
	if strings.Contains(page, "can be taken back") {
		t.Error("its own page says that it can be taken back still")
	}
	if w := b.post(back[1], nil); w.Code != http.StatusConflict {
		t.Errorf("taken back twice: %d", w.Code)
	}
}

// TestWhatCannotBeHandedIn tells what is wrong on the page, with the status that goes with
// it, and throws away what is not wanted.
func TestWhatCannotBeHandedIn(t *testing.T) {
	h := housed(t, taking(t))
	b := h.signedIn(t, "Ana Keeper")
	for _, c := range []struct {
		what   string
		w      *httptest.ResponseRecorder
		status int
		words  string
	}{
		{"nothing", b.handsIn(), http.StatusBadRequest, "No file was chosen"},
		{"an empty file", b.handsIn("a.csv", ""), http.StatusBadRequest, "a.csv is empty"},
		{"no form with files", b.post("/intake", url.Values{"files": {"a"}}), http.StatusBadRequest, "not a form of this program"},
		{"half a form", b.do(http.MethodPost, "/intake", "--x\r\nContent-Disposition: form-data; name=\"files\"; filename=\"a.csv\"\r\n\r\n1,2", "Content-Type", "multipart/form-data; boundary=x"), http.StatusBadRequest, "not a form of this program"},
	} {
		if c.w.Code != c.status || !strings.Contains(c.w.Body.String(), c.words) {
			t.Errorf("%s: %d", c.what, c.w.Code)
		}
	}
	if page := b.get("/intake").Body.String(); strings.Contains(page, "Not taken in yet") {
		t.Error("something of it was kept")
	}
	at := b.handsIn("a.xlsx", "no workbook").Header().Get("Location")
	holds(t, "no workbook", b.rested(t, at), "These files cannot be read", "Look at the files again", "Throw these files away")
	holds(t, "the list", b.get("/intake?lang=fr").Body.String(), "Pas encore reçus", "a.xlsx")
	if w := b.post(at+"/look", nil); w.Code != http.StatusSeeOther {
		t.Errorf("look again: %d", w.Code)
	}
	b.rested(t, at)
	if w := b.post(at+"/discard", nil); w.Code != http.StatusSeeOther {
		t.Errorf("thrown away: %d", w.Code)
	}
	for _, target := range []string{at, "/intake/..%2f..%2fx", "/intake/0123456789abcdef/mapping.json"} {
		if w := b.get(target); w.Code != http.StatusNotFound {
			t.Errorf("%s: %d", target, w.Code)
		}
	}
}

// Another kind of record has columns of other meanings: these are proposed anew.
func TestAnotherKind(t *testing.T) {
	h := housed(t, taking(t))
	b := h.signedIn(t, "Ana Keeper")
	at := b.handsIn("places.csv", "village,lon,lat,people\nA,0.1,0.2,300\nB,0.2,0.2,200\n").Header().Get("Location")
	sent := asProposed(b.rested(t, at))
	if sent.Get("kind.0") != "villages" {
		t.Fatalf("proposed as %v", sent)
	}
	sent.Set("kind.0", "bores")
	sent.Set("means.0.0", "nonsense")
	b.post(at+"/match", sent)
	if sent = asProposed(b.rested(t, at)); sent.Get("kind.0") != "bores" || sent.Get("means.0.0") != "place" {
		t.Errorf("as bores: %v", sent)
	}
	sent.Set("means.0.1", "")
	b.post(at+"/match", sent)
	if sent = asProposed(b.rested(t, at)); sent.Get("means.0.1") != "" {
		t.Errorf("a column left out by hand: %v", sent)
	}
	sent.Set("encoding.0", "cp850")
	b.post(at+"/match", sent)
	if sent = asProposed(b.rested(t, at)); sent.Get("means.0.1") != "lon" || sent.Get("encoding.0") != "cp850" {
		t.Errorf("read in another encoding: %v", sent)
	}
	sent.Set("kind.0", "")
	b.post(at+"/match", sent)
	if sent = asProposed(b.rested(t, at)); sent.Get("means.0.0") != "" || sent.Get("kind.0") != "" {
		t.Errorf("left out: %v", sent)
	}
	sent.Set("do", "read")
	b.post(at+"/match", sent)
	holds(t, "nothing to read", b.rested(t, at), "Every table is left out")
}

// TestOfferedInWords: whatever a person may choose is said in words of the three languages.
func TestOfferedInWords(t *testing.T) {
	b := newBench(t, land{}, nil)
	has := func(code string) {
		if !b.Catalogue.Has(code) {
			t.Errorf("the catalogue lacks %s", code)
		}
	}
	for _, kind := range intake.Kinds() {
		has("kind." + kind)
		for _, meant := range intake.Meanings(kind) {
			has("column." + meant)
		}
	}
	for _, unit := range append(intake.LengthUnits(), intake.RateUnits()...) {
		has("intake.unit." + strings.ReplaceAll(strings.ToLower(unit), "/", "-"))
	}
	for _, form := range intake.DateForms() {
		has("intake.dates." + form)
	}
	for _, step := range []arrival.Step{arrival.Received, arrival.Matched, arrival.Draft, arrival.Applied} {
		has("intake.step." + string(step))
	}
	for _, work := range []arrival.Work{arrival.Looking, arrival.Reading, arrival.Applying, arrival.Taking} {
		has("intake.work." + string(work))
	}
	for _, severity := range []geo.Severity{geo.Note, geo.Doubt, geo.Rejected} {
		has("severity." + string(severity))
	}
}
