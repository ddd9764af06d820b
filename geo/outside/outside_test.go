package outside_test

import (
	"os"
	"path/filepath"
	"testing"

	"waterstrike/geo/outside"
)

// fate is a test that only notes what became of it.
type fate struct {
	testing.TB
	ended string
}

type end struct{}

func (f *fate) Helper()      {}
func (f *fate) Skip(...any)  { f.ended = "skipped"; panic(end{}) }
func (f *fate) Fatal(...any) { f.ended = "failed"; panic(end{}) }

func of(t *testing.T, test func(testing.TB)) string {
	f := &fate{TB: t}
	func() {
		defer func() {
			if r := recover(); r != nil && r != (end{}) {
				panic(r)
			}
		}()
		test(f)
	}()
	return f.ended
}

// What is missing skips a test of a person, and fails one of CI.
func TestMissingFailsInCI(t *testing.T) {
	t.Setenv("WATERSTRIKE_SHARED", t.TempDir())
	needs := map[string]func(testing.TB){
		"data":    func(t testing.TB) { outside.Shared(t, "data", "nothing") },
		"program": func(t testing.TB) { outside.Program(t, "no-such-program", "nothing") },
	}
	for name, need := range needs {
		for ci, want := range map[string]string{"": "skipped", "true": "failed"} {
			t.Setenv("CI", ci)
			if got := of(t, need); got != want {
				t.Errorf("%s missing with CI=%q: %s, want %s", name, ci, got, want)
			}
		}
	}
}

func TestFound(t *testing.T) {
	root := t.TempDir()
	t.Setenv("WATERSTRIKE_SHARED", root)
	want := filepath.Join(root, "a.csv")
	if err := os.WriteFile(want, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if got := outside.Shared(t, "a.csv"); got != want {
		t.Errorf("found %s, want %s", got, want)
	}
	if outside.Program(t, "go", "golang-go") == "" {
		t.Error("go was not found")
	}
}
