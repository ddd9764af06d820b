package server_test

import (
	"net/http"
	"net/http/httptest"
	"net/url"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"waterstrike/geo"
	"waterstrike/server"
	"waterstrike/server/account"
	"waterstrike/server/authority"
)

// cheap makes tests quick; what a password costs in earnest is server/account's to test.
var cheap = account.Cost{MemoryKiB: 64, Passes: 1, Lanes: 1}

const goodPassword = "three dry months"

// house is a server with a keeper.
type house struct {
	bench
	people *account.Book
	keeper account.Person
	at     *time.Time // the clock
}

// vacant is a server where nobody can sign in yet.
func vacant(t testing.TB, change ...func(*server.Config)) house {
	t.Helper()
	at := time.Now().Truncate(time.Second)
	h := house{at: &at}
	now := func() time.Time { return *h.at }
	var err error
	h.people, err = account.Open(t.Context(), filepath.Join(t.TempDir(), "accounts.db"), account.Options{Now: now, Cost: cheap})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { h.people.Close() })
	h.bench = newBench(t, land{}, nil)
	c := h.Config
	c.People, c.Now = h.people, now
	c.Records, c.Trade = shelf(t), rulebook{}
	for _, f := range change {
		f(&c)
	}
	if h.Server, err = server.New(c); err != nil {
		t.Fatal(err)
	}
	return h
}

// housed is a server with a keeper who has not come in yet.
func housed(t testing.TB, change ...func(*server.Config)) house {
	t.Helper()
	h := vacant(t, change...)
	code, err := h.people.FirstCode(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if h.keeper, err = h.people.Begin(t.Context(), code, "Ana Keeper", goodPassword, "here"); err != nil {
		t.Fatal(err)
	}
	return h
}

// joins makes a person with a password.
func (h house) joins(t testing.TB, name string, role account.Role) account.Person {
	t.Helper()
	_, code, err := h.people.Invite(t.Context(), geo.Some(h.keeper.ID), name, role)
	if err != nil {
		t.Fatal(err)
	}
	p, err := h.people.Redeem(t.Context(), code, goodPassword, "here")
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// browsing is a browser that keeps cookies.
type browsing struct {
	house
	cookies map[string]string
}

func (h house) browse() *browsing { return &browsing{house: h, cookies: map[string]string{}} }

// signedIn is the browser of a person.
func (h house) signedIn(t testing.TB, name string) *browsing {
	t.Helper()
	b := h.browse()
	if w := b.post("/sign-in", url.Values{"name": {name}, "password": {goodPassword}}); w.Code != http.StatusSeeOther {
		t.Fatalf("%s cannot sign in: %d", name, w.Code)
	}
	return b
}

func (b *browsing) do(method, target string, body string, headers ...string) *httptest.ResponseRecorder {
	r := httptest.NewRequest(method, target, strings.NewReader(body))
	r.Host = "127.0.0.1:8080"
	if method == http.MethodPost {
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	}
	r.Header.Set("Accept", "text/html")
	for i := 0; i+1 < len(headers); i += 2 {
		if headers[i] == "Host" {
			r.Host = headers[i+1]
		}
		r.Header.Set(headers[i], headers[i+1])
	}
	for name, value := range b.cookies {
		r.AddCookie(&http.Cookie{Name: name, Value: value})
	}
	w := httptest.NewRecorder()
	b.Handler().ServeHTTP(w, r)
	for _, c := range w.Result().Cookies() {
		if c.MaxAge < 0 {
			delete(b.cookies, c.Name)
		} else {
			b.cookies[c.Name] = c.Value
		}
	}
	return w
}

func (b *browsing) get(target string, headers ...string) *httptest.ResponseRecorder {
	return b.do(http.MethodGet, target, "", headers...)
}

func (b *browsing) post(target string, sent url.Values, headers ...string) *httptest.ResponseRecorder {
	return b.do(http.MethodPost, target, sent.Encode(), headers...)
}

// expect checks a status and words of the body.
func expect(t *testing.T, what string, w *httptest.ResponseRecorder, status int, holds ...string) {
	t.Helper()
	if w.Code != status {
		t.Errorf("%s: status %d, want %d\n%.300s", what, w.Code, status, w.Body)
	}
	for _, words := range holds {
		if !strings.Contains(w.Body.String(), words) {
			t.Errorf("%s: %q is missing", what, words)
		}
	}
}

func goesTo(t *testing.T, what string, w *httptest.ResponseRecorder, to string) {
	t.Helper()
	if w.Code != http.StatusSeeOther || w.Header().Get("Location") != to {
		t.Errorf("%s: %d to %q, want to %q\n%.300s", what, w.Code, w.Header().Get("Location"), to, w.Body)
	}
}

var printedCode = regexp.MustCompile(`<p class="secret">([0-9A-Z-]{19})</p>`)

func codeOn(t *testing.T, w *httptest.ResponseRecorder) string {
	t.Helper()
	m := printedCode.FindStringSubmatch(w.Body.String())
	if m == nil {
		t.Fatalf("no code on the page: %d\n%.300s", w.Code, w.Body)
	}
	return m[1]
}

// TestFromFirstCodeToReset walks the whole way of people: the first keeper, an invitation,
// joining, another role, a reset, shutting out and letting in again.
func TestFromFirstCodeToReset(t *testing.T) {
	h := vacant(t)
	code, err := h.people.FirstCode(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	b := h.browse()
	goesTo(t, "a page", b.get("/trust?lang=fr"), "/sign-in?lang=fr&next=%2Ftrust%3Flang%3Dfr")
	goesTo(t, "sign in", b.get("/sign-in"), "/begin")
	expect(t, "begin", b.get("/begin"), 200, "Become the first keeper", `autocomplete="new-password"`)
	expect(t, "wrong code", b.post("/begin", url.Values{"code": {"AAAA"}, "name": {"Ana"}, "new-password": {goodPassword}}), 401, "in the terminal in which the program was started", "prints a new one", `value="Ana"`)
	expect(t, "short", b.post("/begin", url.Values{"code": {code}, "name": {"Ana"}, "new-password": {"short"}}), 400, "at least 12 characters", `role="alert"`)
	goesTo(t, "begun", b.post("/begin", url.Values{"code": {code}, "name": {"Ana"}, "new-password": {goodPassword}}), "/people")
	goesTo(t, "begin again", b.get("/begin"), "/sign-in")
	goesTo(t, "sign in though signed in", b.get("/sign-in?next=%2Fme"), "/me")
	expect(t, "people", b.get("/people"), 200, "Ana", "1 person", "Ana became the first keeper", "this computer")

	expect(t, "no name", b.post("/people", url.Values{"role": {"field"}}), 400, "A name needs", `value="field" checked`)
	expect(t, "no role", b.post("/people", url.Values{"name": {"Ben"}}), 400, "Choose what the person may do", `value="Ben"`)
	w := b.post("/people", url.Values{"name": {"Ben"}, "role": {"field"}})
	expect(t, "invited", w, 200, "One-time code for Ben", "http://127.0.0.1:8080/")
	expect(t, "twice", b.post("/people", url.Values{"name": {"BEN"}, "role": {"field"}}), 409, "There is somebody named")

	ben := h.browse()
	expect(t, "join", ben.get("/join"), 200, "One-time code")
	expect(t, "no code", ben.post("/join", url.Values{"code": {"AAAA"}}), 401, "This code is not valid", `value="AAAA"`)
	expect(t, "code", ben.post("/join", url.Values{"code": {codeOn(t, w)}}), 200, "Welcome, Ben", `autocomplete="username"`)
	expect(t, "simple", ben.post("/join", url.Values{"code": {codeOn(t, w)}, "new-password": {"password1234"}}), 400, "one of the first")
	goesTo(t, "joined", ben.post("/join", url.Values{"code": {codeOn(t, w)}, "new-password": {goodPassword}}), "/")
	expect(t, "page", ben.get("/"), 200, "Where do you want to drill?", "Ben", "Sign out")
	expect(t, "people", ben.get("/people"), 403, "Your role does not include this")
	expect(t, "me", ben.get("/me"), 200, "You are signed in as Ben, field team")

	goesTo(t, "role", b.post("/people/2/role", url.Values{"role": {"planner"}}), "/people")
	expect(t, "shares at once", ben.get("/shares"), 200, "No link has been made yet")
	expect(t, "last keeper", b.post("/people/1/role", url.Values{"role": {"reader"}}), 409, "This is the last keeper")
	expect(t, "nobody", b.post("/people/77/shut", nil), 404)
	expect(t, "no number", b.post("/people/x/shut", nil), 404)

	w = b.post("/people/2/code", nil)
	expect(t, "reset", w, 200, "One-time code for Ben")
	goesTo(t, "redeemed elsewhere", h.browse().post("/join", url.Values{"code": {codeOn(t, w)}, "new-password": {"a brand new phrase"}}), "/")
	goesTo(t, "the session of before", ben.get("/me"), "/sign-in?next=%2Fme")

	goesTo(t, "shut", b.post("/people/2/shut", nil), "/people")
	expect(t, "shut out", ben.post("/sign-in", url.Values{"name": {"Ben"}, "password": {"a brand new phrase"}}), 401, "do not belong together")
	expect(t, "shut out", b.get("/people"), 200, "shut out", "Let in again")
	goesTo(t, "readmit", b.post("/people/2/readmit", nil), "/people")
	goesTo(t, "in again", ben.post("/sign-in", url.Values{"name": {"Ben"}, "password": {"a brand new phrase"}}), "/")
	expect(t, "wrong present", ben.post("/me", url.Values{"password": {"x"}, "new-password": {goodPassword}}), 401, "The present password is a different one")
	goesTo(t, "changed", ben.post("/me", url.Values{"password": {"a brand new phrase"}, "new-password": {goodPassword}}), "/me?changed")
	expect(t, "still in", ben.get("/me?changed"), 200, "The password was changed")
	goesTo(t, "sign out", ben.post("/sign-out", nil), "/sign-in?out")
	expect(t, "signed out", ben.get("/sign-in?out"), 200, "You have signed out")
	goesTo(t, "after", ben.get("/me"), "/sign-in?next=%2Fme")
}

func TestPeopleSpeakThreeLanguages(t *testing.T) {
	h := housed(t)
	b := h.signedIn(t, "Ana Keeper")
	for _, target := range []string{"/people", "/shares", "/me", "/", "/join"} {
		seen := map[string]bool{}
		for _, lang := range []string{"en", "fr", "pt"} {
			w := b.get(target + "?lang=" + lang)
			expect(t, target, w, 200, `<html lang="`+lang+`">`)
			title := regexp.MustCompile(`<title>(.*)</title>`).FindString(w.Body.String())
			if strings.Contains(w.Body.String(), "⟨") || seen[title] {
				t.Errorf("%s in %s: %s", target, lang, title)
			}
			seen[title] = true
		}
	}
}

func TestSharedPage(t *testing.T) {
	h := housed(t)
	b := h.signedIn(t, "Ana Keeper")
	expect(t, "no label", b.post("/shares", url.Values{"days": {"30"}}), 400, "what the link is for")
	expect(t, "days", b.post("/shares", url.Values{"days": {"3000"}, "label": {"donor"}}), 400, "1 to 366 days", `value="donor"`)
	exact, rough := h.share(t, b, url.Values{"days": {"30"}, "label": {"donor"}}), h.share(t, b, url.Values{"days": {"1"}, "label": {"press"}, "blur": {"yes"}})
	expect(t, "list", b.get("/shares"), 200, "donor", "press", "rough positions", "exact positions", "made by Ana Keeper")

	out := h.browse()
	w := out.get(exact + "?lang=en")
	expect(t, "shared", w, 200, "What was drilled here", "producing", "75%", "4 bores known", exact+"/map.svg?lang=en&amp;px=560")
	for _, hidden := range []string{"donor", "Ana Keeper", `name="at"`, `href="/people`, `href="/trust`, "Positions are shown roughly"} {
		if strings.Contains(w.Body.String(), hidden) {
			t.Errorf("an outsider sees %q", hidden)
		}
	}
	expect(t, "people", w, 200, "People within the standard", "working point within", "on the computer that serves this page")
	for _, hidden := range []string{`href="#records`, "records-1"} {
		if strings.Contains(w.Body.String(), hidden) {
			t.Errorf("an outsider is led to %q", hidden)
		}
	}
	expect(t, "rough", out.get(rough), 200, "Positions are shown roughly", "square of 5.0")
	expect(t, "for programs", w, 200, `href="http://127.0.0.1:8080`+exact+`/features"`)
	precise, blurred := out.get(exact+"/map.svg?px=560").Body.String(), out.get(rough+"/map.svg?px=560").Body.String()
	if precise == blurred || !strings.Contains(blurred, "<svg") || !strings.Contains(blurred, "Belle") {
		t.Error("the rough map is the exact one, or none")
	}
	first := out.get(exact + "/map.svg")
	if again := out.get(exact+"/map.svg", "If-None-Match", first.Header().Get("ETag")); again.Code != 304 {
		t.Errorf("a known picture is sent again: %d", again.Code)
	}
	expect(t, "size", out.get(exact+"/map.svg?px=9"), 400)
	for _, target := range []string{"/", "/advice?at=0.1+0.2", "/map.svg", "/trust", "/people", "/shares"} {
		if w := out.get(target); w.Code != 303 {
			t.Errorf("with a link in hand %s answers %d", target, w.Code)
		}
	}
	goesTo(t, "withdraw", b.post("/shares/1/withdraw", nil), "/shares")
	expect(t, "withdrawn", out.get(exact), 404, "This link opens nothing", "Not open to you", "on the computer that serves this page")
	expect(t, "its map", out.get(exact+"/map.svg"), 404)
	expect(t, "its features", out.get(exact+"/features"), 404)
	*h.at = h.at.Add(25 * time.Hour)
	expect(t, "its features", out.get(rough+"/features/collections/bores/items"), 404)
	expect(t, "ended", out.get(rough), 404, "This link opens nothing")
	b = h.signedIn(t, "Ana Keeper")
	expect(t, "list", b.get("/shares"), 200, "withdrawn", "ended on")
	if log := h.log.String(); strings.Contains(log, strings.TrimPrefix(exact, "/shared/")) {
		t.Error("who reads the log can open the link")
	}
}

var madeLink = regexp.MustCompile(`>http://127\.0\.0\.1:8080(/shared/[\w-]{43})</textarea>`)

// share makes a link and returns its path.
func (h house) share(t *testing.T, b *browsing, sent url.Values) string {
	t.Helper()
	w := b.post("/shares", sent)
	m := madeLink.FindStringSubmatch(w.Body.String())
	if w.Code != 200 || m == nil || !strings.Contains(w.Body.String(), "<svg") {
		t.Fatalf("no link: %d\n%.600s", w.Code, w.Body)
	}
	return m[1]
}

func TestDemoSaysThatItIsOpen(t *testing.T) {
	b := newBench(t, land{}, nil)
	if body := b.get("/").Body.String(); !strings.Contains(body, "No sign-in is needed") || strings.Contains(body, "Sign out") {
		t.Error("the demo does not say that nobody needs to sign in")
	}
	for _, target := range []string{"/sign-in", "/people", "/shares", "/begin", "/join", "/me", "/shared/x"} {
		if w := b.get(target); w.Code != 404 {
			t.Errorf("%s: %d without people", target, w.Code)
		}
	}
	if body := housed(t).signedIn(t, "Ana Keeper").get("/").Body.String(); strings.Contains(body, "No sign-in is needed") {
		t.Error("a server with people says that nobody needs to sign in")
	}
}

// vouching is an authority of this computer's own.
func vouching(t testing.TB) *authority.Authority {
	t.Helper()
	a, err := authority.Open(filepath.Join(t.TempDir(), "authority.pem"), "office-pc", time.Now)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// secured makes a server one that others in the network reach.
func secured(t testing.TB) func(*server.Config) {
	return func(c *server.Config) { c.Authority, c.Names = vouching(t), []string{"office-pc.local"} }
}
