package ui_test

import (
	"os"
	"os/exec"
	"strings"
	"testing"
)

// The phone computes what the office computes: the modules give the answers of
// testdata/livehole to 1e-9, under Node.
func TestHoleVectors(t *testing.T) {
	node, err := exec.LookPath("node")
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("no Node: apt-get install nodejs")
		}
		t.Skip("no Node: apt-get install nodejs")
	}
	out, err := exec.CommandContext(t.Context(), node, "testdata/hole.mjs").CombinedOutput()
	if err != nil || !strings.Contains(string(out), "9 answers are the same") {
		t.Errorf("%v\n%s", err, out)
	}
}
