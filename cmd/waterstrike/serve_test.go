package main

import (
	"bytes"
	"context"
	"crypto/sha256"
	"crypto/tls"
	"crypto/x509"
	"encoding/hex"
	"io"
	"io/fs"
	"net/http"
	"net/http/cookiejar"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"waterstrike/geo/store"
)

// said is what a running program has written so far.
type said struct {
	mutex sync.Mutex
	text  bytes.Buffer
}

func (s *said) Write(p []byte) (int, error) {
	s.mutex.Lock()
	defer s.mutex.Unlock()
	return s.text.Write(p)
}

func (s *said) String() string {
	s.mutex.Lock()
	defer s.mutex.Unlock()
	return s.text.String()
}

// find waits until something is said: the demo is ready after a quarter of a minute on a
// quiet machine.
func (s *said) find(t *testing.T, pattern string) string {
	t.Helper()
	found, ok := s.wait(pattern)
	if !ok {
		t.Fatalf("%q is not said: %s", pattern, s)
	}
	return found
}

func (s *said) wait(pattern string) (found string, ok bool) {
	form := regexp.MustCompile(pattern)
	for begun := time.Now(); time.Since(begun) < 2*time.Minute; time.Sleep(5 * time.Millisecond) {
		if m := form.FindStringSubmatch(s.String()); m != nil {
			return m[len(m)-1], true
		}
	}
	return "", false
}

// started runs the program until the test calls stop, which returns its exit code.
func started(t *testing.T, args ...string) (out *said, stop func() int) {
	t.Helper()
	ctx, cancel := context.WithCancel(t.Context())
	out, code := new(said), make(chan int, 1)
	go func() { code <- run(ctx, args, out, out, func(string) string { return "" }) }()
	return out, func() int { cancel(); return <-code }
}

// client is a browser's stand-in that goes where it is sent.
func client(t *testing.T) *http.Client {
	t.Helper()
	jar, err := cookiejar.New(nil)
	if err != nil {
		t.Fatal(err)
	}
	return &http.Client{Jar: jar, Timeout: 20 * time.Second}
}

func page(t *testing.T) func(r *http.Response, err error) (string, string) {
	return func(r *http.Response, err error) (body, at string) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		defer r.Body.Close()
		b, err := io.ReadAll(r.Body)
		if err != nil {
			t.Fatal(err)
		}
		return string(b), r.Request.URL.Path
	}
}

// emptyData makes a data folder with an empty base.
func emptyData(t *testing.T) string {
	t.Helper()
	folder := store.Folder(filepath.Join(t.TempDir(), "data"))
	if err := folder.Make(); err != nil {
		t.Fatal(err)
	}
	base, err := store.Create(folder.Ground(), store.DefaultOptions())
	if err != nil {
		t.Fatal(err)
	}
	if err := base.Close(); err != nil {
		t.Fatal(err)
	}
	return string(folder)
}

// TestFirstStart: the first start prints a code with which the keeper comes in; the next
// start prints none, and people sign in.
func TestFirstStart(t *testing.T) {
	data := emptyData(t)
	out, stop := started(t, "serve", "-data", data, "-address", "0.0.0.0:0")
	out.find(t, "is not an address of this computer alone")
	if got := stop(); got != exitInvalid {
		t.Errorf("served in clear beyond this computer: %d", got)
	}
	out, stop = started(t, "serve", "-data", data, "-address", "127.0.0.1:0")
	code := out.find(t, `\b([0-9A-HJKMNP-TV-Z]{4}(?:-[0-9A-HJKMNP-TV-Z]{4}){3})\b`)
	at := strings.TrimSuffix(out.find(t, `(http://127\.0\.0\.1:\d+/) `), "/")
	if begin := out.find(t, `(http://\S+/begin)`); begin != at+"/begin" {
		t.Errorf("the code is for %s", begin)
	}
	c := client(t)
	if r, err := c.Get(at + "/trust.json"); err != nil || r.StatusCode != 401 {
		t.Errorf("a stranger's program gets %v, %v", r.Status, err)
	}
	_, where := page(t)(c.PostForm(at+"/begin", url.Values{"code": {code}, "name": {"Ana"}, "new-password": {"three dry months"}}))
	if where != "/people" {
		t.Errorf("the first keeper comes to %s", where)
	}
	body, where := page(t)(c.Get(at + "/"))
	if where != "/" || !strings.Contains(body, "Ana") {
		t.Errorf("the keeper sees %s", where)
	}
	if got := stop(); got != exitDone {
		t.Errorf("exit code %d: %s", got, out)
	}
	if info, err := os.Stat(filepath.Join(data, "accounts.db")); err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("accounts.db: %v, %v", info, err)
	}

	out, stop = started(t, "serve", "-data", data, "-address", "127.0.0.1:0")
	at = strings.TrimSuffix(out.find(t, `(http://127\.0\.0\.1:\d+/) `), "/")
	if strings.Contains(out.String(), "one-time code") {
		t.Errorf("a code for a second first keeper: %s", out)
	}
	c = client(t)
	_, where = page(t)(c.PostForm(at+"/sign-in?next=/me", url.Values{"name": {"ana"}, "password": {"three dry months"}}))
	if where != "/me" {
		t.Errorf("the keeper comes to %s", where)
	}

	// A keeper who forgot the password is helped from the command line, meanwhile.
	var made, log bytes.Buffer
	env := func(string) string { return "" }
	if got := run(t.Context(), []string{"people", "-data", data, "-code", "ANA"}, &made, &made, env); got != exitDone {
		t.Fatalf("people -code: %d, %s", got, made.String())
	}
	code = made.String()[strings.LastIndex(made.String(), " ")+1:]
	_, where = page(t)(client(t).PostForm(at+"/join", url.Values{"code": {code}, "new-password": {"another long phrase"}}))
	if where != "/" {
		t.Errorf("with the new code the keeper comes to %s", where)
	}
	if run(t.Context(), []string{"people", "-data", data, "-log"}, &log, &log, env); !strings.Contains(log.String(), "this computer") || strings.Count(log.String(), "\n") != 3 {
		t.Errorf("log: %s", log.String())
	}
	if got := stop(); got != exitDone {
		t.Errorf("exit code %d: %s", got, out)
	}
}

// TestServeBegins: an office without records starts the server, which makes an empty base
// and says where, and goes on.
func TestServeBegins(t *testing.T) {
	data := filepath.Join(t.TempDir(), "office")
	out, stop := started(t, "serve", "-data", data, "-address", "127.0.0.1:0")
	begun := out.find(t, `There was no knowledge base here: (\S+) is new and empty`)
	out.find(t, `(http://127\.0\.0\.1:\d+/) `)
	if got := stop(); got != exitDone || begun != filepath.Join(data, "ground.gpkg") {
		t.Errorf("exit code %d, %s", got, out)
	}
	out, stop = started(t, "serve", "-data", data, "-address", "127.0.0.1:0")
	out.find(t, `(http://127\.0\.0\.1:\d+/) `)
	if stop(); strings.Contains(out.String(), "new and empty") {
		t.Errorf("a second start begins again: %s", out)
	}
}

// TestDemoNeedsNoSignIn serves the demo, which says that it is open, to this computer only.
func TestDemoNeedsNoSignIn(t *testing.T) {
	t.Parallel()
	demo, err := demoKept()
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(demo.said, "no sign-in is needed") {
		t.Errorf("the demo does not say that it is open: %s", demo.said)
	}
	if !strings.Contains(demo.page, "No sign-in is needed") {
		t.Error("the page does not say that it is open")
	}
	if demo.code != exitDone {
		t.Errorf("exit code %d", demo.code)
	}
	if _, err := fs.Stat(demo.files, "data/accounts.db"); err == nil {
		t.Error("the demo has a file of people")
	}
	out, stop := started(t, "demo", "-address", "0.0.0.0:0")
	out.find(t, "is not an address of this computer alone")
	if got := stop(); got == exitDone {
		t.Error("the demo is open to others")
	}
}

// TestLAN serves a network: a device takes the certificate at the door in clear, compares
// the printed fingerprint, trusts it, and comes in by HTTPS alone.
func TestLAN(t *testing.T) {
	data := emptyData(t)
	out, stop := started(t, "serve", "-lan", "-data", data, "-address", "127.0.0.1:0", "-name", "localhost")
	code := out.find(t, `\b([0-9A-HJKMNP-TV-Z]{4}(?:-[0-9A-HJKMNP-TV-Z]{4}){3})\b`)
	door := strings.TrimSuffix(out.find(t, `(http://localhost:\d+/)`), "/")
	at := strings.TrimSuffix(out.find(t, `(https://localhost:\d+/) `), "/")
	printed := out.find(t, `fingerprint: ((?:[0-9A-F]{2}:){31}[0-9A-F]{2})`)
	out.find(t, `(█▀▀▀▀▀█|█ ▄▄▄▄▄ █)`) // a corner of the QR code

	steps, _ := page(t)(client(t).Get(door + "/"))
	if !strings.Contains(steps, "/authority.crt") || !strings.Contains(steps, at+"/sign-in") {
		t.Errorf("the door does not tell the steps: %.600s", steps)
	}
	for _, path := range []string{"/sign-in", "/begin", "/people", "/health", "/advice.json?at=0+0", "/trust"} {
		if r, err := client(t).Get(door + path); err != nil || r.StatusCode != 404 {
			t.Errorf("in clear %s answers %v, %v", path, r.Status, err)
		}
	}
	if r, err := client(t).PostForm(door+"/sign-in", url.Values{"name": {"x"}, "password": {"y"}}); err != nil || r.StatusCode != 404 {
		t.Errorf("a password in clear: %v, %v", r.Status, err)
	}
	der, _ := page(t)(client(t).Get(door + "/authority.crt"))
	trusted, err := x509.ParseCertificate([]byte(der))
	if err != nil {
		t.Fatal(err)
	}
	if sum := sha256.Sum256(trusted.Raw); !strings.EqualFold(strings.ReplaceAll(printed, ":", ""), hex.EncodeToString(sum[:])) {
		t.Errorf("the printed fingerprint is %s", printed)
	}
	if _, err := client(t).Get(at + "/sign-in"); err == nil {
		t.Error("a device trusts before it was told to")
	}
	device := client(t)
	roots := x509.NewCertPool()
	roots.AddCert(trusted)
	device.Transport = &http.Transport{TLSClientConfig: &tls.Config{RootCAs: roots}}
	_, where := page(t)(device.PostForm(at+"/begin", url.Values{"code": {code}, "name": {"Ana"}, "new-password": {"three dry months"}}))
	if where != "/people" {
		t.Errorf("the first keeper comes to %s", where)
	}
	address, _ := url.Parse(at)
	if kept := device.Jar.Cookies(address); len(kept) != 1 || kept[0].Name != "__Host-session" {
		t.Errorf("cookies %v", kept)
	}
	if got := stop(); got != exitDone {
		t.Errorf("exit code %d: %s", got, out)
	}
	if info, err := os.Stat(filepath.Join(data, "authority.pem")); err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("the authority's key: %v, %v", info, err)
	}
	out, stop = started(t, "serve", "-lan", "-data", data, "-address", "127.0.0.1:0", "-name", "localhost")
	if again := out.find(t, `fingerprint: (\S+)`); again != printed {
		t.Error("another start has another authority: every device would have to be told again")
	}
	stop()
	out, stop = started(t, "serve", "-lan", "-data", data, "-name", "bank.example")
	out.find(t, "is not a name or address of a local network")
	if got := stop(); got != exitInvalid {
		t.Errorf("exit code %d", got)
	}
}
