// Package outside finds what tests take from outside their room: numbers that others worked
// out, the texts of the interface, open data that is no part of the project, and programs.
// Where open data or a program is missing a test is skipped, and told what to provide; under
// CI=true, where nothing may be missing, it fails.
package outside

import (
	"os"
	"os/exec"
	"path/filepath"
	"testing"
)

// Shared returns a file or folder of the open data, which stands where WATERSTRIKE_SHARED
// says or else in "shared" beside the checkout.
func Shared(t testing.TB, path ...string) string {
	t.Helper()
	root := os.Getenv("WATERSTRIKE_SHARED")
	if root == "" {
		root = filepath.Join(checkout(t), "..", "shared")
	}
	found := filepath.Join(append([]string{root}, path...)...)
	if _, err := os.Stat(found); err != nil {
		missing(t, filepath.Join(path...)+": set WATERSTRIKE_SHARED to the folder that holds data/ and reference/")
	}
	return found
}

// Program returns where a program lies that Debian packages bring.
func Program(t testing.TB, name, packages string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		missing(t, name+": apt-get install "+packages)
	}
	return path
}

// missing ends a test that lacks something.
func missing(t testing.TB, what string) {
	t.Helper()
	if os.Getenv("CI") == "true" {
		t.Fatal("missing: " + what)
	}
	t.Skip("missing: " + what)
}

// checkout is the folder of the project: the nearest one above that holds go.mod.
func checkout(t testing.TB) string {
	t.Helper()
	at, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	for {
		if _, err := os.Stat(filepath.Join(at, "go.mod")); err == nil {
			return at
		}
		above := filepath.Dir(at)
		if above == at {
			t.Fatal("no go.mod above the test: run it inside the checkout")
		}
		at = above
	}
}
