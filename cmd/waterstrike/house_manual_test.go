package main_test

import (
	"io/fs"
	"os"
	"regexp"
	"strings"
	"testing"
)

// The two pages that people read first: each file or folder they name is there, and
// each room that is built stands on the developers' map.
func TestManualsNameWhatIsThere(t *testing.T) {
	for _, page := range []string{"README.md", "DEVELOPERS.md"} {
		for _, name := range pathsNamed(read(t, page)) {
			if _, err := fs.Stat(os.DirFS(top(t)), name); err != nil {
				t.Errorf("%s names %s, which is not there", page, name)
			}
		}
	}
	manual := read(t, "DEVELOPERS.md")
	for _, p := range list(t) {
		if !strings.Contains(manual, "`"+p.name()+"`") {
			t.Errorf("DEVELOPERS.md: the map of rooms lacks %s", p.name())
		}
	}
}

// placed is a quoted path below one of the top-level folders.
var placed = regexp.MustCompile("`((?:\\.ci|cmd|server|geo|advisor|ui|testdata)(?:/[A-Za-z0-9_.-]+)+)`")

// pathsNamed are the paths that a page quotes.
func pathsNamed(page string) []string {
	var names []string
	for _, m := range placed.FindAllStringSubmatch(page, -1) {
		names = append(names, m[1])
	}
	return names
}

func TestManualCheckBites(t *testing.T) {
	page := "See `geo/coord/pair.go`, `.ci/run` and `geo.Opt`; run `go test ./geo/coord`."
	if got := strings.Join(pathsNamed(page), " "); got != "geo/coord/pair.go .ci/run" {
		t.Errorf("pathsNamed: %q", got)
	}
}
