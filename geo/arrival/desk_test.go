package arrival_test

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"waterstrike/geo"
	"waterstrike/geo/arrival"
	"waterstrike/geo/demoland"
	"waterstrike/geo/intake"
	"waterstrike/geo/publish"
	"waterstrike/geo/soil"
	"waterstrike/geo/store"
)

// office is a desk over an empty base.
type office struct {
	*arrival.Desk
	base   *store.Base
	folder store.Folder
	now    time.Time
	end    context.CancelFunc
}

func newOffice(t *testing.T) *office {
	t.Helper()
	o := &office{folder: store.Folder(t.TempDir()), now: time.Date(2021, 3, 9, 0, 0, 0, 0, time.UTC)}
	must(t, o.folder.Make())
	var err error
	o.base, err = store.Create(o.folder.Ground(), store.DefaultOptions())
	must(t, err)
	o.open(t)
	t.Cleanup(func() { o.end(); o.Wait(); must(t, o.base.Close()) })
	return o
}

// open opens the desk as a program that starts does.
func (o *office) open(t *testing.T) {
	ctx, end := context.WithCancel(t.Context())
	o.end = end
	o.Desk = arrival.New(ctx, arrival.Config{
		Folder: o.folder, Base: o.base, Now: func() time.Time { return o.now },
		Known: func(context.Context) (intake.Known, error) { return intake.Known{Words: soil.DefaultReader()}, nil },
	})
}

func must(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// handed makes a sender of files, name and content in turn.
func handed(files ...string) arrival.Next {
	return func() (string, io.Reader, error) {
		if len(files) == 0 {
			return "", nil, io.EOF
		}
		name, content := files[0], files[1]
		files = files[2:]
		return name, strings.NewReader(content), nil
	}
}

// rests waits until nothing is being done about an arrival.
func (o *office) rests(t *testing.T, id string) arrival.Arrival {
	t.Helper()
	for begun := time.Now(); time.Since(begun) < 20*time.Second; time.Sleep(time.Millisecond) {
		a, err := o.Arrival(id)
		must(t, err)
		if a.Doing.Work == "" {
			return a
		}
	}
	t.Fatal("work does not end")
	return arrival.Arrival{}
}

func (o *office) receives(t *testing.T, files ...string) arrival.Arrival {
	t.Helper()
	a, err := o.Receive("Ana", handed(files...))
	must(t, err)
	return o.rests(t, a.ID)
}

// northwest is what one office of an invented region hands in.
func northwest() []string {
	land := demoland.New(11)
	var out []string
	for _, f := range land.Tables(land.Records()).Files {
		if strings.HasPrefix(f.Name, "northwest") && strings.HasSuffix(f.Name, ".csv") {
			out = append(out, f.Name, string(f.Data))
		}
	}
	return out
}

// The whole way: files come in, are matched, read, applied and taken back.
func TestFromHandToBaseAndBack(t *testing.T) {
	o := newOffice(t)
	a := o.receives(t, northwest()...)
	if a.Step != arrival.Matched || a.By != "Ana" || len(a.Report.Files) != 2 || a.Failure.Code != "" {
		t.Fatalf("%s, failure %v, %d files looked at", a.Step, a.Failure, len(a.Report.Files))
	}
	decided := a.Decided
	decided.Dataset, decided.Office, decided.Chosen = "northwest", "North-west office", choices(a.Report)
	must(t, o.Desk.Read(a.ID, decided))
	if a = o.rests(t, a.ID); a.Step != arrival.Draft || a.Failure.Code != "" {
		t.Fatalf("%s, failure %v", a.Step, a.Failure)
	}
	bores := a.Held["bore"]
	if bores < 100 || a.Compared.Added != bores || a.Read.Rows < bores || len(a.Read.Reasons) == 0 {
		t.Errorf("held %v, %+v, %+v", a.Held, a.Compared, a.Read)
	}
	must(t, o.Apply(a.ID, "Ana", false))
	if a = o.rests(t, a.ID); a.Step != arrival.Applied || a.Compared.Added != bores || a.Batch == "" {
		t.Fatalf("%s, failure %v, %+v", a.Step, a.Failure, a.Compared)
	}
	if got := o.count(t); got != bores {
		t.Errorf("%d bores in the base, want %d", got, bores)
	}
	if left, err := filepath.Glob(filepath.Join(o.folder.Arrival(a.ID), "*")); err != nil || len(left) != 1 {
		t.Errorf("after it was applied there are %v, %v", left, err)
	}
	if open, err := o.Arrivals(); err != nil || len(open) != 0 {
		t.Errorf("still waiting: %v, %v", open, err)
	}
	imports, err := o.Imports(t.Context())
	must(t, err)
	if len(imports) != 1 || imports[0].Who != "Ana" || imports[0].Added != bores || imports[0].Why != "northwest" {
		t.Fatalf("imports: %+v", imports)
	}
	must(t, o.TakeBack(t.Context(), imports[0].ID, "Ben"))
	o.untilTaken(t)
	if got := o.count(t); got != 0 {
		t.Errorf("%d bores after it was taken back", got)
	}
	if err := o.TakeBack(t.Context(), imports[0].ID, "Ben"); geo.KindOf(err) != geo.Conflict {
		t.Errorf("taken back twice: %v", err)
	}
	if err := o.TakeBack(t.Context(), "none", "Ben"); geo.KindOf(err) != geo.NotFound {
		t.Errorf("an import that never was: %v", err)
	}
}

// choices are what was proposed, as a person who agrees sends it.
func choices(r intake.Report) intake.Chosen {
	out := intake.Chosen{}
	for _, f := range r.Files {
		t := intake.ChosenTable{Kind: f.Kind}
		for _, c := range f.Columns {
			t.Columns = append(t.Columns, intake.ChosenColumn{Means: c.Means, Written: c.Written})
			if c.Written == "" && (c.Form == intake.FormLength || c.Form == intake.FormRate) {
				t.Columns[len(t.Columns)-1].Written = map[string]string{intake.FormLength: "m", intake.FormRate: "L/s"}[c.Form]
			}
		}
		out[f.File] = t
	}
	return out
}

func (o *office) count(t *testing.T) (n int) {
	t.Helper()
	must(t, o.base.Bores(t.Context(), func(geo.Bore) error { n++; return nil }))
	return n
}

func (o *office) untilTaken(t *testing.T) {
	t.Helper()
	for begun := time.Now(); time.Since(begun) < 20*time.Second; time.Sleep(time.Millisecond) {
		imports, err := o.Imports(t.Context())
		must(t, err)
		if imports[0].Failure.Code != "" {
			t.Fatal(imports[0].Failure)
		}
		if imports[0].TakenBack {
			return
		}
	}
	t.Fatal("not taken back")
}

// wells is a file of 20 bores, three of which have something that cannot be read.
var wells = func() string {
	rows := "no,longitude,latitude,depth,date completed,result\n" +
		"1,0.1,0.2,12,2011-03-04,producing\n2,0.2,nowhere,9,2011-03-05,dry\n3,0.3,0.2,twelve,2011-03-05,dry\n4,0.3,0.3,9,2011-02-30,dry\n"
	for n := 5; n <= 20; n++ {
		rows += fmt.Sprintf("%d,0.%d,0.3,%d,2011-04-%02d,producing\n", n, n, 8+n, n)
	}
	return rows
}()

// A unit that nothing tells keeps files from being read until a person tells it; what they
// changed is done, and the rows with issues come with their cells.
func TestWhatAPersonHasToSay(t *testing.T) {
	o := newOffice(t)
	a := o.receives(t, `C:\logs\wells.csv`, wells)
	if a.Files[0].Name != "wells.csv" || a.Decided.Dataset != "wells" {
		t.Errorf("kept as %+v of %q", a.Files, a.Decided.Dataset)
	}
	must(t, o.Desk.Read(a.ID, a.Decided))
	if a = o.rests(t, a.ID); a.Step != arrival.Matched || a.Failure.Code != "arrival.no-unit" {
		t.Fatalf("%s, failure %v", a.Step, a.Failure)
	}
	a.Decided.Chosen = choices(a.Report)
	a.Decided.Chosen["wells.csv"].Columns[3] = intake.ChosenColumn{Means: "depth", Written: "ft"}
	must(t, o.Match(a.ID, a.Decided))
	if a = o.rests(t, a.ID); a.Failure.Code != "" || len(a.Lacks()) > 0 {
		t.Fatalf("failure %v, lacks %v", a.Failure, a.Lacks())
	}
	must(t, o.Desk.Read(a.ID, a.Decided))
	if a = o.rests(t, a.ID); a.Step != arrival.Draft || a.Held["bore"] != 20 {
		t.Fatalf("%s, failure %v, held %v", a.Step, a.Failure, a.Held)
	}
	found, total, err := o.Findings(t.Context(), a.ID, arrival.Sought{Most: 2})
	must(t, err)
	if total != 3 || len(found) != 2 {
		t.Fatalf("%d of %d rows", len(found), total)
	}
	if f := found[0]; f.Row != 2 || f.Cells[2] != "nowhere" || f.Header[2] != "latitude" || f.Issues[0].Column != "longitude, latitude" {
		t.Errorf("%+v", f)
	}
	rest, _, err := o.Findings(t.Context(), a.ID, arrival.Sought{From: 2, Most: 2})
	if err != nil || len(rest) != 1 || rest[0].Row != 4 {
		t.Errorf("from the third: %+v, %v", rest, err)
	}
	dates, n, err := o.Findings(t.Context(), a.ID, arrival.Sought{Code: intake.BadDate, Severity: geo.Rejected, Most: 9})
	if err != nil || n != 1 || dates[0].Issues[0].Read != "2011-02-30" {
		t.Errorf("dates alone: %+v, %d, %v", dates, n, err)
	}
	must(t, o.Apply(a.ID, "Ana", false))
	o.rests(t, a.ID)
	must(t, o.base.Bores(t.Context(), func(b geo.Bore) error {
		if d, ok := b.DepthM.Get(); b.Code == "1" && (!ok || math.Abs(d-3.6576) > 1e-9) {
			t.Errorf("depth %v", b.DepthM)
		}
		return nil
	}))
}

// The same file again adds nothing; a newer one shows what changed.
func TestAgain(t *testing.T) {
	o := newOffice(t)
	for i, c := range []struct {
		file                   string
		added, changed, absent int
	}{{wells, 20, 0, 0}, {wells, 0, 0, 0}, {strings.Replace(wells, "1,0.1,0.2,12", "1,0.1,0.2,14", 1), 0, 1, 0}} {
		a := o.receives(t, "wells.csv", c.file)
		a.Decided.Chosen = choices(a.Report)
		must(t, o.Desk.Read(a.ID, a.Decided))
		a = o.rests(t, a.ID)
		if a.Compared.Added != c.added || a.Compared.Changed != c.changed || len(a.Shown) != c.changed {
			t.Errorf("%d: %+v, shown %+v, failure %v", i, a.Compared, a.Shown, a.Failure)
		}
		must(t, o.Apply(a.ID, "Ana", false))
		if a = o.rests(t, a.ID); a.Step != arrival.Applied {
			t.Errorf("%d: %s, %v", i, a.Step, a.Failure)
		}
	}
}

// A mapping file among the files decides, and what this program exported needs none.
func TestFilesThatNeedNoMatching(t *testing.T) {
	o := newOffice(t)
	m, err := demoland.Mappings().Open("northwest.json")
	must(t, err)
	mapping, err := io.ReadAll(m)
	must(t, err)
	a := o.receives(t, append(northwest(), "how we write.json", string(mapping))...)
	if a.Step != arrival.Matched || a.Given != "how we write.json" || a.Decided.Dataset == "" {
		t.Fatalf("%s, given %q, failure %v", a.Step, a.Given, a.Failure)
	}
	must(t, o.Desk.Read(a.ID, a.Decided))
	if a = o.rests(t, a.ID); a.Step != arrival.Draft {
		t.Fatalf("%s, failure %v", a.Step, a.Failure)
	}
	must(t, o.Apply(a.ID, "Ana", false))
	if a = o.rests(t, a.ID); a.Step != arrival.Applied {
		t.Fatalf("%s, failure %v", a.Step, a.Failure)
	}
	a = o.receives(t, "how we write.json", string(mapping))
	if a.Step != arrival.Received || a.Failure.Code != "arrival.file-missing" {
		t.Errorf("a mapping alone: %s, %v", a.Step, a.Failure)
	}

	var exported bytes.Buffer
	must(t, publish.BoresGeoJSON(t.Context(), &exported, o.base))
	other := newOffice(t)
	a = other.receives(t, "from the other office.geojson", exported.String())
	if a.Step != arrival.Draft || !a.Own || a.Held["bore"] != o.count(t) || a.Compared.Added == 0 {
		t.Errorf("%s, own %v, held %v, failure %v", a.Step, a.Own, a.Held, a.Failure)
	}
}

// What cannot come in is refused with a reason, and leaves nothing behind.
func TestRefused(t *testing.T) {
	o := newOffice(t)
	lost := errors.New("the line is cut")
	for _, c := range []struct {
		name string
		next arrival.Next
		want geo.Code
	}{
		{"nothing", handed(), "arrival.none"},
		{"an empty file", handed("a.csv", ""), "arrival.empty"},
		{"too many", handed(slices.Repeat([]string{"a.csv", "x"}, arrival.MaxFiles+1)...), "arrival.too-many"},
		{"too large", func() (string, io.Reader, error) { return "a.csv", endless{}, nil }, "arrival.too-large"},
	} {
		_, err := o.Receive("Ana", c.next)
		var failure *geo.Error
		if geo.KindOf(err) != geo.Invalid || !errors.As(err, &failure) || failure.Message.Code != c.want {
			t.Errorf("%s: %v", c.name, err)
		}
	}
	if _, err := o.Receive("Ana", func() (string, io.Reader, error) { return "a.csv", cut{lost}, nil }); !errors.Is(err, lost) {
		t.Errorf("a line that is cut: %v", err)
	}
	if left, err := os.ReadDir(filepath.Dir(o.folder.Arrival("x"))); err != nil || len(left) > 0 {
		t.Errorf("left behind: %v, %v", left, err)
	}
	for _, c := range []struct {
		name, content string
		step          arrival.Step
		failure       geo.Code
	}{
		{"a.csv", "\x00\x01\x02", arrival.Received, "arrival.not-read"},
		{"a.xlsx", "no workbook", arrival.Received, "arrival.not-read"},
		{"a.csv", "x,y,z\n1,2,3\n", arrival.Matched, ""},
	} {
		a := o.receives(t, c.name, c.content)
		if a.Step != c.step || a.Failure.Code != c.failure {
			t.Errorf("%q: %s, %v", c.content, a.Step, a.Failure)
		}
		if err := o.Apply(a.ID, "Ana", false); geo.KindOf(err) != geo.Conflict {
			t.Errorf("%q is applied: %v", c.content, err)
		}
		must(t, o.Discard(a.ID))
	}
	for _, id := range []string{"", "..", "../../x", "0123456789abcdef"} {
		if _, err := o.Arrival(id); geo.KindOf(err) != geo.NotFound {
			t.Errorf("%q: %v", id, err)
		}
		if err := o.Discard(id); geo.KindOf(err) != geo.NotFound {
			t.Errorf("%q is thrown away: %v", id, err)
		}
	}
}

// endless is a file without an end.
type endless struct{}

func (endless) Read(p []byte) (int, error) { return len(p), nil }

// cut is a file whose sender is gone.
type cut struct{ err error }

func (c cut) Read([]byte) (int, error) { return 0, c.err }

// A program that ended leaves arrivals where they stood; those that nobody comes back for
// go after a while, and too many that wait keep others out.
func TestWhatStays(t *testing.T) {
	o := newOffice(t)
	a := o.receives(t, "wells.csv", wells)
	o.end()
	o.Wait()
	o.open(t)
	if again, err := o.Arrival(a.ID); err != nil || again.Step != arrival.Matched || again.Decided.Dataset != "wells" {
		t.Errorf("%+v, %v", again, err)
	}
	var err error
	for n := 0; err == nil; n++ {
		if n == 60 {
			t.Fatal("there is no end to what waits")
		}
		var more arrival.Arrival
		if more, err = o.Receive("Ana", handed("wells.csv", wells)); err == nil {
			o.rests(t, more.ID)
		}
	}
	if geo.KindOf(err) != geo.Conflict {
		t.Error(err)
	}
	o.now = o.now.Add(15 * 24 * time.Hour)
	o.receives(t, "wells.csv", wells)
	if open, err := o.Arrivals(); err != nil || len(open) != 1 {
		t.Errorf("%d still wait, %v", len(open), err)
	}
}

// Names are kept as their senders wrote them, but for what could lead elsewhere.
func TestNames(t *testing.T) {
	o := newOffice(t)
	a, err := o.Receive("", handed("../../etc/x.csv", "x", "x.csv", "x", "a\x00b:c?.csv", "x", "X.CSV", "x", "...", "x", "é à.xlsx", "x"))
	must(t, err)
	o.rests(t, a.ID)
	var names []string
	for _, f := range a.Files {
		names = append(names, f.Name)
	}
	if want := []string{"x.csv", "x (2).csv", "a-b-c-.csv", "X (3).CSV", "file.", "é à.xlsx"}; !slices.Equal(names, want) {
		t.Errorf("%q, want %q", names, want)
	}
}
