package say_test

import (
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// The ways in which source and templates name a code of the catalogue.
var codeUses = []*regexp.Regexp{
	regexp.MustCompile(`\bCode\("([^"]*)"\)`),                                      // geo.Code("x.y")
	regexp.MustCompile(`\bCode\s*[:=]{1,2}\s*"([^"]*)"`),                           // const X Code = "x.y"; Code: "x.y"
	regexp.MustCompile(`\b(?:Msg|Of|Say|Ref)\("([^"]*)"`),                          // say.Msg("x.y", ...), geo.Ref("x.y")
	regexp.MustCompile(`\{\{[^}]*?\bsay\s+(?:\$?[.\w]*\s+)?(?:"|` + "`)([^\"`]*)"), // {{say "x.y"}}
	// Lists of codes: a string in an area whose name means nothing else in the source.
	regexp.MustCompile(`"((?:class|outcome|method|tool|verdict|reason|caution|plan|quality|evidence|provenance|issue|severity|problem)\.[a-z0-9.-]+)"`),
}

// dotted is what a code looks like; other strings named Code (an EPSG code, a
// currency code) are none of ours.
var dotted = regexp.MustCompile(`^[a-z][a-z0-9-]*(\.[a-z0-9-]+)+$`)

func codesIn(source string) []string {
	var out []string
	for _, use := range codeUses {
		for _, m := range use.FindAllStringSubmatch(source, -1) {
			if dotted.MatchString(m[1]) && !strings.HasSuffix(m[1], "-") && !strings.HasSuffix(m[1], ".html") && !slices.Contains(out, m[1]) {
				out = append(out, m[1])
			}
		}
	}
	return out
}

// TestEveryCodeUsedExists scans the rooms that produce codes. A room that does
// not exist yet is passed over.
func TestEveryCodeUsedExists(t *testing.T) {
	c := catalogue(t)
	for _, room := range []string{"geo", "advisor", "server", "cmd", "ui"} {
		eachSource(t, filepath.Join("..", "..", room), func(path, source string) {
			for _, code := range codesIn(source) {
				if !c.Has(code) {
					t.Errorf("%s uses %q, which the catalogue does not hold: add it under ui/say/catalogue", path, code)
				}
			}
		})
	}
}

// TestEveryIssueHasAName holds the short names that counts of issues are listed by.
func TestEveryIssueHasAName(t *testing.T) {
	c := catalogue(t)
	for _, code := range c.Codes() {
		if strings.HasPrefix(code, "issue.") && !strings.HasSuffix(code, ".name") && !c.Has(code+".name") {
			t.Errorf("%s has no %s.name: add it to catalogue/issue-names.json", code, code)
		}
	}
}

func eachSource(t *testing.T, root string, visit func(path, source string)) {
	t.Helper()
	if _, err := os.Stat(root); os.IsNotExist(err) {
		return
	}
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !isSource(path) {
			return err
		}
		b, err := os.ReadFile(path)
		if err == nil {
			visit(path, string(b))
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}

func isSource(path string) bool {
	switch filepath.Ext(path) {
	case ".go": // neither tests nor packages of tests speak to people
		return !strings.HasSuffix(path, "_test.go") && !strings.HasSuffix(filepath.Dir(path), "test")
	case ".html", ".tmpl", ".svg":
		return true
	}
	return false
}

func TestCodesIn(t *testing.T) {
	source := `
		return geo.Code("issue.bad-date")
		const ReasonWorks Code = "reason.works"
		m := say.Message{Code: "plan.seal"}
		v := say.Of("class.clay")
		w := geo.Say("water.season-known"), geo.Ref("class.silt")
		list := []geo.Code{"caution.visit", "store.read"}
		epsg := Datum{Code: "EPSG"}
		<h1>{{say "advice.title"}}</h1>
		<h2>{{ say .Lang "screen.ask" }}</h2>
		<p>{{if .Far}}x{{end}}{{$.say "a.b"}}</p>
		Code("class." + key)
		Say("drawing.water-" + key)`
	want := "issue.bad-date reason.works plan.seal class.clay water.season-known class.silt advice.title screen.ask a.b caution.visit"
	if got := strings.Join(codesIn(source), " "); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}
