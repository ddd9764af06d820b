package server_test

import (
	"bytes"
	"mime/multipart"
	"net/http"
	"net/url"
	"strings"
	"testing"

	"waterstrike/geo"
	"waterstrike/server"
)

// TestCrossSite sends what a page of another site can make a browser send: the headers are
// those of Fetch Metadata (W3C) and RFC 6454.
func TestCrossSite(t *testing.T) {
	h := housed(t)
	b := h.signedIn(t, "Ana Keeper")
	invite := url.Values{"name": {"Eve"}, "role": {"keeper"}}
	for name, headers := range map[string][]string{
		"cross-site": {"Sec-Fetch-Site", "cross-site"}, "same-site": {"Sec-Fetch-Site", "same-site"},
		"other origin": {"Origin", "http://evil.example"}, "no origin": {"Origin", "null"},
		"other port": {"Origin", "http://127.0.0.1:9090"},
	} {
		for _, target := range []string{"/people", "/sign-in", "/sign-out", "/join", "/shares", "/people/1/shut", "/none"} {
			w := b.post(target, invite, headers...)
			expect(t, name+" "+target, w, 403, "from another site")
			if w.Header().Get("Content-Security-Policy") == "" {
				t.Errorf("%s: no policy", name)
			}
		}
	}
	if _, err := h.people.Named(t.Context(), "Eve"); geo.KindOf(err) != geo.NotFound {
		t.Errorf("another site invited somebody: %v", err)
	}
	expect(t, "still signed in", b.get("/people", "Sec-Fetch-Site", "cross-site"), 200)
	expect(t, "own site", b.post("/people", invite, "Sec-Fetch-Site", "same-origin", "Origin", "http://127.0.0.1:8080"), 200)
}

// TestStoredScript puts markup where names and labels go, and reads every page with them.
func TestStoredScript(t *testing.T) {
	h := housed(t)
	b := h.signedIn(t, "Ana Keeper")
	nasty := `<script>alert(1)</script>"'><img src=x onerror=alert(2)>`
	for _, page := range []string{
		b.post("/people", url.Values{"name": {nasty}, "role": {"reader"}}).Body.String(),
		b.post("/shares", url.Values{"label": {nasty}, "days": {"7"}}).Body.String(),
		b.post("/people/2/code", nil).Body.String(),
		b.get("/people").Body.String(), b.get("/shares").Body.String(),
		h.browse().post("/sign-in", url.Values{"name": {nasty}, "password": {"x"}}).Body.String(),
		b.post("/people", url.Values{"name": {nasty}, "role": {nasty}}).Body.String(),
		h.browse().get("/sign-in?next=" + url.QueryEscape(`/"><script>alert(3)</script>`)).Body.String(),
	} {
		if !strings.Contains(page, "alert") {
			t.Errorf("the page does not show what was stored: %.200s", page)
		}
		for _, live := range []string{"<script>", "<img src=x", "onerror=alert(2)>\""} {
			if strings.Contains(page, live) {
				t.Errorf("markup is alive: %q", live)
			}
		}
	}
}

func TestTraversal(t *testing.T) {
	h := housed(t)
	b := h.signedIn(t, "Ana Keeper")
	for _, target := range []string{
		"/static/../accounts.db", "/static/%2e%2e/accounts.db", "/static/..%2f..%2faccounts.db", "/static/..%5caccounts.db",
		"/static//etc/passwd", "/static/%00", "/static/css/../../templates/page.html", "/shared/..%2f..%2faccounts.db", "/shared/%2e%2e/map.svg",
		"/people/..%2f1/shut", "/people/1%2f..%2f2/shut",
	} {
		for _, method := range []string{http.MethodGet, http.MethodPost} {
			w := b.do(method, target, "")
			if w.Code != 404 && w.Code != 405 || strings.Contains(w.Body.String(), "SQLite") || strings.Contains(w.Body.String(), "{{") {
				t.Errorf("%s %s: %d", method, target, w.Code)
			}
		}
	}
}

func TestOnwardStaysHere(t *testing.T) {
	for next, want := range map[string]string{
		"/trust?lang=fr": "/trust?lang=fr", "/advice?at=0.1+0.2": "/advice?at=0.1+0.2", "": "/", "trust": "/",
		"//evil.example": "/", "///evil.example": "/", "/\\evil.example": "/", "\\\\evil.example": "/", "https://evil.example/": "/",
		"/\t/evil.example": "/", "/\r\nSet-Cookie: a=b": "/", "javascript:alert(1)": "/", "/%zz": "/", "/sign-in?next=/sign-in": "/",
		"http:/evil.example": "/", "/@evil.example": "/@evil.example",
	} {
		if got := server.Onward(next); got != want {
			t.Errorf("%q goes on to %q, want %q", next, got, want)
		}
	}
}

// TestBodies sends what is no form, or too much of one.
func TestBodies(t *testing.T) {
	h := housed(t)
	b := h.signedIn(t, "Ana Keeper")
	var parts bytes.Buffer
	form := multipart.NewWriter(&parts)
	form.WriteField("name", "Eve")
	form.Close()
	huge := "name=" + strings.Repeat("a", 1<<20)
	for _, tt := range []struct {
		name, kind, body string
		status           int
	}{
		{"json", "application/json", `{"name":"Eve","role":"keeper"}`, 400},
		{"parts", form.FormDataContentType(), parts.String(), 400},
		{"no type", "", "name=Eve&role=keeper", 400},
		{"broken type", "text/;;", "name=Eve&role=keeper", 400},
		{"half a sign", "application/x-www-form-urlencoded", "name=%zz&role=keeper", 400},
		{"semicolons", "application/x-www-form-urlencoded", "name=Eve;role=keeper", 400},
		{"too much", "application/x-www-form-urlencoded", huge, 413},
		{"many fields", "application/x-www-form-urlencoded", strings.Repeat("a=b&", 8000), 413},
		{"nothing", "application/x-www-form-urlencoded", "", 400},
		{"zero bytes", "application/x-www-form-urlencoded", "name=E%00ve&role=keeper", 400},
		{"no UTF-8", "application/x-www-form-urlencoded", "name=%ff%fe&role=keeper", 400},
		{"in the address", "application/x-www-form-urlencoded", "", 400},
	} {
		target := "/people"
		if tt.name == "in the address" {
			target = "/people?name=Eve&role=keeper"
		}
		expect(t, tt.name, b.do(http.MethodPost, target, tt.body, "Content-Type", tt.kind), tt.status)
	}
	for _, target := range []string{"/sign-in", "/begin", "/join"} {
		expect(t, target, h.browse().do(http.MethodPost, target, huge), 413)
	}
	if all, err := h.people.People(t.Context()); err != nil || len(all) != 1 {
		t.Errorf("somebody was invited: %+v, %v", all, err)
	}
}
