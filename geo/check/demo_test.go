package check_test

import (
	"context"
	"io/fs"
	"maps"
	"os"
	"slices"
	"testing"
	"testing/fstest"

	"waterstrike/geo"
	"waterstrike/geo/check"
	"waterstrike/geo/demoland"
	"waterstrike/geo/intake"
)

var today = geo.Date{Year: 2026, Month: 11, Day: 25}

// region is an invented region as its offices' files bring it in.
type region struct {
	intake.Memory
	boundaries []geo.Boundary
}

func (r *region) Bores(_ context.Context, fn func(geo.Bore) error) error {
	return each(r.Memory.Bores, fn)
}

func (r *region) Villages(_ context.Context, fn func(geo.Village) error) error {
	return each(r.Memory.Villages, fn)
}

func (r *region) Boundaries(_ context.Context, fn func(geo.Boundary) error) error {
	return each(r.boundaries, fn)
}

func each[T any](list []T, fn func(T) error) error {
	for _, v := range list {
		if err := fn(v); err != nil {
			return err
		}
	}
	return nil
}

// bringIn reads an invented region's files by the mappings that ship with it.
func bringIn(t *testing.T, seed uint64) (*region, demoland.Records, demoland.Mess) {
	t.Helper()
	land := demoland.New(seed)
	records := land.Records()
	mess := land.Tables(records)
	files := fstest.MapFS{}
	for _, f := range mess.Files {
		files[f.Name] = &fstest.MapFile{Data: f.Data}
	}
	r := &region{boundaries: []geo.Boundary{records.Boundary}}
	for _, name := range []string{"northwest", "est", "sudoeste", "places"} {
		read(t, r, demoland.Mappings(), name+".json", files)
	}
	return r, records, mess
}

func read(t *testing.T, r *region, mappings fs.FS, name string, files fs.FS) {
	t.Helper()
	f, err := mappings.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	m, err := intake.LoadMapping(f)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := intake.Read(context.Background(), m, files, &r.Memory, nil); err != nil {
		t.Fatal(err)
	}
}

// all returns every finding of a region.
func all(t testing.TB, r *region) []geo.Issue {
	t.Helper()
	var found []geo.Issue
	for _, b := range r.Memory.Bores {
		found = append(found, check.Bore(b, today)...)
	}
	err := check.Across(context.Background(), r, check.DefaultOptions(), func(i geo.Issue) error {
		found = append(found, i)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return found
}

// reaches says by which rules each kind of planted mistake shows that reaches the base;
// the others are settled at intake: words, units and repeated rows.
var reaches = map[string][]geo.Code{
	demoland.Swapped:       {check.PositionSwapped, check.PositionSignLost, check.PositionFar, check.NoPosition},
	demoland.SignLost:      {check.PositionSignLost, check.PositionFar},
	demoland.ZoneMissing:   {check.NoPosition},
	demoland.BottomMissing: {check.LayersEndEarly, check.LogAbsent},
	demoland.LevelZero:     {check.LevelAbsent, check.LevelZero},
	demoland.LevelAbsent:   {check.LevelAbsent},
	demoland.DateMissing:   {check.MonthAbsent},
	demoland.DateYear:      {check.MonthAbsent},
}

// mended are the kinds that leave nothing wrong in the base: the word, unit, date or
// repeated row was read rightly, or refused at intake.
var mended = []string{demoland.Misspelt, demoland.YieldUnit, demoland.DateSerial, demoland.Duplicate}

// Planted mistakes that reach the base are found, and clean records are left in peace.
func TestInventedRegions(t *testing.T) {
	last := uint64(3)
	if os.Getenv("WATERSTRIKE_LONG") == "1" {
		last = 20
	}
	sum := newScore()
	for seed := uint64(1); seed <= last; seed++ {
		r, records, mess := bringIn(t, seed)
		sum.add(t, records, mess, r, all(t, r))
	}
	sum.judge(t)
}

// score counts what was planted and what was found, by kind.
type score struct {
	planted, found map[string]int
	clean, alarms  int
	noted          int
	why            map[geo.Code]int
}

func newScore() *score {
	return &score{planted: map[string]int{}, found: map[string]int{}, why: map[geo.Code]int{}}
}

func (s *score) add(t *testing.T, records demoland.Records, mess demoland.Mess, r *region, found []geo.Issue) {
	t.Helper()
	codes := map[geo.BoreID]string{}
	for _, b := range records.Bores {
		codes[b.ID] = b.Code
	}
	said := map[string][]geo.Issue{} // by record
	for _, i := range found {
		said[i.Record] = append(said[i.Record], i)
	}
	spoilt := map[string]bool{}
	for _, d := range mess.Defects {
		by, arrives := reaches[d.Kind]
		if !arrives && !slices.Contains(mended, d.Kind) {
			t.Errorf("kind %q is not accounted for", d.Kind)
		}
		b, known := r.Bore(codes[d.Bore])
		if !arrives || !known || level(d.Kind) && b.Outcome != geo.Producing {
			continue
		}
		spoilt[codes[d.Bore]] = true
		s.planted[d.Kind]++
		if slices.ContainsFunc(said[string(b.ID)], func(i geo.Issue) bool { return slices.Contains(by, i.Message.Code) }) {
			s.found[d.Kind]++
		} else {
			t.Logf("%s: %s was not found: %v at %v", b.Code, d.Kind, said[string(b.ID)], b.Position)
		}
	}
	for _, b := range r.Memory.Bores {
		if !spoilt[b.Code] {
			s.cleanOne(t, b, said[string(b.ID)])
		}
	}
}

// level reports the kinds that say nothing against a bore without water.
func level(kind string) bool { return kind == demoland.LevelZero || kind == demoland.LevelAbsent }

func (s *score) cleanOne(t *testing.T, b geo.Bore, said []geo.Issue) {
	s.clean++
	doubted := false
	for _, i := range said {
		s.why[i.Message.Code]++
		if i.Severity != geo.Note {
			doubted = true
			t.Logf("clean %s: %v", b.Code, i.Message)
		}
	}
	if doubted {
		s.alarms++
	}
	if len(said) > 0 {
		s.noted++
	}
}

func (s *score) judge(t *testing.T) {
	t.Helper()
	planted, found := 0, 0
	for _, kind := range slices.Sorted(maps.Keys(s.planted)) {
		t.Logf("%-24s %4d of %4d found", kind, s.found[kind], s.planted[kind])
		planted, found = planted+s.planted[kind], found+s.found[kind]
	}
	t.Logf("all kinds: %d of %d; clean records doubted: %d of %d, with a finding of any kind %d: %v",
		found, planted, s.alarms, s.clean, s.noted, s.why)
	if planted < 100 || found*100 < planted*90 {
		t.Errorf("%d of %d planted mistakes found, want nine in ten", found, planted)
	}
	if s.clean < 500 || s.alarms*100 > s.clean*3 {
		t.Errorf("%d of %d clean records doubted, want three in a hundred at most", s.alarms, s.clean)
	}
}

// The records themselves, pipes and fills included, before any office spoilt them: hardly
// any is doubted.
func TestRecordsAsDrilled(t *testing.T) {
	n, doubted, why := 0, 0, map[geo.Code]int{}
	for seed := uint64(1); seed <= 3; seed++ {
		records := demoland.New(seed).Records()
		r := &region{boundaries: []geo.Boundary{records.Boundary}}
		r.Memory.Bores, r.Memory.Villages = records.Bores, records.Villages
		alarmed := map[string]bool{}
		for _, i := range all(t, r) {
			why[i.Message.Code]++
			if i.Severity != geo.Note {
				alarmed[i.Record] = true
			}
		}
		n, doubted = n+len(records.Bores), doubted+len(alarmed)
	}
	t.Logf("%d of %d doubted; findings: %v", doubted, n, why)
	if n < 1000 || doubted*100 > n*3 {
		t.Errorf("%d of %d sound records doubted, want three in a hundred at most", doubted, n)
	}
}
