package evidence_test

import (
	"math/rand/v2"
	"slices"
	"testing"

	"waterstrike/advisor/evidence"
	"waterstrike/geo"
)

// A snapshot without bores must be the one of a base that never held them.
func TestWithout(t *testing.T) {
	rng := rand.New(rand.NewPCG(41, 42))
	full, thin := newBase(), newBase()
	var gone []geo.BoreID
	for i := range 300 {
		b := randomBore(rng, idOf(i))
		full.save(b)
		if i%3 == 0 {
			gone = append(gone, b.ID, b.ID)
			continue
		}
		thin.save(b)
	}
	whole, want := load(t, full), load(t, thin)
	before := told(t, whole)
	got, err := whole.Without(gone)
	if err != nil {
		t.Fatal(err)
	}
	if got.Len() != want.Len() || got.Described() != want.Described() || got.Levelled() != want.Levelled() || got.Rate() != want.Rate() {
		t.Errorf("%d bores, %d described, %d levelled, %+v; want %d, %d, %d, %+v", got.Len(), got.Described(), got.Levelled(), got.Rate(),
			want.Len(), want.Described(), want.Levelled(), want.Rate())
	}
	if !slices.Equal(ids(got), ids(want)) {
		t.Error("other bores are left")
	}
	if got.ID() == whole.ID() {
		t.Error("a snapshot with hidden bores takes the name of the whole one")
	}
	if told(t, whole) != before {
		t.Error("the whole snapshot was changed")
	}
}

func ids(s *evidence.Snapshot) (out []geo.BoreID) {
	for _, b := range s.Bores() {
		out = append(out, b.ID)
	}
	return out
}
