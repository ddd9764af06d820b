package server_test

import (
	"bufio"
	"context"
	"io"
	"net"
	"strings"
	"testing"
	"time"

	"waterstrike/geo"
	"waterstrike/server"
)

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
