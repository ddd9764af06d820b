package authority_test

import (
	"crypto/tls"
	"crypto/x509"
	"net"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"sync"
	"testing"
	"time"

	"waterstrike/geo"
	"waterstrike/server/authority"
)

var start = time.Date(2026, 3, 9, 12, 0, 0, 0, time.UTC)

func open(t *testing.T, path string, at time.Time) *authority.Authority {
	t.Helper()
	a, err := authority.Open(path, "office-pc", func() time.Time { return at })
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func TestAuthorityIsKept(t *testing.T) {
	path := filepath.Join(t.TempDir(), "authority.pem")
	first, again := open(t, path, start), open(t, path, start.AddDate(1, 0, 0))
	if first.Fingerprint() != again.Fingerprint() || !regexp.MustCompile(`^([0-9A-F]{2}:){31}[0-9A-F]{2}$`).MatchString(first.Fingerprint()) {
		t.Errorf("%s, then %s", first.Fingerprint(), again.Fingerprint())
	}
	if other := open(t, filepath.Join(t.TempDir(), "a.pem"), start); other.Fingerprint() == first.Fingerprint() {
		t.Error("two authorities are the same")
	}
	if runtime.GOOS == "windows" {
		return
	}
	for _, loose := range []os.FileMode{0o600, 0o644} {
		if err := os.Chmod(path, loose); err != nil {
			t.Fatal(err)
		}
		open(t, path, start)
		if info, err := os.Stat(path); err != nil || info.Mode().Perm() != 0o600 {
			t.Errorf("mode %v, %v", info.Mode(), err)
		}
	}
	if names, _ := os.ReadDir(filepath.Dir(path)); len(names) != 1 {
		t.Errorf("left beside it: %v", names)
	}
}

func TestOpenRefuses(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "authority.pem")
	open(t, path, start)
	good, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	other := filepath.Join(dir, "other.pem")
	open(t, other, start)
	foreign, _ := os.ReadFile(other)
	half := slices.Index(good, '\n') // where the parts of a PEM file meet is found by its words
	half = len(regexp.MustCompile(`(?s)^.*END CERTIFICATE-----\n`).Find(good[half:])) + half
	foreignHalf := len(regexp.MustCompile(`(?s)^.*END CERTIFICATE-----\n`).Find(foreign))
	for name, text := range map[string][]byte{
		"empty": nil, "words": []byte("hello"), "no key": good[:half], "no certificate": good[half:],
		"another's key": slices.Concat(good[:half], foreign[foreignHalf:]), "cut": good[:half+60],
	} {
		bad := filepath.Join(dir, "bad.pem")
		if err := os.WriteFile(bad, text, 0o600); err != nil {
			t.Fatal(err)
		}
		if _, err := authority.Open(bad, "x", time.Now); geo.KindOf(err) != geo.Invalid {
			t.Errorf("%s: %v", name, err)
		}
		if now, _ := os.ReadFile(bad); !slices.Equal(now, text) {
			t.Errorf("%s was changed", name)
		}
	}
	if _, err := authority.Open(path, "x", func() time.Time { return start.AddDate(10, 0, 0) }); geo.KindOf(err) != geo.Invalid {
		t.Errorf("an authority that has ended: %v", err)
	}
	if _, err := authority.Open(filepath.Join(dir, "none", "a.pem"), "x", time.Now); geo.KindOf(err) != geo.Conflict {
		t.Errorf("no folder: %v", err)
	}
}

func TestPermits(t *testing.T) {
	a := open(t, filepath.Join(t.TempDir(), "a.pem"), start)
	for name, want := range map[string]bool{
		"192.168.1.20": true, "10.9.8.7": true, "172.31.0.1": true, "172.32.0.1": false, "169.254.1.1": true, "127.0.0.1": true, "::1": true,
		"fd00::1": true, "fe80::1": true, "2001:db8::1": false, "203.0.113.1": false, "100.64.0.1": true,
		"office-pc": true, "OFFICE-PC": true, "wells.local": true, "a.b.lan": true, "localhost": true, "home.arpa": true,
		"bank.example": false, "xlocal": false, "office-pc.example": false, "": false,
	} {
		if got := a.Permits(name); got != want {
			t.Errorf("%q: %v", name, got)
		}
	}
}

// shake opens a connection to a server of the authority and returns what it shows.
func shake(t *testing.T, a *authority.Authority, at time.Time, server string, names []string) (*x509.Certificate, error) {
	t.Helper()
	l, err := tls.Listen("tcp", "127.0.0.1:0", a.TLS(names))
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	go func() {
		if c, err := l.Accept(); err == nil {
			c.(*tls.Conn).Handshake()
			c.Close()
		}
	}()
	roots := x509.NewCertPool()
	trusted, err := x509.ParseCertificate(a.Certificate())
	if err != nil {
		t.Fatal(err)
	}
	roots.AddCert(trusted)
	plain, err := net.Dial("tcp", l.Addr().String())
	if err != nil {
		t.Fatal(err)
	}
	defer plain.Close()
	c := tls.Client(plain, &tls.Config{RootCAs: roots, ServerName: server, Time: func() time.Time { return at }})
	if err := c.Handshake(); err != nil {
		return nil, err
	}
	return c.ConnectionState().PeerCertificates[0], nil
}

// TestDevicesTrustTheServer: crypto/tls as a device that was told to trust the authority.
func TestDevicesTrustTheServer(t *testing.T) {
	a := open(t, filepath.Join(t.TempDir(), "a.pem"), start)
	names := []string{"office-pc", "office-pc.local", "bank.example"}
	for _, server := range []string{"127.0.0.1", "localhost", "office-pc", "office-pc.local"} {
		leaf, err := shake(t, a, start, server, names)
		if err != nil {
			t.Errorf("%s: %v", server, err)
			continue
		}
		if lasts := leaf.NotAfter.Sub(leaf.NotBefore); lasts > 825*24*time.Hour || slices.Contains(leaf.DNSNames, "bank.example") || leaf.IsCA {
			t.Errorf("lasts %v, names %v", lasts, leaf.DNSNames)
		}
	}
	for name, c := range map[string]struct {
		server string
		at     time.Time
	}{"another name": {"bank.example", start}, "another address": {"192.168.1.20", start}, "long ago": {"localhost", start.AddDate(-1, 0, 0)}} {
		if _, err := shake(t, a, c.at, c.server, names); err == nil {
			t.Errorf("%s is trusted", name)
		}
	}
}

// TestStolenKeyIsOfNoUse: what the key signs for other names is refused by whoever checks
// by RFC 5280.
func TestStolenKeyIsOfNoUse(t *testing.T) {
	a := open(t, filepath.Join(t.TempDir(), "a.pem"), start)
	roots := x509.NewCertPool()
	trusted, _ := x509.ParseCertificate(a.Certificate())
	roots.AddCert(trusted)
	for name, trusts := range map[string]bool{"bank.example": false, "203.0.113.1": false, "wells.local": true, "10.1.1.1": true} {
		forged, err := authority.Sign(a, name)
		if err != nil {
			t.Fatal(err)
		}
		_, err = forged.Verify(x509.VerifyOptions{Roots: roots, DNSName: name, CurrentTime: start})
		if (err == nil) != trusts {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// TestCertificatesAreRenewed: a server that runs for long shows no certificate that ended.
func TestCertificatesAreRenewed(t *testing.T) {
	at := start
	a, err := authority.Open(filepath.Join(t.TempDir(), "a.pem"), "x", func() time.Time { return at })
	if err != nil {
		t.Fatal(err)
	}
	get, local := a.TLS(nil).GetCertificate, pipe(t)
	var last *tls.Certificate
	made := 0
	for range 300 {
		c, err := get(&tls.ClientHelloInfo{Conn: local})
		if err != nil || at.After(c.Leaf.NotAfter) {
			t.Fatalf("on %v: %v", at, err)
		}
		if c != last {
			made++
		}
		last, at = c, at.AddDate(0, 0, 1)
	}
	if made < 4 || made > 6 {
		t.Errorf("%d certificates in 300 days", made)
	}
}

// TestConcurrentDevices: many that come at once are shown one certificate, and two starts
// at once agree on one authority.
func TestConcurrentDevices(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.pem")
	var all sync.WaitGroup
	prints := make([]string, 8)
	for i := range prints {
		all.Go(func() { prints[i] = open(t, path, start).Fingerprint() })
	}
	all.Wait()
	if slices.Sort(prints); prints[0] != prints[7] {
		t.Error("two authorities came of one file")
	}
	get, local := open(t, path, start).TLS(nil).GetCertificate, pipe(t)
	shown := make([]*tls.Certificate, 8)
	for i := range shown {
		all.Go(func() { shown[i], _ = get(&tls.ClientHelloInfo{Conn: local}) })
	}
	all.Wait()
	for _, c := range shown {
		if c == nil || c != shown[0] {
			t.Error("each device is shown another certificate")
		}
	}
}

// pipe is a connection that came in by an address of this computer.
func pipe(t *testing.T) net.Conn {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	go net.Dial("tcp", l.Addr().String())
	c, err := l.Accept()
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { c.Close() })
	return c
}
