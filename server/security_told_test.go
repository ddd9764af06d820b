package server_test

import (
	"math/rand/v2"
	"net/http"
	"net/url"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"waterstrike/geo"
	"waterstrike/server/account"
)

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
