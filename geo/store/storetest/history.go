package storetest

import (
	"context"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"waterstrike/geo"
	"waterstrike/geo/store"
)

// lastSeq is the number of the last change of a record.
func lastSeq(t *testing.T, s Store, id string) int64 {
	t.Helper()
	entries, err := s.History(context.Background(), id)
	must(t, err)
	if len(entries) == 0 {
		t.Fatalf("%s has no history", id)
	}
	return entries[len(entries)-1].Seq
}

func history(t *testing.T, s Store) {
	ctx := context.Background()
	b := FullBore(1)
	must(t, s.SaveBore(ctx, b, ama))
	b.Remarks = "corrected"
	b.Layers = b.Layers[:2]
	must(t, s.SaveBore(ctx, b, store.Why{Who: "Kofi", Reason: "typing error"}))
	must(t, s.Hide(ctx, string(b.ID), store.Why{Who: "Esi", Reason: "entered twice"}))

	entries, err := s.History(ctx, string(b.ID))
	must(t, err)
	if len(entries) != 3 {
		t.Fatalf("%d entries, want 3: %+v", len(entries), entries)
	}
	for i, who := range []string{"Ama", "Kofi", "Esi"} {
		e := entries[i]
		if e.Who != who || e.Why == "" || e.Outside || e.At.IsZero() {
			t.Errorf("entry %d: %+v", i, e)
		}
		if i > 0 && e.Seq <= entries[i-1].Seq {
			t.Errorf("entry %d: sequence %d does not rise", i, e.Seq)
		}
	}
	for _, c := range entries[1].Changes {
		if c.Action != "insert" && len(c.Former) == 0 {
			t.Errorf("%s of %s kept no former value", c.Action, c.Table)
		}
	}
}

func undo(t *testing.T, s Store) {
	ctx := context.Background()
	first := FullBore(1)
	second := FullBore(1)
	second.Layers, second.Tests, second.Position = nil, second.Tests[1:], geo.Some(placed(0.3, 0.3))
	second.DepthM = geo.Some(0.1 + 0.2) // 17 digits
	third := second
	third.Cost, third.Samples = geo.Opt[geo.Money]{}, nil
	for _, b := range []geo.Bore{first, second, third} {
		must(t, s.SaveBore(ctx, b, ama))
	}
	id := string(first.ID)
	must(t, s.Undo(ctx, lastSeq(t, s, id), ama))
	same(t, get(t, s, first.ID), second)
	must(t, s.Undo(ctx, lastSeq(t, s, id), ama)) // undoing the undo
	same(t, get(t, s, first.ID), third)

	entries, err := s.History(ctx, id)
	must(t, err)
	if len(entries) != 5 {
		t.Fatalf("%d entries, want 5", len(entries))
	}
	rng := rand.New(rand.NewPCG(3, 5))
	for i := range 25 { // to the last bit, whatever the numbers
		was, is := randomBore(rng, 100+i), randomBore(rng, 100+i)
		must(t, s.SaveBore(ctx, was, ama))
		must(t, s.SaveBore(ctx, is, ama))
		must(t, s.Undo(ctx, lastSeq(t, s, string(is.ID)), ama))
		same(t, get(t, s, was.ID), was)
	}
	w := waterPoint(20)
	must(t, s.SaveWaterPoint(ctx, w, ama))
	w.Visits = w.Visits[:1]
	must(t, s.SaveWaterPoint(ctx, w, ama))
	must(t, s.Undo(ctx, lastSeq(t, s, string(w.ID)), ama))
	got, err := s.WaterPoint(ctx, w.ID)
	must(t, err)
	same(t, got, waterPoint(20))
}

func undoOvertaken(t *testing.T, s Store) {
	ctx := context.Background()
	b := FullBore(1)
	must(t, s.SaveBore(ctx, b, ama))
	first := lastSeq(t, s, string(b.ID))
	b.Remarks = "later"
	must(t, s.SaveBore(ctx, b, ama))
	wantKind(t, s.Undo(ctx, first, ama), geo.Conflict)
	same(t, get(t, s, b.ID), b)
	later := lastSeq(t, s, string(b.ID))
	must(t, s.Undo(ctx, later, ama))
	same(t, get(t, s, b.ID), FullBore(1))
	wantKind(t, s.Undo(ctx, later, ama), geo.Conflict) // undone already
	must(t, s.Undo(ctx, first, ama))                   // with nothing standing after it
	if got := all(t, s); len(got) != 0 {
		t.Fatalf("undoing the first change left %+v", got)
	}
	must(t, s.Restore(ctx, string(b.ID), ama))
	same(t, get(t, s, b.ID), FullBore(1))
}

func hideAndRestore(t *testing.T, s Store) {
	ctx := context.Background()
	b, v, w, area, r := FullBore(1), village(2, "Ho"), waterPoint(3), boundary(4), river(5)
	must(t, s.SaveBore(ctx, b, ama))
	must(t, s.SaveVillage(ctx, v, ama))
	must(t, s.SaveWaterPoint(ctx, w, ama))
	must(t, s.SaveBoundary(ctx, area, ama))
	must(t, s.SaveRiver(ctx, r, ama))
	for _, id := range []string{string(b.ID), string(v.ID), string(w.ID), string(area.ID), string(r.ID)} {
		must(t, s.Hide(ctx, id, store.Why{Who: "Esi", Reason: "double"}))
	}
	hidden, err := s.Hidden(ctx)
	must(t, err)
	counts, err := s.Counts(ctx)
	must(t, err)
	if len(hidden) != 5 || counts != (store.Counts{Hidden: 5}) {
		t.Fatalf("hidden %+v, counts %+v", hidden, counts)
	}
	if h := hidden[4]; h.ID != string(b.ID) || h.Layer != "bore" || h.Label != b.Code || h.Who != "Esi" || h.Why != "double" {
		t.Errorf("the first hidden record: %+v", h)
	}
	for _, h := range hidden {
		must(t, s.Restore(ctx, h.ID, ama))
	}
	same(t, get(t, s, b.ID), b)
	gotW, err := s.WaterPoint(ctx, w.ID)
	must(t, err)
	same(t, gotW, w)
	gotV, err := s.Village(ctx, v.ID)
	must(t, err)
	same(t, gotV, v)
	must(t, s.Boundaries(ctx, func(got geo.Boundary) error { same(t, got, area); return nil }))
	must(t, s.Rivers(ctx, func(got geo.River) error { same(t, got, r); return nil }))
	wantKind(t, s.Restore(ctx, string(b.ID), ama), geo.NotFound)

	must(t, s.Hide(ctx, string(b.ID), ama))
	b.Remarks = "found again"
	must(t, s.SaveBore(ctx, b, ama)) // saving a hidden record brings it back
	same(t, get(t, s, b.ID), b)
	wantKind(t, s.Restore(ctx, string(b.ID), ama), geo.NotFound)
}

func changedSince(t *testing.T, s Store) {
	ctx := context.Background()
	must(t, s.SaveBore(ctx, FullBore(1), ama))
	must(t, s.SaveBore(ctx, FullBore(2), ama))
	seq, err := s.Seq(ctx)
	must(t, err)
	none, err := s.ChangedSince(ctx, seq)
	must(t, err)
	same(t, none, store.Changed{Seq: seq})

	b := FullBore(2)
	b.Levels = append(b.Levels, geo.Level{State: geo.LevelRest, DepthM: geo.Some(5.0), On: geo.Some(geo.Date{Year: 2022})})
	must(t, s.SaveBore(ctx, b, ama)) // only a part differs
	must(t, s.SaveBore(ctx, FullBore(3), ama))
	must(t, s.Hide(ctx, ID(1), ama))
	must(t, s.SaveWaterPoint(ctx, waterPoint(20), ama))
	got, err := s.ChangedSince(ctx, seq)
	must(t, err)
	want := []geo.BoreID{geo.BoreID(ID(1)), geo.BoreID(ID(2)), geo.BoreID(ID(3))}
	sortIDs(want)
	now, err := s.Seq(ctx)
	must(t, err)
	same(t, got, store.Changed{Seq: now, Bores: want, Layers: []string{"water_point"}})
}

// told asks for words of what was done: each value with what it was and became.
func told(t *testing.T, s Store) {
	ctx := context.Background()
	b := FullBore(1)
	must(t, s.SaveBore(ctx, b, ama))
	b.DepthM, b.Layers = geo.Some(b.DepthM.Or(0)+1.5), b.Layers[:1]
	must(t, s.SaveBore(ctx, b, store.Why{Who: "Kofi", Reason: "typing error"}))
	must(t, s.Hide(ctx, string(b.ID), ama))
	must(t, s.Restore(ctx, string(b.ID), ama))
	all, err := s.Told(ctx, string(b.ID))
	must(t, err)
	var did []store.Deed
	for _, e := range all {
		did = append(did, e.Did)
	}
	if want := []store.Deed{store.DidAdd, store.DidChange, store.DidHide, store.DidAdd}; !slices.Equal(did, want) {
		t.Fatalf("did %v, want %v", did, want)
	}
	former := FullBore(1)
	for _, want := range []geo.Message{
		geo.Say("difference.value", geo.With("column", geo.Ref("field.depth-m")),
			geo.With("former", geo.Metres(former.DepthM.Or(0))), geo.With("now", geo.Metres(b.DepthM.Or(0)))),
		geo.Say("difference.part-gone", geo.With("table", geo.Ref("table.layer")),
			geo.With("part", geo.MetresRange{Lo: former.Layers[1].TopM, Hi: former.Layers[1].BaseM})),
	} {
		if !slices.ContainsFunc(all[1].Told, func(m geo.Message) bool { return m.String() == want.String() }) {
			t.Errorf("%v is not told in %v", want, all[1].Told)
		}
	}
	for _, m := range all[1].Told { // what stayed is not told
		if !strings.Contains(m.String(), "field.depth-m") && !strings.Contains(m.String(), "table.layer") {
			t.Errorf("%v was not changed", m)
		}
	}
}

// as is how something comes.
func as(body string, since int64) store.Sent { return store.Sent{Since: since, Body: []byte(body)} }

// received sends things twice, late and after others.
func received(t *testing.T, s Store) {
	ctx := context.Background()
	b := FullBore(1)
	first, err := s.ReceiveBore(ctx, b, as("first", 0), ama)
	must(t, err)
	again, err := s.ReceiveBore(ctx, b, as("first", 0), ama)
	must(t, err)
	if first.Again || !again.Again || again.Seq != first.Seq {
		t.Errorf("first %+v, again %+v", first, again)
	}
	next := b
	next.Remarks = "deepened"
	second, err := s.ReceiveBore(ctx, next, as("second", first.Seq), ama)
	must(t, err)
	if _, err := s.ReceiveBore(ctx, b, as("first", 0), ama); err != nil { // late, and taken already
		t.Errorf("what was received before: %v", err)
	}
	if got, err := s.ReceiveBore(ctx, next, as("second, typed anew", 0), ama); err != nil || !got.Again { // is so already
		t.Errorf("what is here just so: %+v, %v", got, err)
	}
	other := b
	other.Remarks = "by somebody else"
	_, err = s.ReceiveBore(ctx, other, as("other", first.Seq), ama)
	wantKind(t, err, geo.Conflict)
	same(t, get(t, s, b.ID), next)
	must(t, s.Hide(ctx, string(b.ID), ama))
	if got, err := s.ReceiveBore(ctx, next, as("second", first.Seq), ama); err != nil || !got.Again || got.Seq != second.Seq {
		t.Errorf("sent again after it was hidden: %+v, %v", got, err)
	}
	_, err = s.ReceiveBore(ctx, other, as("other again", second.Seq), ama)
	wantKind(t, err, geo.Conflict) // hidden since
	if left := all(t, s); len(left) != 0 {
		t.Errorf("sending brought a hidden bore back: %+v", left)
	}
}
