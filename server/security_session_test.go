package server_test

import (
	"fmt"
	"math/rand/v2"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"
	"time"

	"waterstrike/server"
	"waterstrike/server/account"
)

// TestSessionFixation plants a session before somebody signs in: an invented one, one that
// ended, and another person's own.
func TestSessionFixation(t *testing.T) {
	h := housed(t)
	h.joins(t, "Mallory", account.Reader)
	mallory := h.signedIn(t, "Mallory")
	ended := h.signedIn(t, "Mallory")
	token := ended.cookies["session"]
	ended.post("/sign-out", nil)
	for name, planted := range map[string]string{
		"invented": strings.Repeat("A", 43), "ended": token, "another's": mallory.cookies["session"], "odd": "../../etc/passwd",
	} {
		victim := h.browse()
		victim.cookies["session"] = planted
		goesTo(t, name, victim.post("/sign-in", url.Values{"name": {"Ana Keeper"}, "password": {goodPassword}}), "/")
		if victim.cookies["session"] == planted || len(victim.cookies["session"]) < 43 {
			t.Errorf("%s: the session of before goes on", name)
		}
		expect(t, name, victim.get("/people"), 200)
		attacker := h.browse()
		attacker.cookies["session"] = planted
		if w := attacker.get("/people"); w.Code == 200 {
			t.Errorf("%s: who planted the session is in: %d", name, w.Code)
		}
	}
	if got := h.browse().get("/sign-in").Header().Get("Set-Cookie"); strings.Contains(got, "session") {
		t.Errorf("a stranger gets a session: %q", got)
	}
}

// TestSessionsEnd: with signing out, when unused, and after their life.
func TestSessionsEnd(t *testing.T) {
	h := housed(t)
	b := h.signedIn(t, "Ana Keeper")
	stolen := h.browse()
	stolen.cookies["session"] = b.cookies["session"]
	expect(t, "a copied session", stolen.get("/me"), 200)
	w := b.post("/sign-out", nil)
	if got := w.Header().Get("Clear-Site-Data"); got != `"cache"` {
		t.Errorf("Clear-Site-Data is %q", got)
	}
	expect(t, "after signing out", stolen.get("/me"), 303)

	used, left := h.signedIn(t, "Ana Keeper"), h.signedIn(t, "Ana Keeper")
	for range 4 {
		*h.at = h.at.Add(2 * 24 * time.Hour)
		expect(t, "used", used.get("/me"), 200)
	}
	expect(t, "unused for eight days", left.get("/me"), 303)
	*h.at = h.at.Add(23 * 24 * time.Hour)
	expect(t, "after 31 days", used.get("/me"), 303)
}

func TestCookieFlags(t *testing.T) {
	for _, tt := range []struct {
		name   string
		tls    bool
		secure bool
	}{{"session", false, false}, {"__Host-session", true, true}} {
		h := housed(t, func(c *server.Config) {
			if tt.tls {
				c.Authority = vouching(t)
			}
		})
		w := h.browse().post("/sign-in?lang=fr", url.Values{"name": {"Ana Keeper"}, "password": {goodPassword}})
		var names []string
		for _, c := range w.Result().Cookies() {
			names = append(names, c.Name)
			if !c.HttpOnly || c.Secure != tt.secure || c.SameSite != http.SameSiteLaxMode || c.Path != "/" || c.Domain != "" || c.MaxAge <= 0 {
				t.Errorf("%s: %+v", tt.name, c)
			}
		}
		if slices.Sort(names); !slices.Contains(names, tt.name) {
			t.Errorf("cookies %v, want %s", names, tt.name)
		}
	}
}

func TestTooManyAttempts(t *testing.T) {
	h := housed(t)
	b := h.browse()
	sent := url.Values{"name": {"Ana Keeper"}, "password": {"wrong"}}
	for range 8 {
		expect(t, "wrong", b.post("/sign-in", sent, "X-Forwarded-For", "203.0.113."+fmt.Sprint(rand.IntN(200))), 401)
	}
	w := b.post("/sign-in", sent, "X-Forwarded-For", "203.0.113.250")
	expect(t, "too many", w, 429, "Try again in 1 minute")
	if w.Header().Get("Retry-After") != "60" {
		t.Errorf("Retry-After is %q", w.Header().Get("Retry-After"))
	}
}

// TestNobodyComesInWithoutTheBook: where the file of people cannot be read, nobody is taken
// for anybody, and what is wrong inside is logged and not told.
func TestNobodyComesInWithoutTheBook(t *testing.T) {
	h := housed(t)
	b := h.signedIn(t, "Ana Keeper")
	if err := h.people.Close(); err != nil {
		t.Fatal(err)
	}
	for _, target := range []string{"/", "/people", "/advice.json?at=0.1+0.2", "/sign-in", "/shared/none"} {
		w := b.get(target)
		if w.Code != 500 || strings.Contains(w.Body.String(), "Belle") || strings.Contains(w.Body.String(), "sql") {
			t.Errorf("%s: %d\n%.300s", target, w.Code, w.Body)
		}
		checkPolicy(t, target, w.Header())
	}
	expect(t, "sign in", h.browse().post("/sign-in", url.Values{"name": {"Ana Keeper"}, "password": {goodPassword}}), 500)
	expect(t, "static files", b.get("/static/css/base.css"), 200)
	if !strings.Contains(h.log.String(), "closed") {
		t.Error("what is wrong inside was not logged")
	}
}
