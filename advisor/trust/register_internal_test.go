package trust

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"waterstrike/advisor"
	"waterstrike/advisor/evidence"
	"waterstrike/advisor/evidence/evidencetest"
	"waterstrike/geo"
	"waterstrike/geo/intake"
	"waterstrike/geo/outside"

	"github.com/google/uuid"
)

// register reads a register of open records that stands beside the project, with ids as
// random as those that a base gives.
func register(t *testing.T, folder, mapping string) (bores evidencetest.Bores) {
	t.Helper()
	from := outside.Shared(t, "data", folder)
	file, err := os.Open(filepath.Join("..", "..", "testdata", "mappings", mapping))
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	m, err := intake.LoadMapping(file)
	if err != nil {
		t.Fatal(err)
	}
	var bag intake.Memory
	if _, err := intake.Read(t.Context(), m, os.DirFS(from), &bag, nil); err != nil {
		t.Fatal(err)
	}
	for i, b := range bag.Bores {
		b.ID = geo.BoreID(uuid.NewSHA1(uuid.Nil, fmt.Append(nil, folder, i)).String())
		bores = append(bores, b)
	}
	return bores
}

// loggedTo leaves out bores that are logged deeper: those for artesian water are another
// trade.
func loggedTo(bores evidencetest.Bores, deepestM float64) (out evidencetest.Bores) {
	for _, b := range bores {
		deepest := 0.0
		for _, l := range b.Layers {
			deepest = max(deepest, l.BaseM)
		}
		if deepest <= deepestM {
			out = append(out, b)
		}
	}
	return out
}

// On a real floodplain the layers must be foretold better than by the nearest log, by the
// profile and by the eight nearest, whole blocks of land being hidden that are wider than
// evidence reaches. The records are those of ../shared/data/darling_floodplain; the long
// run asks about every log, and about those of deep bores too.
func TestLayersOfAFloodplain(t *testing.T) {
	all := register(t, "darling_floodplain", "darling-floodplain.json")
	o := DefaultOptions()
	if os.Getenv("WATERSTRIKE_LONG") == "" {
		o.Folds, o.Most = 3, 600
	}
	t.Run("logged to 60 m", func(t *testing.T) { foretold(t, loggedTo(all, 60), o) })
	if os.Getenv("WATERSTRIKE_LONG") != "" {
		t.Run("all", func(t *testing.T) { foretold(t, all, o) })
	}
}

// foretold fails where layers are not foretold better than by everybody without a model, or
// worse than by one of them in some range of depth by more than a standard error.
func foretold(t *testing.T, bores evidencetest.Bores, o Options) {
	t.Helper()
	rules, err := advisor.DefaultRules()
	if err != nil {
		t.Fatal(err)
	}
	s, err := evidence.Load(t.Context(), bores)
	if err != nil {
		t.Fatal(err)
	}
	r, err := Run(t.Context(), s, rules, o, nil)
	if err != nil {
		t.Fatal(err)
	}
	if r.Blocks.SideM < r.Blocks.ReachM {
		t.Errorf("blocks of %v m, evidence reaches %v m", r.Blocks.SideM, r.Blocks.ReachM)
	}
	t.Logf("%d logs in %d blocks of %.0f km", r.Account.Layers.Logs, r.Blocks.Count, r.Blocks.SideM/1000)
	for i, band := range r.Account.Layers.Bands {
		t.Logf("%2.0f-%.0f m: %s nats a cell, another class in %s", band.TopM, band.BaseM, scores(band.Log, 3), scores(band.Wrong, 3))
		for _, said := range band.Log.Standings[1:] {
			worse, known := said.Worse.Get()
			off, _ := said.Error.Get()
			if !known || worse.Mid < -off || i == 0 && worse.Mid <= 0 {
				t.Errorf("%v-%v m: %s is better by %.4f, standard error %.4f", band.TopM, band.BaseM, said.Who, -worse.Mid, off)
			}
		}
	}
}
