package intake_test

import (
	"context"
	"math"
	"path/filepath"
	"slices"
	"testing"
	"testing/fstest"

	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/demoland"
	"waterstrike/geo/intake"
	"waterstrike/geo/soil"
)

// The demo region's own tables, as its offices would hand them over, come in through
// the mapping files that ship with it: every row applied or listed, and the defects that
// were put in on purpose are found.
func TestReadDemoTables(t *testing.T) {
	land := demoland.New(1)
	mess := land.Tables(land.Records())
	fsys := fstest.MapFS{}
	for _, f := range mess.Files {
		fsys[f.Name] = &fstest.MapFile{Data: f.Data}
	}
	for _, name := range []string{"northwest", "est", "sudoeste", "places"} {
		t.Run(name, func(t *testing.T) {
			m := mapping(t, filepath.Join("..", "demoland", "mappings", name+".json"))
			var bag intake.Memory
			got, err := intake.Read(context.Background(), m, fsys, &bag, nil)
			if err != nil {
				t.Fatal(err)
			}
			t.Logf("%+v", got)
			if got.Rows == 0 || got.Rows != got.Applied+got.Rejected || got.Applied*10 < got.Rows*9 {
				t.Errorf("%d rows, %d applied, %d rejected", got.Rows, got.Applied, got.Rejected)
			}
			checkListed(t, bag.Issues, got, nil)
			checkPlanted(t, mess, m, bag.Issues)
			checkWords(t, bag.Bores)
		})
	}
}

// shownBy says which issues show each kind of planted defect; a kind that is not here
// leaves nothing to see in the row itself, or is read as the mapping says.
var shownBy = map[string][]geo.Code{
	demoland.ZoneMissing:   {intake.BadPosition},
	demoland.BottomMissing: {intake.MissingValue},
	demoland.Duplicate:     {intake.DuplicateRow},
	demoland.Swapped:       {intake.OutsideBoundary, intake.BadPosition},
}

func checkPlanted(t *testing.T, mess demoland.Mess, m intake.Mapping, issues []geo.Issue) {
	t.Helper()
	for _, d := range mess.Defects {
		codes, shown := shownBy[d.Kind]
		ours := slices.ContainsFunc(m.Tables, func(t intake.Table) bool { return t.File == d.File })
		if !shown || !ours {
			continue
		}
		found := slices.ContainsFunc(issues, func(i geo.Issue) bool {
			return i.File == d.File && i.Row == d.Row && slices.Contains(codes, i.Message.Code)
		})
		if !found {
			t.Errorf("%s, row %d: %s was not reported as %v", d.File, d.Row, d.Kind, codes)
		}
	}
}

// checkWords checks that the words of the region's crews are read, misspelt ones mostly.
func checkWords(t *testing.T, bores []geo.Bore) {
	t.Helper()
	layers, unread := 0, 0
	for _, b := range bores {
		for _, l := range b.Layers {
			layers++
			if l.Class == soil.Unknown {
				unread++
				t.Logf("not read: %q", l.Words)
			}
		}
	}
	if unread*50 > layers { // of one word in twenty misspelt, most are read
		t.Errorf("%d of %d descriptions were not read", unread, layers)
	}
}

// What comes in must be what the offices meant: depth, day, method, outcome and the class
// of each layer, against the region's own records. The files round depths to a decimetre
// or a tenth of a foot, and positions to a metre, 1e-5 degrees or a tenth of a second.
func TestDemoComesInTrue(t *testing.T) {
	land := demoland.New(1)
	records := land.Records()
	mess := land.Tables(records)
	fsys := fstest.MapFS{}
	for _, f := range mess.Files {
		fsys[f.Name] = &fstest.MapFile{Data: f.Data}
	}
	spoilt := map[string]bool{} // bores whose position was written wrong on purpose
	codes := map[geo.BoreID]string{}
	for _, b := range records.Bores {
		codes[b.ID] = b.Code
	}
	for _, d := range mess.Defects {
		if d.Kind == demoland.Swapped || d.Kind == demoland.SignLost || d.Kind == demoland.ZoneMissing {
			spoilt[codes[d.Bore]] = true
		}
	}
	var bag intake.Memory
	for _, name := range []string{"northwest", "est", "sudoeste"} {
		m := mapping(t, filepath.Join("..", "demoland", "mappings", name+".json"))
		if _, err := intake.Read(context.Background(), m, fsys, &bag, nil); err != nil {
			t.Fatal(err)
		}
	}
	layers, agreed := 0, 0
	for _, want := range records.Bores {
		got, known := bag.Bore(want.Code)
		if !known {
			t.Errorf("%s did not come in", want.Code)
			continue
		}
		compareBore(t, got, want, spoilt[want.Code])
		n, same := compareLayers(t, got.Layers, want.Layers)
		layers += n
		agreed += same
	}
	t.Logf("%d of %d layers read as the class that was meant", agreed, layers)
	if layers < 1000 || agreed*100 < layers*97 { // of one word in twenty misspelt, most are read
		t.Errorf("%d of %d layers read as meant", agreed, layers)
	}
}

func compareBore(t *testing.T, got, want geo.Bore, spoilt bool) {
	t.Helper()
	const depthTol = 0.051 // half a decimetre, and the binary rounding of it
	if d := got.DepthM.Or(-1) - want.DepthM.Or(0); d < -depthTol || d > depthTol {
		t.Errorf("%s: depth %v, want %v", want.Code, got.DepthM.Or(-1), want.DepthM.Or(0))
	}
	if got.Method != want.Method || got.Outcome != want.Outcome || got.Place != want.Place {
		t.Errorf("%s: %s %s %q, want %s %s %q", want.Code, got.Method, got.Outcome, got.Place, want.Method, want.Outcome, want.Place)
	}
	if on, known := got.Completed.Get(); known && on.Day != 0 && on != want.Completed.Or(geo.Date{}) {
		t.Errorf("%s: %v, want %v", want.Code, on, want.Completed)
	}
	const placeTol = 6e-5 // degrees, a tenth of a second and the datum's rounding: 3 m each way
	g, w := got.Position.Or(coord.Reading{}).Pos, want.Position.Or(coord.Reading{}).Pos
	if !spoilt && (math.Abs(g.Lon-w.Lon) > placeTol || math.Abs(g.Lat-w.Lat) > placeTol) {
		t.Errorf("%s: %v, want %v", want.Code, g, w)
	}
}

// compareLayers counts the layers that came in, and those of the class and sand grade
// that the region's records hold. That rotten rock is clayey stands in the records, not in
// the words.
func compareLayers(t *testing.T, got, want []geo.Layer) (n, agreed int) {
	t.Helper()
	for _, g := range got {
		at := slices.IndexFunc(want, func(w geo.Layer) bool { return math.Abs(w.TopM-g.TopM) < 0.06 && math.Abs(w.BaseM-g.BaseM) < 0.06 })
		if at < 0 {
			t.Errorf("%v-%v m %q is no layer of the bore", g.TopM, g.BaseM, g.Words)
			continue
		}
		n++
		if w := want[at]; w.Class == g.Class && w.Grade == g.Grade && (w.Clayey == g.Clayey || w.Class == soil.WeatheredRock) {
			agreed++
		} else {
			t.Logf("%q: %v %v clayey=%v, meant %v %v clayey=%v", g.Words, g.Class, g.Grade, g.Clayey, w.Class, w.Grade, w.Clayey)
		}
	}
	return n, agreed
}
