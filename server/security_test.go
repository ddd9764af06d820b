package server_test

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"io"
	"math/rand/v2"
	"mime/multipart"
	"net"
	"net/http"
	"net/url"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"waterstrike/geo"
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

// TestPolicyOnEveryResponse asks every route as a stranger and as the keeper, well and
// badly, and looks at the headers.
func TestPolicyOnEveryResponse(t *testing.T) {
	h := housed(t)
	keeper := h.signedIn(t, "Ana Keeper")
	targets := []string{"/none", "/advice?at=x", "/map.svg?px=1", "/static/none", "/advice?at=" + strings.Repeat("1", 3000)}
	for _, r := range readRights(t) {
		targets = append(targets, r.target)
	}
	for _, b := range []*browsing{h.browse(), keeper} {
		for _, target := range targets {
			for _, method := range []string{http.MethodGet, http.MethodHead, http.MethodPost, http.MethodPut} {
				w := b.do(method, target, "", "Content-Type", "text/plain")
				checkPolicy(t, method+" "+target, w.Header())
			}
		}
	}
	checkPolicy(t, "foreign host", keeper.get("/", "Host", "evil.example").Header())
	for _, target := range []string{"/sign-in", "/people", "/shares", "/me", "/join"} {
		if got := keeper.get(target).Header().Get("Cache-Control"); !strings.Contains(got, "no-") || strings.Contains(got, "public") {
			t.Errorf("%s may be kept: %q", target, got)
		}
	}
}

func checkPolicy(t *testing.T, what string, header http.Header) {
	t.Helper()
	policy := header.Get("Content-Security-Policy")
	for _, part := range []string{"default-src 'self'", "object-src 'none'", "base-uri 'none'", "form-action 'self'", "frame-ancestors 'none'"} {
		if !strings.Contains(policy, part) {
			t.Errorf("%s: the policy lacks %s: %q", what, part, policy)
		}
	}
	if strings.Contains(policy, "unsafe") || strings.Contains(policy, "*") || strings.Contains(policy, "http") {
		t.Errorf("%s: the policy is open: %q", what, policy)
	}
	if header.Get("X-Content-Type-Options") != "nosniff" || header.Get("Referrer-Policy") != "no-referrer" || header.Get("X-Frame-Options") != "DENY" {
		t.Errorf("%s: headers %v", what, header)
	}
}

// TestGuessedLinks: links that are not there, have ended or are almost right are answered
// alike, byte for byte but for their own address.
func TestGuessedLinks(t *testing.T) {
	h := housed(t)
	b := h.signedIn(t, "Ana Keeper")
	link := h.share(t, b, url.Values{"days": {"1"}, "label": {"donor"}})
	withdrawn := h.share(t, b, url.Values{"days": {"9"}, "label": {"press"}})
	b.post("/shares/2/withdraw", nil)
	last := map[byte]string{'A': "B"}[link[len(link)-1]]
	if last == "" {
		last = "A"
	}
	guesses := []string{withdrawn, link[:len(link)-1], link[:len(link)-1] + last, link + "A", "/shared/1", "/shared/" + strings.Repeat("A", 43), "/shared/'%20OR%201=1"}
	own := regexp.MustCompile(`href="/shared/[^"]*"`) // the page in another language
	body := func(target string) string {
		return own.ReplaceAllString(h.browse().get(target).Body.String(), "")
	}
	want := body("/shared/none")
	for _, guess := range guesses {
		expect(t, guess, h.browse().get(guess), 404)
		if body(guess) != want {
			t.Errorf("%s is answered otherwise", guess)
		}
		expect(t, guess+" map", h.browse().get(guess+"/map.svg"), 404)
	}
	expect(t, "the link", h.browse().get(link), 200)
}

// TestStrangersAreNotToldWhoIsHere compares the answers to names that are somebody's and
// nobody's: the same bytes but for the name, and the same time.
func TestStrangersAreNotToldWhoIsHere(t *testing.T) {
	h := housed(t)
	h.joins(t, "Closed", account.Reader)
	if err := h.people.Shut(t.Context(), geo.Some(h.keeper.ID), 2); err != nil {
		t.Fatal(err)
	}
	if _, _, err := h.people.Invite(t.Context(), geo.Some(h.keeper.ID), "Invited", account.Reader); err != nil {
		t.Fatal(err)
	}
	names := []string{"Ana Keeper", "Nobody Here", "Closed", "Invited"}
	const rounds = 61
	took := make([][]time.Duration, len(names))
	random, want := rand.New(rand.NewPCG(1, 2)), ""
	for range rounds {
		for _, i := range random.Perm(len(names)) {
			*h.at = h.at.Add(time.Hour) // so that nobody is slowed down
			b, begun := h.browse(), time.Now()
			w := b.post("/sign-in", url.Values{"name": {names[i]}, "password": {"not the password"}})
			took[i] = append(took[i], time.Since(begun))
			body := strings.ReplaceAll(w.Body.String(), names[i], "NAME")
			if want == "" {
				want = body
			}
			if w.Code != 401 || body != want {
				t.Fatalf("%s: %d, or another page", names[i], w.Code)
			}
		}
	}
	middle := func(d []time.Duration) time.Duration { slices.Sort(d); return d[len(d)/2] }
	first := middle(took[0])
	for i, name := range names {
		m := middle(took[i])
		t.Logf("%-12s %v", name, m)
		// Rough, since the password is cheap here: server/account times it closely.
		if m > 2*first || first > 2*m {
			t.Errorf("%s takes %v, somebody's name %v", name, m, first)
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

func TestWhoMayReadAlong(t *testing.T) {
	all, err := net.Listen("tcp", "0.0.0.0:0")
	if err != nil {
		t.Fatal(err)
	}
	defer all.Close()
	for name, s := range map[string]*server.Server{
		"nobody signs in":       newBench(t, land{}, nil).Server,
		"nobody, but encrypted": withTLS(t),
		"in clear":              housed(t).Server,
	} {
		if err := s.Serve(t.Context(), all); geo.KindOf(err) != geo.Invalid {
			t.Errorf("%s: served beyond this computer: %v", name, err)
		}
	}
}

func withTLS(t *testing.T) *server.Server {
	t.Helper()
	c := newBench(t, land{}, nil).Config
	c.Authority = vouching(t)
	s, err := server.New(c)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// TestSlowClientsWhileOthersAsk: who sends half a header, or half a body, is cut off; who
// asks meanwhile is answered.
func TestSlowClientsWhileOthersAsk(t *testing.T) {
	h := housed(t)
	const step = 300 * time.Millisecond
	h.Hurry(step)
	ctx, stop := context.WithCancel(t.Context())
	l, err := server.Listen(ctx, "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	served := make(chan error, 1)
	go func() { served <- h.Serve(ctx, l) }()
	address := l.Addr().String()
	halves := []string{
		"GET / HTTP/1.1\r\nHost: " + address + "\r\nX-Slow: ",
		"POST /sign-in HTTP/1.1\r\nHost: " + address + "\r\nContent-Type: application/x-www-form-urlencoded\r\nContent-Length: 1000\r\n\r\nname=",
		"",
	}
	begun := time.Now()
	for _, half := range halves {
		conn, err := net.Dial("tcp", address)
		if err != nil {
			t.Fatal(err)
		}
		defer conn.Close()
		io.WriteString(conn, half)
		conn.SetReadDeadline(time.Now().Add(10 * time.Second))
		if body := fetch("http://" + address + "/health"); !strings.Contains(body, "ok") {
			t.Errorf("others wait: %s", body)
		}
		if rest, err := io.ReadAll(bufio.NewReader(conn)); err != nil || strings.Contains(string(rest), "200 OK") {
			t.Errorf("after %q: %.80q, %v", half, rest, err)
		}
	}
	if took := time.Since(begun); took > 20*step {
		t.Errorf("slow clients held their connections for %v", took)
	}
	stop()
	if err := <-served; err != nil {
		t.Error(err)
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
