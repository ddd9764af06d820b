package advisor_test

import (
	"encoding/json"
	"strings"
	"testing"

	"waterstrike/advisor/evidence"
)

// The fits name the records they were learnt from, also when the records have moved on, and
// count each bore that was read once.
func TestFitsSayWhatTheyRestOn(t *testing.T) {
	src := region(t, 120)
	a := newAdvisor(t, src)
	f := a.Fits()
	k := f.Kinds
	if f.Snapshot != f.Now || f.Bores != 120 || k.Rest+k.Flowing+k.Dry+k.Tight != min(k.Stated, 500) || k.Rest == 0 {
		t.Errorf("%+v", f.Kinds)
	}
	level, ok := f.Level.Get()
	if !ok || level.Readings != k.Rest+k.Flowing || level.DryHoles != k.Dry || len(level.Shown.LeftOut.Cases) != k.Rest {
		t.Errorf("%d readings and %d dry holes of %+v", level.Readings, level.DryHoles, k)
	}
	if strata, ok := f.Strata.Get(); !ok || strata.Logs != k.Described {
		t.Errorf("%d logs of %d", strata.Logs, k.Described)
	}
	if text, err := json.Marshal(f); err != nil || strings.Contains(string(text), "NaN") {
		t.Errorf("as JSON: %v", err)
	}
	src.seq++
	next, err := evidence.Load(t.Context(), src)
	if err != nil {
		t.Fatal(err)
	}
	if later := a.Advance(next).Fits(); later.Snapshot != f.Snapshot || later.Now != next.ID() {
		t.Errorf("fits of %s over records of %s", later.Snapshot, later.Now)
	}
}

// Too few bores are no fit, and the fits say so.
func TestFitsOfTooFew(t *testing.T) {
	f := newAdvisor(t, region(t, 4)).Fits()
	if f.Level.Known() || f.Strata.Known() || f.Bores != 4 {
		t.Errorf("%+v", f)
	}
}
