package server_test

import (
	"encoding/base64"
	"net/url"
	"strings"
	"testing"
	"time"

	"waterstrike/server/account"
)

func basic(name, password string) []string {
	return []string{"Accept", "application/json", "Authorization", "Basic " + base64.StdEncoding.EncodeToString([]byte(name+":"+password))}
}

// A GIS reads features by name and password, and nothing else; whoever is shut out, or has
// another password, is out with the next request; guessing is slowed down.
func TestProgramsReadFeaturesByPassword(t *testing.T) {
	h := housed(t)
	h.joins(t, "Rui", account.Reader)
	const items = "/features/collections/bores/items"
	w := h.browse().get(items, "Accept", "application/json")
	if got := w.Header().Get("WWW-Authenticate"); w.Code != 401 || !strings.HasPrefix(got, "Basic ") {
		t.Errorf("without a name: %d, %q", w.Code, got)
	}
	expect(t, "a reader", h.browse().get(items, basic("rui", goodPassword)...), 200, "FeatureCollection")
	expect(t, "again", h.browse().get("/features", basic("rui", goodPassword)...), 200)
	if cookie := h.browse().get(items, basic("rui", goodPassword)...).Header().Get("Set-Cookie"); cookie != "" {
		t.Errorf("a program gets a session: %q", cookie)
	}
	expect(t, "a wrong password", h.browse().get(items, basic("rui", "three dry moons")...), 401)
	expect(t, "nobody", h.browse().get(items, basic("nobody", goodPassword)...), 401)
	for _, elsewhere := range []string{"/advice.json?at=0.1+0.2", "/people", "/trust.json", "/featuresx"} {
		w := h.browse().get(elsewhere, basic("Ana Keeper", goodPassword)...)
		if w.Code == 200 || strings.HasPrefix(w.Header().Get("WWW-Authenticate"), "Basic") {
			t.Errorf("%s by password: %d, %q", elsewhere, w.Code, w.Header().Get("WWW-Authenticate"))
		}
	}
	keeper := h.signedIn(t, "Ana Keeper")
	goesTo(t, "shut out", keeper.post("/people/2/shut", url.Values{}), "/people")
	expect(t, "who is shut out", h.browse().get(items, basic("rui", goodPassword)...), 401)
	slowed := false
	for range 12 {
		slowed = slowed || h.browse().get(items, basic("Ana Keeper", "three dry moons")...).Code == 429
	}
	if !slowed {
		t.Error("a password may be guessed as fast as one likes")
	}
	*h.at = h.at.Add(2 * time.Hour)
	expect(t, "the keeper, later", h.browse().get(items, basic("Ana Keeper", goodPassword)...), 200)
	if log := h.log.String(); strings.Contains(log, goodPassword) {
		t.Error("a password stands in the log")
	}
}
