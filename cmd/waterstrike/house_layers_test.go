package main_test

import (
	"path"
	"slices"
	"strings"
	"testing"
)

// order is the policy of who may import whom: a package imports only packages that stand
// above it here. It is a statement of how the house is built, not a record of how the
// code happens to be: DO NOT CHANGE IT TO FIX A BUILD. A package that is not here may
// not exist; a sub-package needs a row of its own.
const order = `
geo/outside          what tests take from outside the project
geo/coord            positions: reading, datums, grids, geodesics
geo/soil             soil and rock classes, and drillers' words for them
geo                  the records of the ground
geo/index            bores by place
geo/terrain          elevation grids and what flows from them
geo/demoland         the invented region with exact truth
geo/intake           files of others into records and issues
geo/check            plausibility of records
geo/store            the knowledge base: the only SQL for ground data
geo/store/storetest  what every store must do
geo/publish          records into files for others
geo/arrival          files that people hand in, until they are records
advisor/evidence     the immutable snapshot every answer reads
advisor/evidence/evidencetest bores that never change, for tests
advisor/near         the nearest of many points in a plane
advisor/variogram    models of spatial likeness and their fitting
advisor/krige        local prediction from points
advisor/level        depth to water at a point
advisor/strata       layers at a point
advisor/hydraulics   pumping tests and the yield of a screen
advisor/pumptest     a test as it was written down, and every fit it allows
advisor/rule         rules of the trade with source and mark, and a programme's edits
advisor/method       drilling methods and what stops them
advisor/method/methodtest methods against ground that tests know
advisor/welldesign   casing, screen, pack, seal; quantities, hours, cost
advisor              the joint chance, its reasons, the plan
advisor/advisortest  advisors for tests
advisor/livehole     the chances beside an open hole, from a pack and a log alone
advisor/trust        does it keep its word
advisor/programme    which villages, which test bores
advisor/coverage     people served, outcomes, costs
advisor/season       records into the season's question and the account
ui/say               codes into sentences
ui/draw              numbers into drawings
ui                   templates and static files
server/account       people, sign-ins, share links, in a file of their own
server/authority     a certificate authority of this computer's own
server/features      records as features by an open standard
server/sheet         advice and records into pages and prints
server/sheet/sheettest an invented plan for the tests of the faces
server/tile          records and land into the tiles of a map
server               routes and views
cmd/waterstrike      the only wiring
`

// never is what a package may not reach, not even through others.
var never = []struct{ who, reaches, why string }{
	{"geo/soil", "waterstrike/...", "soil words stand alone, so that any room can use them"},
	{"advisor/...", "net/http", "an answer depends on its snapshot alone, never on a network"},
	{"advisor/...", "database/sql", "an answer reads a snapshot, never a table"},
	{"advisor/...", "modernc.org/sqlite/...", "an answer reads a snapshot, never a table"},
	{"advisor/...", "waterstrike/geo/store/...", "an answer reads a snapshot, never a table"},
	{"advisor/...", "waterstrike/geo/intake/...", "files are read once, at intake"},
	{"advisor/...", "waterstrike/geo/publish/...", "what is written out is no input"},
	{"advisor/...", "waterstrike/geo/arrival/...", "files are read once, at intake"},
	{"advisor/...", "waterstrike/geo/demoland/...", "who is judged by the truth must not see it"},
	{"advisor/near", "waterstrike/...", "it sees coordinates and nothing else"},
	{"advisor/variogram", "waterstrike/geo/...", "it sees points and numbers"},
	{"advisor/variogram", "waterstrike/advisor/evidence", "it sees points and numbers"},
	{"advisor/krige", "waterstrike/geo/...", "it sees points and numbers"},
	{"advisor/krige", "waterstrike/advisor/evidence", "it sees points and numbers"},
	{"ui/...", "waterstrike/geo/...", "faces take codes and numbers from the server or the command"},
	{"ui/...", "waterstrike/advisor/...", "faces take codes and numbers from the server or the command"},
	{"ui/...", "waterstrike/server/...", "faces are shared by the server and the command"},
	{"ui/...", "net/http", "faces are shared by the server and the command"},
	{"server/sheet", "net/http", "the command prints the same pages without a server"},
	{"server/tile", "net/http", "a tile is bytes; only the server sends them"},
	{"server/tile", "waterstrike/geo/store/...", "a tile is cut from what it is given"},
	{"server/sheet", "waterstrike/geo/store/...", "a page is made from what it is given"},
}

// only is who alone may import a package directly.
var only = []struct{ what, who, why string }{
	{"database/sql", "geo/store geo/store/storetest server/account", "one place for the SQL of each file"},
	{"modernc.org/sqlite/...", "geo/store geo/store/storetest server/account", "one place for the SQL of each file"},
	{"github.com/tidwall/rtree", "geo/index", "one index, with ties by ID and a true metric"},
	{"github.com/labstack/echo/v4/...", "server", "one place for routes"},
	// The workbook reader of geo/intake links net/http for pictures it never fetches, so
	// this one is about what our own code says.
	{"net/http", "server", "records come from files; only the server speaks to a network"},
	{"math/rand", "", "math/rand/v2 with a given seed: same question, same answer"},
}

// ranks reads order: the rank of each package.
func ranks(t *testing.T) map[string]int {
	t.Helper()
	rank := map[string]int{}
	for i, row := range strings.Split(strings.TrimSpace(order), "\n") {
		name, purpose, _ := strings.Cut(row, " ")
		if strings.TrimSpace(purpose) == "" {
			t.Errorf("order: %s has no purpose", name)
		}
		if _, twice := rank[name]; twice {
			t.Errorf("order: %s stands twice", name)
		}
		rank[name] = i
	}
	return rank
}

// matches reports whether an import path falls under a pattern, as the go command
// reads it: x/... is x and all below it.
func matches(pattern, path string) bool {
	stem, wide := strings.CutSuffix(pattern, "/...")
	return path == stem || wide && strings.HasPrefix(path, stem+"/")
}

// wrongWay names the imports of p that do not stand above it.
func wrongWay(rank map[string]int, p string, imports []string) []string {
	var wrong []string
	for _, path := range imports {
		name, ours := strings.CutPrefix(path, module)
		if at, known := rank[name]; ours && (!known || at >= rank[p]) {
			wrong = append(wrong, name)
		}
	}
	return wrong
}

// byTests takes from a package's test imports what every test may use: the package
// itself and its own suite, such as geo/store/storetest.
func byTests(p listed) []string {
	base := p.name()[strings.LastIndex(p.name(), "/")+1:]
	own := []string{p.ImportPath, p.ImportPath + "/" + base + "test"}
	return slices.DeleteFunc(slices.Concat(p.TestImports, p.XTestImports), func(path string) bool {
		return slices.Contains(own, path)
	})
}

func TestLayers(t *testing.T) {
	rank := ranks(t)
	for _, p := range list(t) {
		if _, known := rank[p.name()]; !known {
			t.Errorf("%s is not a room of the house: see order in this file before adding a row", p.name())
			continue
		}
		for _, name := range wrongWay(rank, p.name(), p.Imports) {
			t.Errorf("%s imports %s, which stands below it", p.name(), name)
		}
		if strings.HasPrefix(p.name(), "cmd/") {
			continue
		}
		for _, name := range wrongWay(rank, p.name(), byTests(p)) {
			t.Errorf("the tests of %s import %s, which stands below it", p.name(), name)
		}
	}
}

func TestNeverReached(t *testing.T) {
	for _, p := range list(t) {
		for _, rule := range never {
			if !matches(rule.who, p.name()) || forTests(p.name()) {
				continue
			}
			for _, path := range p.Deps {
				if matches(rule.reaches, path) {
					t.Errorf("%s reaches %s: %s", p.name(), path, rule.why)
				}
			}
		}
	}
}

// forTests reports a room that holds what several rooms' tests share, such as
// geo/store/storetest: it may know what they know.
func forTests(room string) bool {
	above, own := path.Split(room)
	return own == path.Base(above)+"test" || room == "geo/outside"
}

func TestOnlyTestsImportRoomsForTests(t *testing.T) {
	for _, p := range list(t) {
		for _, path := range p.Imports {
			name, ours := strings.CutPrefix(path, module)
			if ours && forTests(name) && !forTests(p.name()) {
				t.Errorf("%s imports %s, which is for tests", p.name(), name)
			}
		}
	}
}

func TestOnlyImporters(t *testing.T) {
	for _, p := range list(t) {
		for _, rule := range only {
			if slices.Contains(strings.Fields(rule.who), p.name()) {
				continue
			}
			for _, path := range p.Imports {
				if matches(rule.what, path) {
					t.Errorf("%s imports %s: %s", p.name(), path, rule.why)
				}
			}
		}
	}
}

// The rules themselves, on made-up imports: a check that finds nothing proves nothing.
func TestLayerRulesBite(t *testing.T) {
	rank := ranks(t)
	cases := []struct {
		name, importer string
		imports        []string
		want           string
	}{
		{"above", "geo/store", []string{"waterstrike/geo", "fmt"}, ""},
		{"below", "geo", []string{"waterstrike/geo/store"}, "geo/store"},
		{"itself", "geo", []string{"waterstrike/geo"}, "geo"},
		{"unlisted", "server", []string{"waterstrike/geo/util"}, "geo/util"},
	}
	for _, c := range cases {
		if got := strings.Join(wrongWay(rank, c.importer, c.imports), " "); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
	if !matches("advisor/...", "advisor") || !matches("advisor/...", "advisor/krige") || matches("advisor/...", "advisory") {
		t.Error("matches does not read patterns as the go command does")
	}
	for _, rule := range never {
		if !covers(rank, rule.who) {
			t.Errorf("never: %s is no room of the house", rule.who)
		}
	}
	for _, rule := range only {
		for _, who := range strings.Fields(rule.who) {
			if !covers(rank, who) {
				t.Errorf("only: %s is no room of the house", who)
			}
		}
	}
}

// covers reports whether a pattern names at least one room.
func covers(rank map[string]int, pattern string) bool {
	for name := range rank {
		if matches(pattern, name) {
			return true
		}
	}
	return false
}
