package intake_test

import (
	"context"
	"io"
	"io/fs"
	"runtime"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"waterstrike/geo/intake"
)

// endless is a file that begins as told and then holds one letter for a long time.
type endless struct {
	begins string
	left   int
}

func (e *endless) Read(p []byte) (int, error) {
	n := copy(p, e.begins)
	e.begins = e.begins[n:]
	for n < len(p) && e.left > 0 {
		p[n] = 'a'
		n++
		e.left--
	}
	if n == 0 {
		return 0, io.EOF
	}
	return n, nil
}

func (*endless) Stat() (fs.FileInfo, error) { return fs.Stat(fstest.MapFS{"f": {}}, "f") }
func (*endless) Close() error               { return nil }

type endlessFS string

func (e endlessFS) Open(string) (fs.File, error) { return &endless{string(e), 1 << 30}, nil }

// TestEndlessRow reads rows of a gigabyte: they are refused in little memory and little time.
func TestEndlessRow(t *testing.T) {
	for name, begins := range map[string]string{
		"b.csv":     "",
		"q.csv":     "no,lon,lat,depth,place,done\n1,\"",
		"b.geojson": `{"type":"FeatureCollection","features":[{"properties":{"no":"`,
	} {
		m := plainFor(t, name, "lon", "lat")
		if strings.HasSuffix(name, "geojson") {
			m = plainFor(t, name, "geometry.lon", "geometry.lat")
		}
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		begun := time.Now()
		_, err := intake.Read(context.Background(), m, endlessFS(begins), &intake.Memory{}, nil)
		if err == nil || !strings.Contains(err.Error(), "a row runs on") {
			t.Errorf("%s: %v", name, err)
		}
		runtime.ReadMemStats(&after)
		if grown := (after.Sys - before.Sys) >> 20; grown > 100 { // a row of 4 MB, doubled a few times
			t.Errorf("%s: %d MB more", name, grown)
		}
		if took := time.Since(begun); took > 20*time.Second { // the whole is looked through for its encoding
			t.Errorf("%s: %v", name, took)
		}
	}
}
