package livehole_test

import (
	"encoding/json"
	"flag"
	"math"
	"os"
	"path/filepath"
	"testing"

	"waterstrike/advisor/livehole"
)

var update = flag.Bool("update", false, "write testdata/livehole anew")

// Vector is a log with the answer of the pack beside it.
type Vector struct {
	What   string          `json:"what"`
	Log    livehole.Log    `json:"log"`
	Answer livehole.Answer `json:"answer"`
}

func file(name string) string { return filepath.Join("..", "..", "testdata", "livehole", name) }

func load[T any](t testing.TB, name string) (v T) {
	t.Helper()
	data, err := os.ReadFile(file(name))
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(data, &v); err != nil {
		t.Fatal(err)
	}
	return v
}

// The vectors hold every implementation to the same answers: this one, and that of the
// phone in ui/static/js/hole.
func TestVectors(t *testing.T) {
	p, vectors := load[livehole.Pack](t, "pack.json"), load[[]Vector](t, "vectors.json")
	codes := map[string]bool{}
	for i, v := range vectors {
		got, err := p.Answer(v.Log)
		if err != nil {
			t.Fatal(err)
		}
		if *update {
			vectors[i].Answer = got
			continue
		}
		codes[string(got.Advice.Code)] = true
		var a, b any
		for _, x := range []struct {
			from livehole.Answer
			to   *any
		}{{got, &a}, {v.Answer, &b}} {
			data, err := json.Marshal(x.from)
			if err != nil {
				t.Fatal(err)
			}
			if err := json.Unmarshal(data, x.to); err != nil {
				t.Fatal(err)
			}
		}
		if where := differ(a, b, ""); where != "" {
			t.Errorf("%s: %s", v.What, where)
		}
	}
	if *update {
		data, err := json.Marshal(vectors)
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file("vectors.json"), append(data, '\n'), 0o644); err != nil {
			t.Fatal(err)
		}
	} else if len(codes) != 4 {
		t.Errorf("the vectors try %v: every advice should be among them", codes)
	}
}

// differ names the first place in which two values differ by more than 1e-9.
func differ(a, b any, at string) string {
	switch x := a.(type) {
	case map[string]any:
		y, ok := b.(map[string]any)
		if !ok || len(x) != len(y) {
			return at + ": other fields"
		}
		for k := range x {
			if d := differ(x[k], y[k], at+"."+k); d != "" {
				return d
			}
		}
	case []any:
		y, ok := b.([]any)
		if !ok || len(x) != len(y) {
			return at + ": another length"
		}
		for i := range x {
			if d := differ(x[i], y[i], at+"[]"); d != "" {
				return d
			}
		}
	case float64:
		if y, ok := b.(float64); !ok || math.Abs(x-y) > 1e-9 {
			return at + ": another number"
		}
	default:
		if a != b {
			return at + ": another value"
		}
	}
	return ""
}

func BenchmarkAnswer(b *testing.B) {
	p, vectors := load[livehole.Pack](b, "pack.json"), load[[]Vector](b, "vectors.json")
	for b.Loop() {
		if _, err := p.Answer(vectors[0].Log); err != nil {
			b.Fatal(err)
		}
	}
}
