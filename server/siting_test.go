package server_test

import (
	"math"
	"net/url"
	"strconv"
	"strings"
	"testing"
	"time"

	"waterstrike/geo"
	"waterstrike/geo/coord"
)

const visitID = "1d4a0d0a-77c2-4c6e-8a55-0f6a2b9c1e77"

func visited() url.Values {
	return url.Values{
		"id": {visitID}, "since": {"0"}, "place": {"Upper <script>alert(1)</script> ford"}, "at": {"0.1 N 0.2 E"}, "on": {"2021-03-09"},
		"near.0.kind": {"latrine"}, "near.0.distance": {"12"}, "near.0.depth": {"3"},
		"near.1.kind": {"dug-well"}, "near.1.distance": {"100"}, "near.1.bearing": {"90"}, "near.1.depth": {"8,5"}, "near.1.dry": {"3 4"}, "near.1.said-by": {"owner"},
		"near.2.kind": {"dug-well"}, "near.2.dry": {"never"}, "near.2.distance": {"60"}, "near.3.kind": {"graves"}, "near.3.distance": {"80"},
		"ordnance": {"not-cleared"}, "consent": {"yes"}, "consent-by": {"headman"}, "flood": {"0.4"}, "by": {"crew 2"},
	}
}

// A visit is kept, its dug wells become water points where they stand, and what stands too
// near is told. A degree of the equator is 111.3 km (WGS 84).
func TestSitingVisit(t *testing.T) {
	b, base := newShelved(t)
	for range 2 {
		if w := b.acts("/sitings", visited()); w.Code != 303 {
			t.Fatalf("%d %s", w.Code, w.Body)
		}
	}
	var wells []geo.WaterPoint
	if err := base.WaterPoints(t.Context(), func(w geo.WaterPoint) error { wells = append(wells, w); return nil }); err != nil || len(wells) != 2 {
		t.Fatalf("%d wells, %v", len(wells), err)
	}
	for _, w := range wells {
		away := coord.DistanceM(coord.LonLat{Lon: 0.2, Lat: 0.1}, w.Position.Pos)
		switch {
		case w.DepthM.Known():
			if math.Abs(away-100) > 0.01 || w.Position.Pos.Lon <= 0.2 || w.DryMonths.Or(0) != geo.Months(time.March, time.April) || w.Source.Fields["depth-m"] != "owner" {
				t.Errorf("%v m away: %+v", away, w)
			}
		case away != 0 || w.Position.PrecisionM < 60 || !w.DryMonths.Known() || w.DryMonths.Or(1) != 0:
			t.Errorf("%v m away: %+v", away, w)
		}
	}
	page := plain(b.get("/sitings/"+visitID, html...))
	for _, want := range []string{"✗ too near", "30 m", "✓ far enough", "8.5 m deep", "dry: March, April", "dry: never", "said by owner", "Stop: unexploded ordnance", "0.4 m above the ground", "Nobody asked about buried pipes", "&lt;script&gt;"} {
		if !strings.Contains(page, want) {
			t.Errorf("the page lacks %q", want)
		}
	}
	if strings.Contains(page, "<script>alert") || strings.Contains(page, "⟨") {
		t.Error("markup in a name, or a gap in a sentence")
	}
	edit := fieldsIn(b.get("/sitings/"+visitID+"/edit?lang=fr", html...).Body.String())
	if got := edit.Get("near.2.dry"); got != "jamais" { // and read back as it is written
		t.Errorf("the French form says %q of a well that is never dry", got)
	}
	edit.Set("ordnance", "cleared")
	if w := b.acts("/sitings", edit); w.Code != 303 {
		t.Fatalf("correction: %d %s", w.Code, w.Body)
	}
	wells = nil
	if err := base.WaterPoints(t.Context(), func(w geo.WaterPoint) error { wells = append(wells, w); return nil }); err != nil || len(wells) != 2 {
		t.Errorf("after a correction %d wells, %v", len(wells), err)
	}
}

// A form of very many rows is refused in a page that is no larger than one that could be kept.
func TestSitingOfManyRows(t *testing.T) {
	b, _ := newShelved(t)
	many := visited()
	for i := range 3000 {
		many.Set("near."+strconv.Itoa(i)+".kind", "latrine")
	}
	if w := b.acts("/sitings", many); w.Code != 400 || w.Body.Len() > 1<<20 || !strings.Contains(w.Body.String(), "3000") {
		t.Errorf("%d with %d bytes", w.Code, w.Body.Len())
	}
}

func TestSitingFaults(t *testing.T) {
	b, base := newShelved(t)
	wrong := visited()
	for name, text := range map[string]string{"at": "", "near.1.dry": "13", "near.0.kind": "", "near.3.distance": "far", "ordnance": "fine"} {
		wrong.Set(name, text)
	}
	w := b.acts("/sitings", wrong)
	for _, want := range []string{"No point was given", "“13” are not months", "What is missing", "“far” is not a number", "“fine” is not one of the choices"} {
		if !strings.Contains(w.Body.String(), want) {
			t.Errorf("%q is not said", want)
		}
	}
	if w.Code != 400 {
		t.Errorf("status %d", w.Code)
	}
	if seq, err := base.Seq(t.Context()); seq != 0 || err != nil {
		t.Errorf("something was written: %d, %v", seq, err)
	}
	for _, path := range []string{"/sitings/" + visitID, "/sitings/7", "/sitings/" + visitID + "/edit"} {
		if w := b.get(path, html...); w.Code != 404 {
			t.Errorf("%s: %d", path, w.Code)
		}
	}
}

// A visit goes out of sight with the wells that it told of and comes back with them; a
// correction of it is taken back. Whoever follows its address is told, and nothing is lost.
func TestSitingIsHiddenAndTakenBack(t *testing.T) {
	b, base := newShelved(t)
	expect := func(what string, got, want int) {
		t.Helper()
		if got != want {
			t.Errorf("%s: %d, want %d", what, got, want)
		}
	}
	wells := func() (n int) {
		if err := base.WaterPoints(t.Context(), func(geo.WaterPoint) error { n++; return nil }); err != nil {
			t.Fatal(err)
		}
		return n
	}
	address := "/sitings/" + visitID
	expect("sent", b.acts("/sitings", visited()).Code, 303)
	edit := fieldsIn(b.get(address+"/edit", html...).Body.String())
	edit.Set("ordnance", "cleared")
	expect("corrected", b.acts("/sitings", edit).Code, 303)
	page := b.get(address, html...).Body.String()
	seq := strings.SplitN(strings.SplitN(page, `name="seq" value="`, 2)[1], `"`, 2)[0]
	expect("another change", b.acts(address+"/undo", url.Values{"seq": {"1"}}).Code, 400)
	expect("taken back", b.acts(address+"/undo", url.Values{"seq": {seq}}).Code, 303)
	if page = plain(b.get(address, html...)); !strings.Contains(page, "Stop: unexploded ordnance") {
		t.Error("the correction stands")
	}
	expect("wells", wells(), 2)
	expect("hidden", b.acts(address+"/hide", url.Values{"reason": {"wrong village"}}).Code, 303)
	expect("wells of a hidden visit", wells(), 0)
	if page = plain(b.get(address, html...)); !strings.Contains(page, "This visit is hidden") || !strings.Contains(page, "wrong village") || strings.Contains(page, "latrine") && strings.Contains(page, "✗ too near") {
		t.Errorf("a hidden visit shows %.900s", page)
	}
	expect("hidden twice", b.acts(address+"/hide", url.Values{}).Code, 404)
	expect("brought back", b.acts(address+"/restore", url.Values{}).Code, 303)
	expect("wells again", wells(), 2)
	if page = plain(b.get(address, html...)); !strings.Contains(page, "✗ too near") {
		t.Error("it did not come back")
	}
	expect("no visit", b.acts("/sitings/00000000-0000-4000-8000-00000000dead/hide", url.Values{}).Code, 404)
}
