package livehole_test

import (
	"bytes"
	"context"
	"encoding/json"
	"math"
	"os"
	"sync"
	"testing"

	"waterstrike/advisor"
	"waterstrike/advisor/advisortest"
	"waterstrike/advisor/evidence"
	"waterstrike/advisor/evidence/evidencetest"
	"waterstrike/advisor/livehole"
	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/demoland"
)

// office is a small part of an invented region: enough for every model, and quick.
var office = sync.OnceValues(func() (*livehole.Maker, error) {
	a, err := adviser()
	if err != nil {
		return nil, err
	}
	return livehole.NewMaker(context.Background(), a)
})

var adviser = sync.OnceValues(func() (*advisor.Advisor, error) {
	s, err := evidence.Load(context.Background(), evidencetest.Bores(demoland.New(12).Records().Bores[:160]))
	if err != nil {
		return nil, err
	}
	rules, err := advisor.DefaultRules()
	if err != nil {
		return nil, err
	}
	return advisor.New(context.Background(), s, rules, "")
})

func maker(t testing.TB) (*livehole.Maker, *advisor.Advisor) {
	t.Helper()
	m, err := office()
	if err != nil {
		t.Fatal(err)
	}
	a, err := adviser()
	if err != nil {
		t.Fatal(err)
	}
	return m, a
}

// A pack fits on a phone and is the same each time.
func TestPack(t *testing.T) {
	m, a := maker(t)
	for i, at := range a.Spots(3)[1:] {
		q := advisor.Question{At: at, Seed: 1}
		p, err := m.Make(t.Context(), q)
		if err != nil {
			t.Fatal(err)
		}
		data, err := json.Marshal(p)
		if err != nil {
			t.Fatal(err)
		}
		if len(data) > livehole.PackBytes {
			t.Errorf("a pack takes %d bytes", len(data))
		}
		if *update && i == 0 {
			if err := os.WriteFile(file("pack.json"), append(data, '\n'), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		again, err := m.Make(t.Context(), q)
		if err != nil {
			t.Fatal(err)
		}
		if other, _ := json.Marshal(again); string(other) != string(data) {
			t.Error("the same question gave another pack")
		}
	}
}

// apart holds a pack's odds against those of the office, and returns by how much their
// chances differ, method by method.
func apart(t *testing.T, a *advisor.Advisor, q advisor.Question, p *livehole.Pack) (out []float64) {
	t.Helper()
	said, err := a.Advise(t.Context(), q)
	if err != nil {
		t.Fatal(err)
	}
	low := 1
	for month := range p.Level.Today {
		if p.Level.Today[month][5] > p.Level.Today[low-1][5] {
			low = month + 1
		}
	}
	got, err := p.Answer(livehole.Log{Schema: livehole.LogSchema, Method: p.Methods[0].Code, Month: low})
	if err != nil {
		t.Fatal(err)
	}
	parts, err := a.Parts(t.Context(), q.At)
	if err != nil {
		t.Fatal(err)
	}
	for z, odds := range got.Odds {
		for k, q := range odds {
			// Steps to five digits, hardly weighing logs left out. The advice itself shows how a
			// crew would name the ground, which is less sharp.
			if math.Abs(q-parts.Odds[z][k]) > 0.01 {
				t.Errorf("cell %d: %s has odds %.3f, in the office's columns %.3f", z, p.Classes[k], q, parts.Odds[z][k])
			}
		}
	}
	for i, method := range said.Methods {
		if x := got.Methods[i]; x.Method != method.Method {
			t.Errorf("method %d is %s, in the advice %s", i, x.Method, method.Method)
		} else {
			out = append(out, x.Chance-method.Chance)
		}
	}
	return out
}

// Before anything is drilled the crew reads nearly the chance that the office told them, and
// the same method first.
func TestBothFacesSayTheSame(t *testing.T) {
	m, a := maker(t)
	var sum, most, n float64
	for _, at := range a.Spots(12) {
		q := advisor.Question{At: at, Seed: 1}
		p, err := m.Make(t.Context(), q)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range apart(t, a, q, &p) {
			sum, most, n = sum+math.Abs(d), max(most, math.Abs(d)), n+1
		}
	}
	t.Logf("%.0f chances differ by %.3f in the mean, by %.3f at most", n, sum/n, most)
	// The office draws some hundred columns (0.01 in the mean), the pack has ten levels, five
	// bands of conductivity, half metres and pooled chains.
	if sum/n > 0.03 || most > 0.1 {
		t.Errorf("chances differ by %.3f in the mean, by %.3f at most", sum/n, most)
	}
}

// Far from every log a pack has none of its own, and says so by an empty list.
func TestPackFarFromLogs(t *testing.T) {
	m, _ := maker(t)
	p, err := m.Make(t.Context(), advisor.Question{At: coord.LonLat{Lon: 3, Lat: 3}, Seed: 1})
	if err != nil {
		t.Fatal(err)
	}
	data, err := json.Marshal(p)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Contains(data, []byte(`"logs":[]`)) || bytes.Contains(data, []byte("null")) {
		t.Errorf("a phone cannot read %s", data)
	}
}

func TestPackNeedsEvidence(t *testing.T) {
	m, _ := maker(t)
	if _, err := m.Make(t.Context(), advisor.Question{At: coord.LonLat{Lat: 95}}); geo.KindOf(err) != geo.Invalid {
		t.Errorf("a place off the globe: %v", err)
	}
	s, err := evidence.Load(t.Context(), evidencetest.Bores(demoland.New(12).Records().Bores[:3]))
	if err != nil {
		t.Fatal(err)
	}
	a := advisortest.Of(t, s)
	if m, err = livehole.NewMaker(t.Context(), a); err != nil {
		t.Fatal(err)
	}
	if _, err := m.Make(t.Context(), advisor.Question{At: coord.LonLat{Lat: 0.6}}); geo.KindOf(err) != geo.TooFewData {
		t.Errorf("three bores: %v", err)
	}
}

func BenchmarkMake(b *testing.B) {
	m, a := maker(b)
	at := a.Spots(1)[0]
	for b.Loop() {
		if _, err := m.Make(b.Context(), advisor.Question{At: at, Seed: 1}); err != nil {
			b.Fatal(err)
		}
	}
}
