package server_test

import (
	"net/http"
	"net/http/httptest"
	"net/url"
	"regexp"
	"strings"
	"testing"
	"time"

	"waterstrike/geo"
	"waterstrike/geo/soil"

	"github.com/chromedp/chromedp"
)

const enteredID = "7c0f7c52-2f4b-4f6e-9c3e-1a2b3c4d5e6f"

// filled is a form as a crew may fill it in.
func filled() url.Values {
	return url.Values{
		"id": {enteredID}, "since": {"0"}, "code": {"K-7"}, "place": {"anse etoile"}, "at": {"0°06'N 0°12'E"},
		"method": {"auger"}, "outcome": {"producing"}, "completed": {"2020-03-05"}, "depth": {"12,5"}, "by": {"notebook 3"},
		"layer.0.base": {"4"}, "layer.0.class": {"clay"}, "layer.0.minutes": {"35"},
		"layer.1.base": {"12,5"}, "layer.1.class": {"sand"}, "layer.1.grade": {"coarse"}, "layer.1.clayey": {"on"},
		"layer.2.class": {""}, "layer.7.base": {" "}, // nothing was written in these
		"strike.0.depth": {"6"}, "level.0.state": {"rest"}, "level.0.depth": {"5.4"}, "level.0.on": {"2020-03-05"},
		"pipe.0.kind": {"screen"}, "pipe.0.top": {"9"}, "pipe.0.base": {"12"}, "fill.0.kind": {"grout"}, "fill.0.top": {"0"}, "fill.0.base": {"3"},
		"test.0.kind": {"constant-rate"}, "test.0.buckets": {"45"}, "test.0.litres": {"20"}, "test.0.minutes": {"60"}, "test.0.rest": {"5.4"}, "test.0.lowest": {"6.9"},
		"sample.0.analyte": {"arsenic"}, "sample.0.value": {"<5"}, "sample.0.unit": {"ppb"}, "sample.1.analyte": {"nitrate"}, "sample.1.value": {"12"},
		"sample.2.analyte": {"fluoride"}, "sample.2.waivedBy": {"A. Diallo"}, "sample.2.reason": {"none found in forty bores around"},
	}
}

// A form becomes the record that it says: numbers with a comma, layers one under another,
// a rate from buckets (45 of 20 L in an hour are 0.25 L/s), a result below its limit.
func TestEnterBore(t *testing.T) {
	b, base := newShelved(t)
	for range 2 { // sent twice
		if w := b.acts("/bores", filled()); w.Code != 303 || w.Header().Get("Location") != "/bores/"+enteredID+"?saved" {
			t.Fatalf("%d %s", w.Code, w.Body)
		}
	}
	got, err := base.Bore(t.Context(), enteredID)
	if err != nil {
		t.Fatal(err)
	}
	r, _ := got.Position.Get()
	if len(got.Layers) != 2 || got.Layers[1].TopM != 4 || got.Layers[1].BaseM != 12.5 || got.Layers[1].Grade != soil.Coarse || !got.Layers[1].Clayey || got.Layers[0].Confidence != 1 {
		t.Errorf("layers %+v", got.Layers)
	}
	if r.Pos.Lat != 0.1 || got.VillageID != "v1" || got.DepthM.Or(0) != 12.5 || got.Source.By != "notebook 3" {
		t.Errorf("%+v", got)
	}
	if test := got.Tests[0]; test.RateLPS.Or(0) != 0.25 || test.Hours.Or(0) != 1 || test.PumpingM.Or(0) != 6.9 {
		t.Errorf("test %+v", test)
	}
	if s := got.Samples; s[0].DetectionLimit.Or(0) != 5 || s[0].Value.Known() || s[0].Unit != "ug/L" || s[1].Unit != "mg/L" || s[1].Basis != "NO3" {
		t.Errorf("samples %+v", s)
	}
	if s := got.Samples[2]; s.WaivedBy != "A. Diallo" || s.Value.Known() || s.DetectionLimit.Known() {
		t.Errorf("waived %+v", s)
	}
	if history, err := base.History(t.Context(), enteredID); err != nil || len(history) != 1 {
		t.Errorf("%d entries, %v", len(history), err)
	}
}

// A result may be missing where somebody answers for that with a reason, and nobody answers
// for doing without a result that there is.
func TestEnterWaiver(t *testing.T) {
	b, _ := newShelved(t)
	for name, c := range map[string]struct{ cell, text, words string }{
		"nobody answers":    {"sample.2.waivedBy", "", "who answers for doing without"},
		"no reason":         {"sample.2.reason", "", "who answers for doing without"},
		"there is a result": {"sample.2.value", "1.2", "nobody can waive"},
	} {
		form := filled()
		form.Set(c.cell, c.text)
		if w := b.acts("/bores", form); w.Code != 400 || !strings.Contains(w.Body.String(), c.words) {
			t.Errorf("%s: %d, want 400 and %q", name, w.Code, c.words)
		}
	}
}

// Nothing is guessed where nothing was chosen.
func TestEnterNothing(t *testing.T) {
	b, base := newShelved(t)
	if w := b.acts("/bores", url.Values{"id": {enteredID}, "since": {"0"}, "layer.0.base": {"3"}}); w.Code != 303 {
		t.Fatalf("%d %s", w.Code, w.Body)
	}
	got, err := base.Bore(t.Context(), enteredID)
	if err != nil || got.Outcome != geo.OutcomeUnknown || got.Method != geo.MethodUnknown || got.Layers[0].Class != soil.Unknown || got.DepthM.Known() {
		t.Errorf("%+v, %v", got, err)
	}
}

// What the form does not ask of a bore stays as it was, also where rows above it went.
func TestCorrectBoreByForm(t *testing.T) {
	b, base := newShelved(t)
	old := drilled()
	old.ID, old.Cost = enteredID, geo.Some(geo.Money{Amount: 900, Currency: "XAF"})
	old.Layers[1].Confidence, old.Strikes[0].Words = 0.4, "strong"
	feet := 37.7
	old.Layers[1].BaseM = feet * 0.3048 // 11.490960000000001
	old.Tests[0].Readings = []geo.TestReading{{Minutes: 1, DepthM: 5.6}}
	got := b.mustSend(t, sent{Bore: old, At: "0.1 N 0.2 E"}, 201)
	page := b.get("/bores/"+enteredID+"/edit", html...).Body.String()
	fields := fieldsIn(page)
	for _, bad := range []string{"<script>alert", "<img src=x", "⟨"} {
		if at := strings.Index(page, bad); at >= 0 {
			t.Errorf("the page holds %.200s", page[at:])
		}
	}
	if fields.Get("layer.1.base") != "11.49096" || fields.Get("at") != "0.1 N 0.2 E" {
		t.Fatalf("the form: %v", fields)
	}
	fields.Set("layer.0.top", "")
	fields.Set("layer.0.base", "")
	fields.Set("layer.0.words", "")
	fields.Set("layer.0.minutes", "")
	fields.Set("layer.0.class", "")
	fields.Set("layer.1.top", "0")
	fields.Set("why", "one layer only")
	if w := b.acts("/bores", fields); w.Code != 303 {
		t.Fatalf("%d %s", w.Code, w.Body)
	}
	now, err := base.Bore(t.Context(), enteredID)
	if err != nil {
		t.Fatal(err)
	}
	if len(now.Layers) != 1 || now.Layers[0].Confidence != 0.4 || now.Layers[0].TopM != 0 || now.Layers[0].BaseM != old.Layers[1].BaseM || now.Strikes[0].Words != "strong" || len(now.Tests[0].Readings) != 1 || !now.Cost.Known() {
		t.Errorf("%+v", now)
	}
	if r, _ := now.Position.Get(); r.AsRead != "0.1 N 0.2 E" {
		t.Errorf("the position was read anew: %+v", r)
	}
	if w := b.acts("/bores", url.Values{"id": {enteredID}, "since": {"1"}, "code": {"other"}, "depth": {"9"}}); w.Code != 409 || !strings.Contains(w.Body.String(), `value="other"`) {
		t.Errorf("over a newer version: %d; what was written must stay in the form", w.Code)
	}
	if again, err := base.Bore(t.Context(), enteredID); err != nil || again.DepthM != now.DepthM || got.Seq == 0 {
		t.Error("a stale form was written")
	}
}

var (
	inputs     = regexp.MustCompile(`<input[^>]*? name="([^"]+)"[^>]*?>`)
	inputValue = regexp.MustCompile(` value="([^"]*)"`)
	selects    = regexp.MustCompile(`(?s)<select[^>]*? name="([^"]+)".*?</select>`)
	chosen     = regexp.MustCompile(`<option value="([^"]*)" selected`)
)

// fieldsIn reads the fields of a page as a browser would send them.
func fieldsIn(page string) url.Values {
	page = regexp.MustCompile(`(?s)<template>.*?</template>`).ReplaceAllString(page, "")
	out := url.Values{}
	for _, m := range inputs.FindAllStringSubmatch(page, -1) {
		if strings.Contains(m[0], `type="radio"`) || strings.Contains(m[0], `type="checkbox"`) && !strings.Contains(m[0], " checked") {
			continue
		}
		if v := inputValue.FindStringSubmatch(m[0]); v != nil {
			out.Set(m[1], strings.NewReplacer("&lt;", "<", "&gt;", ">", "&#34;", `"`, "&amp;", "&").Replace(v[1]))
		}
	}
	for _, m := range selects.FindAllStringSubmatch(page, -1) {
		if v := chosen.FindStringSubmatch(m[0]); v != nil {
			out.Set(m[1], v[1])
		}
	}
	return out
}

// A form with faults comes back with everything that was written in it, and names each.
func TestEntryFaults(t *testing.T) {
	b, base := newShelved(t)
	wrong := filled()
	for name, text := range map[string]string{
		"depth": "twelve", "completed": "5th of March", "layer.1.base": "", "sample.0.unit": "spoons", "test.0.litres": "", "at": "banana",
		"method": "magic", "code": strings.Repeat("x", 500), "pipe.0.kind": "", "remarks": "<script>alert(1)</script>",
	} {
		wrong.Set(name, text)
	}
	w := b.acts("/bores", wrong)
	page := w.Body.String()
	for _, want := range []string{
		"“twelve” is not a number", "“5th of March” is not a date", "To (m) is missing", "spoons", "buckets, litres in each and minutes", "“banana” is not a position",
		"“magic” is not one of the choices", "is too long", "Kind is missing", `value="K-7`, "&lt;script&gt;alert",
	} {
		if want != `value="K-7` && !strings.Contains(page, want) {
			t.Errorf("%q is not said", want)
		}
	}
	if w.Code != 400 || strings.Contains(page, "<script>alert") {
		t.Errorf("status %d", w.Code)
	}
	for name, body := range map[string]url.Values{"no id": {"since": {"0"}}, "no since": {"id": {enteredID}}, "id of another kind": {"id": {"7"}, "since": {"0"}}} {
		if w := b.acts("/bores", body); w.Code != 400 {
			t.Errorf("%s: %d", name, w.Code)
		}
	}
	if seq, err := base.Seq(t.Context()); seq != 0 || err != nil {
		t.Errorf("something was written: %d, %v", seq, err)
	}
}

// In the browser: a log is begun, the page is left and comes back with it; saved without a
// connection it waits, and arrives once when there is one again.
func TestEntryInABrowser(t *testing.T) {
	t.Parallel()
	b, base := newShelved(t)
	down := false
	served := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if down && r.Method == http.MethodPost {
			conn, _, err := http.NewResponseController(w).Hijack()
			if err == nil {
				conn.Close()
			}
			return
		}
		b.Handler().ServeHTTP(w, r)
	}))
	t.Cleanup(served.Close)
	ctx := browser(t)
	do(t, ctx, "phone", chromedp.EmulateViewport(360, 740))
	open := func() {
		t.Helper()
		do(t, ctx, "form", chromedp.Navigate(served.URL+"/bores/new?lang=en"), chromedp.WaitVisible("#f-code"))
	}
	open()
	visit{ctx: ctx, width: 360}.fits(t)
	do(t, ctx, "writing", chromedp.SendKeys("#f-code", "K-8"), chromedp.SendKeys(`[name="layer.0.base"]`, "4"))
	open() // the page is left and opened again
	if got := eval[string](t, ctx, `document.querySelector('[name="layer.0.base"]').value + document.querySelector("#f-code").value`); got != "4K-8" {
		t.Errorf("the draft came back as %q", got)
	}
	eval[bool](t, ctx, `(document.querySelector('entry-rows[data-list="layer"] [data-add]').click(), true)`)
	if got := eval[string](t, ctx, `document.querySelector('[name="layer.1.top"]').value`); got != "" && got != "4" {
		t.Errorf("the second layer begins at %q", got)
	}
	down = true
	eval[bool](t, ctx, `(document.querySelector("form.long").requestSubmit(), true)`)
	do(t, ctx, "no connection", chromedp.WaitVisible(".outbox"))
	waits := func() int64 {
		return eval[int64](t, ctx, `Object.keys(localStorage).filter((k) => k.startsWith("waterstrike sends")).length`)
	}
	until := time.Now().Add(20 * time.Second)
	for waits() != 1 && time.Now().Before(until) {
		time.Sleep(50 * time.Millisecond)
	}
	if n := waits(); n != 1 {
		t.Fatalf("%d logs wait to be sent, want 1", n)
	}
	down = false
	do(t, ctx, "another page", chromedp.Navigate(served.URL+"/?lang=en"), chromedp.WaitVisible("#at"))
	for waits() != 0 && time.Now().Before(until) {
		time.Sleep(50 * time.Millisecond)
	}
	var found []geo.Bore
	err := base.Bores(t.Context(), func(b geo.Bore) error { found = append(found, b); return nil })
	if err != nil || len(found) != 1 || found[0].Code != "K-8" || found[0].Layers[0].BaseM != 4 {
		t.Errorf("kept %+v, %v", found, err)
	}
}
