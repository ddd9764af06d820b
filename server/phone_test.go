package server_test

import (
	"context"
	"net"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"

	"waterstrike/geo"
	"waterstrike/server"
)

// TestDoorIsNarrow asks every route in clear: all but the three that a device needs before
// it trusts this computer are not there.
func TestDoorIsNarrow(t *testing.T) {
	h := housed(t, secured(t))
	keeper := h.signedIn(t, "Ana Keeper")
	door := h.Door(8420)
	ask := func(method, target string) *httptest.ResponseRecorder {
		r := httptest.NewRequest(method, target, nil)
		r.Host = "office-pc.local:8421"
		r.AddCookie(&http.Cookie{Name: "__Host-session", Value: keeper.cookies["__Host-session"]})
		w := httptest.NewRecorder()
		door.ServeHTTP(w, r)
		return w
	}
	open := map[string]bool{"/": true, "/phone": true, "/authority.crt": true, "/static/*": true}
	for _, r := range readRights(t) {
		w := ask(r.method, r.target)
		if (w.Code == http.StatusOK) != (r.method == http.MethodGet && open[r.route]) {
			t.Errorf("in clear %s %s: %d", r.method, r.target, w.Code)
		}
		if w.Code != http.StatusOK && w.Code != http.StatusNotFound && w.Code != http.StatusMethodNotAllowed {
			t.Errorf("in clear %s %s tells more: %d", r.method, r.target, w.Code)
		}
		if set := w.Header().Get("Set-Cookie"); strings.Contains(set, "session") || strings.Contains(w.Body.String(), "Ana Keeper") {
			t.Errorf("in clear %s %s: a session: %q", r.method, r.target, set)
		}
		checkPolicy(t, r.target, w.Header())
	}
	steps := ask(http.MethodGet, "/").Body.String()
	if strings.Contains(steps, h.Authority.Fingerprint()) {
		t.Error("the page tells the fingerprint that it is to be compared with")
	}
	for _, want := range []string{"https://office-pc.local:8420/", "Android", "iPhone", `href="/authority.crt"`} {
		if !strings.Contains(steps, want) {
			t.Errorf("the steps lack %q", want)
		}
	}
	w := ask(http.MethodGet, "/authority.crt")
	if w.Header().Get("Content-Type") != "application/x-x509-ca-cert" || w.Body.String() != string(h.Authority.Certificate()) {
		t.Errorf("the certificate comes as %q", w.Header().Get("Content-Type"))
	}
	if in := keeper.get("/phone", "Host", "office-pc.local:8420"); !strings.Contains(in.Body.String(), "https://office-pc.local:8420/") {
		t.Errorf("by HTTPS: %d", in.Code)
	}
}

func TestHostsOfTheNetwork(t *testing.T) {
	h := housed(t, secured(t))
	for host, want := range map[string]int{
		"office-pc.local": 200, "OFFICE-PC.local:8420": 200, "127.0.0.1:8420": 200, "192.0.2.9:8420": 421, "evil.example": 421, "office-pc.local.evil.example": 421,
	} {
		if w := h.browse().get("/sign-in", "Host", host); w.Code != want {
			t.Errorf("%s: %d, want %d", host, w.Code, want)
		}
	}
	r := httptest.NewRequest(http.MethodGet, "/sign-in", nil)
	r.Host = "192.0.2.9:8420"
	r = r.WithContext(context.WithValue(r.Context(), http.LocalAddrContextKey, &net.TCPAddr{IP: net.ParseIP("192.0.2.9"), Port: 8420}))
	w := httptest.NewRecorder()
	h.Handler().ServeHTTP(w, r)
	if w.Code != 200 {
		t.Errorf("by the address that the device came in by: %d", w.Code)
	}
}

// A link or a code made at an address that no other device reaches says so.
func TestAddressOfThisComputerAlone(t *testing.T) {
	h := housed(t, secured(t))
	keeper := h.signedIn(t, "Ana Keeper")
	for host, alone := range map[string]bool{"127.0.0.1:8420": true, "localhost:8420": true, "office-pc.local:8420": false} {
		for path, sent := range map[string]string{"/shares": "label=x&days=1", "/people": "name=" + url.QueryEscape("Rui "+host) + "&role=reader"} {
			w := keeper.do(http.MethodPost, path, sent, "Host", host, "Origin", "https://"+host)
			if w.Code != 200 || strings.Contains(w.Body.String(), "this computer alone") != alone {
				t.Errorf("%s at %s: %d, alone %v", path, host, w.Code, !alone)
			}
		}
	}
}

func TestListenLAN(t *testing.T) {
	secure, door, err := server.ListenLAN(t.Context(), "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer secure.Close()
	defer door.Close()
	if _, _, err := server.ListenLAN(t.Context(), secure.Addr().String()); geo.KindOf(err) != geo.Conflict {
		t.Errorf("a port that is taken: %v", err)
	}
	for _, bad := range []string{"", "nonsense", "127.0.0.1:http", "127.0.0.1:65535", "127.0.0.1:-1"} {
		if _, _, err := server.ListenLAN(t.Context(), bad); geo.KindOf(err) != geo.Invalid {
			t.Errorf("%q: %v", bad, err)
		}
	}
	if err := newBench(t, land{}, nil).ServeDoor(t.Context(), door, 1); geo.KindOf(err) != geo.Invalid {
		t.Errorf("a door without an authority: %v", err)
	}
}
