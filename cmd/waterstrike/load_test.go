package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"waterstrike/geo"
	"waterstrike/geo/demoland"
	"waterstrike/geo/store"

	"golang.org/x/sync/errgroup"
)

// What an office at work is: readers who look at a page, think, and look at the next, while
// crews send their logs.
const (
	readers = 50
	writers = 5
	slowest = 250 * time.Millisecond
)

// load is what people do, and how long it took by what was asked.
type load struct {
	thinking time.Duration // on average, between an answer and the next question
	mutex    sync.Mutex
	took     map[string][]time.Duration
}

func (l *load) add(kind string, took time.Duration) {
	l.mutex.Lock()
	defer l.mutex.Unlock()
	l.took[kind] = append(l.took[kind], took)
}

// share is the duration that a share of the requests of some kinds did not exceed.
func (l *load) share(of float64, kinds ...string) time.Duration {
	var all []time.Duration
	for _, kind := range kinds {
		all = append(all, l.took[kind]...)
	}
	if len(all) == 0 {
		return 0
	}
	slices.Sort(all)
	return all[int(of*float64(len(all)-1))]
}

// pagesOf are the addresses that readers ask, by kind; what is asked about lies in the region.
func pagesOf(r *rand.Rand) (kind, target string) {
	at := url.Values{"lat": {fmt.Sprintf("%.4f", 0.42+0.45*r.Float64())}, "lon": {fmt.Sprintf("%.4f", -0.40+0.45*r.Float64())}, "lang": {[]string{"en", "fr", "pt"}[r.IntN(3)]}}.Encode()
	switch n := r.IntN(10); {
	case n < 3:
		return "advice", "/advice?" + at
	case n < 4:
		return "spot", "/spot?" + at
	case n < 7:
		return "tile", fmt.Sprintf("/tiles/bores/10/%d/%d", 510+r.IntN(3), 509+r.IntN(3))
	case n < 8:
		return "map", "/map"
	}
	return "list", fmt.Sprintf("/list?from=%d", 1990+r.IntN(30))
}

// waits for a while around the time that people think; false once the context ends.
func (l *load) waits(ctx context.Context, r *rand.Rand) bool {
	select {
	case <-ctx.Done():
		return false
	case <-time.After(time.Duration(2 * r.Float64() * float64(l.thinking))):
		return true
	}
}

// asks sends a request and reads its answer to the end; anything but success is an error.
func (l *load) asks(c *http.Client, kind string, r *http.Request) error {
	begun := time.Now()
	w, err := c.Do(r)
	if err != nil {
		return err
	}
	body, err := io.ReadAll(w.Body)
	if err = errors.Join(err, w.Body.Close()); err != nil {
		return err
	}
	l.add(kind, time.Since(begun))
	if w.StatusCode >= 300 {
		return fmt.Errorf("%s: %s: %.300s", r.URL, w.Status, body)
	}
	return nil
}

func (l *load) reads(ctx context.Context, c *http.Client, at string, r *rand.Rand) error {
	for l.waits(ctx, r) {
		kind, target := pagesOf(r)
		request, err := http.NewRequest(http.MethodGet, at+target, nil)
		if err == nil {
			err = l.asks(c, kind, request)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// writes sends bores and returns the ids of those that were acknowledged.
func (l *load) writes(ctx context.Context, c *http.Client, at string, r *rand.Rand, like []geo.Bore) (kept []geo.BoreID, err error) {
	for l.waits(ctx, r) {
		b := like[r.IntN(len(like))]
		b.ID = geo.NewBoreID()
		body, err := json.Marshal(map[string]any{"bore": b, "since": 0})
		if err != nil {
			return nil, err
		}
		request, err := http.NewRequest(http.MethodPost, at+"/bores", bytes.NewReader(body))
		if err != nil {
			return nil, err
		}
		request.Header.Set("Content-Type", "application/json")
		request.Header.Set("Accept", "application/json")
		if err := l.asks(c, "log sent", request); err != nil {
			return nil, err
		}
		kept = append(kept, b.ID)
	}
	return kept, nil
}

// TestFiftyReadFiveWriteConcurrent: an office's worth of people at one server over the
// loopback, who sign in and come with a connection each. Nobody is refused, and every log
// that was acknowledged is kept; how long they wait is judged where there is time, for a
// minute over the whole demo region.
func TestFiftyReadFiveWriteConcurrent(t *testing.T) {
	lasts, thinking, long := 2*time.Second, time.Second, os.Getenv("WATERSTRIKE_LONG") != ""
	data := store.Folder(filepath.Join(t.TempDir(), "region", "data"))
	if long {
		lasts, thinking = time.Minute, 2*time.Second
		var out bytes.Buffer
		if code := run(t.Context(), []string{"demo", "-once", "-keep", filepath.Dir(string(data))}, &out, &out, os.Getenv); code != exitDone {
			t.Fatal(out.String())
		}
	} else {
		data = district(t)
	}
	out, stop := started(t, "serve", "-data", string(data), "-address", "127.0.0.1:0")
	code := out.find(t, `\b([0-9A-HJKMNP-TV-Z]{4}(?:-[0-9A-HJKMNP-TV-Z]{4}){3})\b`)
	at := strings.TrimSuffix(out.find(t, `(http://127\.0\.0\.1:\d+/) `), "/")
	keeper := client(t)
	page(t)(keeper.PostForm(at+"/begin", url.Values{"code": {code}, "name": {"Ana"}, "new-password": {"three dry months"}}))

	l, like := &load{thinking: thinking, took: map[string][]time.Duration{}}, demoland.New(demoSeed).Records().Bores
	ctx, cancel := context.WithTimeout(t.Context(), lasts)
	defer cancel()
	var people errgroup.Group
	var kept [writers][]geo.BoreID
	for i := range readers + writers {
		c := &http.Client{Jar: keeper.Jar, Transport: &http.Transport{}, Timeout: 20 * time.Second}
		r := rand.New(rand.NewPCG(uint64(i), 1))
		if i < readers {
			people.Go(func() error { return l.reads(ctx, c, at, r) })
			continue
		}
		people.Go(func() (err error) {
			kept[i-readers], err = l.writes(ctx, c, at, r, like)
			return err
		})
	}
	if err := people.Wait(); err != nil {
		t.Error(err)
	}
	if got := stop(); got != exitDone {
		t.Errorf("exit code %d: %s", got, out)
	}
	var kinds []string
	for kind, took := range l.took {
		kinds = append(kinds, kind)
		t.Logf("%-8s %4d times, half within %v, 99 of 100 within %v", kind, len(took), l.share(0.5, kind), l.share(0.99, kind))
	}
	if p99 := l.share(0.99, kinds...); p99 == 0 || long && p99 > slowest {
		t.Errorf("99 of 100 are answered within %v, want %v", p99, slowest)
	}
	allThere(t, data, slices.Concat(kept[:]...))
}

// allThere looks for bores in a base.
func allThere(t *testing.T, data store.Folder, ids []geo.BoreID) {
	t.Helper()
	base, err := store.Open(data.Ground(), store.DefaultOptions())
	if err != nil {
		t.Fatal(err)
	}
	defer base.Close()
	for _, id := range ids {
		if _, err := base.Bore(t.Context(), id); err != nil {
			t.Errorf("%s was acknowledged and is not kept: %v", id, err)
		}
	}
	if len(ids) == 0 {
		t.Error("nothing was written")
	}
}
