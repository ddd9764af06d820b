package server_test

import (
	"context"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"waterstrike/advisor"
	"waterstrike/advisor/coverage"
	"waterstrike/advisor/season"
	"waterstrike/server/sheet/sheettest"
)

// seasons plans and accounts over invented records; wait holds the work up until it is
// closed or stopped.
type seasons struct{ wait chan struct{} }

func (seasons) Standards() ([]coverage.Standard, error) { return sheettest.Standards(), nil }

func (s seasons) Choose(ctx context.Context, w season.Wishes, progress advisor.Progress) (*season.Season, error) {
	progress(3, 21)
	select {
	case <-s.wait:
	case <-ctx.Done():
		return nil, ctx.Err()
	}
	return sheettest.Season(ctx, w)
}

func (seasons) Account(ctx context.Context, q season.AccountAsk) (*season.Account, error) {
	return sheettest.Account(ctx, q)
}

// within asks until an answer holds some words, for at most ten seconds.
func (b bench) within(t *testing.T, target, words string) string {
	t.Helper()
	body := ""
	for range 500 {
		if body = b.get(target).Body.String(); strings.Contains(body, words) {
			return body
		}
		time.Sleep(20 * time.Millisecond)
	}
	t.Fatalf("%s: %q never came\n%.600s", target, words, body)
	return ""
}

// post sends a form as this site's own page does.
func (b bench) post(target, values string) *httptest.ResponseRecorder {
	r := httptest.NewRequest(http.MethodPost, target, strings.NewReader(values))
	r.Host = "127.0.0.1:8080"
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	r.Header.Set("Sec-Fetch-Site", "same-origin")
	w := httptest.NewRecorder()
	b.Handler().ServeHTTP(w, r)
	return w
}

const asked = "budget=1500&weeks=dry%3D6&on=2023-10-31&per-metre=50"

func TestChooseIsWorkedOut(t *testing.T) {
	b := newBench(t, land{}, nil)
	page := b.get("/choose?lang=en").Body.String()
	for _, want := range []string{`name="budget"`, `name="weeks"`, "sphere-2018", `method="get"`} {
		if !strings.Contains(page, want) {
			t.Errorf("the form lacks %q", want)
		}
	}
	first := b.within(t, "/choose?lang=en&"+asked, "3 of 21 spots")
	if !strings.Contains(first, `action="/choose/stop"`) || !strings.Contains(first, `http-equiv="refresh"`) {
		t.Error("the work cannot be stopped, or the page does not look again")
	}
	if w := b.get("/choose.json?" + asked); w.Code != http.StatusAccepted || w.Header().Get("Retry-After") == "" {
		t.Errorf("before the end: %d", w.Code)
	}
	close(b.seasons.wait)
	done := b.within(t, "/choose?lang=en&"+asked, "Where to drill")
	for _, want := range []string{"Anse Étoile", "/choose.csv?", "/choose.pdf?", "Why each village is in or out", "<details", "/advice?at=", "<svg"} {
		if !strings.Contains(done, want) {
			t.Errorf("the programme lacks %q", want)
		}
	}
	for _, bad := range []string{"⟨", "style=", "onclick"} {
		if strings.Contains(done, bad) {
			t.Errorf("the programme holds %q", bad)
		}
	}
	if w := b.get("/choose.json?" + asked); w.Code != http.StatusOK || !strings.Contains(w.Body.String(), season.Schema) {
		t.Errorf("data: %d", w.Code)
	}
	if w := b.get("/choose.pdf?lang=fr&" + asked); w.Code != http.StatusOK || !strings.HasPrefix(w.Body.String(), "%PDF-") {
		t.Errorf("paper: %d, %.60s", w.Code, w.Body)
	}
	if w := b.get("/choose.csv?" + asked); w.Code != http.StatusOK || !strings.HasPrefix(w.Body.String(), "village_id,") {
		t.Errorf("table: %d", w.Code)
	}
}

func TestChooseIsStopped(t *testing.T) {
	b := newBench(t, land{}, nil)
	b.within(t, "/choose?lang=en&"+asked, "3 of 21 spots")
	w := b.send(http.MethodPost, "/choose/stop?"+asked, "Sec-Fetch-Site", "same-origin")
	if w.Code != http.StatusBadRequest { // the wishes belong into the body
		t.Errorf("without a form: %d", w.Code)
	}
	if w := b.post("/choose/stop", asked); w.Code != http.StatusSeeOther {
		t.Errorf("stopped: %d", w.Code)
	}
	close(b.seasons.wait)
	b.within(t, "/choose?lang=en&"+asked, "Where to drill") // begun anew
}

func TestChooseTellsWhatIsWrong(t *testing.T) {
	b := newBench(t, land{}, nil)
	close(b.seasons.wait)
	for _, c := range []struct{ query, says string }{
		{"budget=0&weeks=4", "buys nothing"},
		{"budget=x&weeks=4", "is no number"},
		{"budget=9000&weeks=four", "no number of crew-weeks"},
		{"budget=9000&weeks=4&floors=West", "does not say what a district gets"},
		{"budget=9000&weeks=4&floors=West%3D99", "cannot get 99 villages"},
		{"budget=9000&weeks=4&must=Nowhere", "Nowhere"},
		{"budget=9000&weeks=4&standard=none", "no standard called none"},
		{"budget=9000&weeks=4&on=soon", "soon"},
	} {
		body := b.within(t, "/choose?lang=en&per-metre=50&"+c.query, `role="alert"`)
		if !strings.Contains(body, c.says) || !strings.Contains(body, `name="budget"`) {
			t.Errorf("%s: %q is missing", c.query, c.says)
		}
	}
}

func TestServedScenarios(t *testing.T) {
	b := newBench(t, land{}, nil)
	for _, s := range []scenario{
		{name: "page", target: "/served?lang=en&on=2023-10-31", headers: html, status: 200, holds: []string{
			"What was achieved up to 31 October 2023", "#records-1", `id="records-1"`, "First pump", "/served.pdf?", "<svg",
		}, lacks: []string{"⟨", "style=\"", "onclick"}},
		{name: "in Portuguese", target: "/served?lang=pt&on=2023-10-31", status: 200, holds: []string{`<html lang="pt">`, "Quem tem água"}, lacks: []string{"⟨"}},
		{name: "data", target: "/served.json?on=2023", status: 200, holds: []string{season.AccountSchema}},
		{name: "paper", target: "/served.pdf?on=2023-10-31&lang=fr", status: 200, holds: []string{"%PDF-"}},
		{name: "a page to keep", target: "/served.html?on=2023-10-31&lang=fr", status: 200, holds: []string{"<style>", "Qui a de l&#39;eau"}, lacks: []string{"<link"}},
		{name: "a day that is none", target: "/served?on=2023-13", headers: html, status: 400, holds: []string{`role="alert"`, "2023-13", `name="on" type="text" value="2023-13"`}},
		{name: "a day before the records", target: "/served?lang=en&on=1890", headers: html, status: 400, holds: []string{`role="alert"`, "before the first dated record", `name="standard"`}},
		{name: "no such standard", target: "/served.json?standard=x", status: 404, holds: []string{"season.unknown-standard"}},
	} {
		t.Run(s.name, func(t *testing.T) {
			w := b.send(http.MethodGet, s.target, s.headers...)
			if w.Code != s.status {
				t.Fatalf("status %d, want %d\n%.400s", w.Code, s.status, w.Body)
			}
			for _, want := range s.holds {
				if !strings.Contains(w.Body.String(), want) {
					t.Errorf("%q is missing", want)
				}
			}
			for _, bad := range s.lacks {
				if strings.Contains(w.Body.String(), bad) {
					t.Errorf("%q is there", bad)
				}
			}
		})
	}
}
