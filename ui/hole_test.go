package ui_test

import (
	"os/exec"
	"strings"
	"testing"

	"waterstrike/geo/outside"
)

// The phone computes what the office computes: the modules give the answers of
// testdata/livehole to 1e-9, under Node.
func TestHoleVectors(t *testing.T) {
	node := outside.Program(t, "node", "nodejs")
	out, err := exec.CommandContext(t.Context(), node, "testdata/hole.mjs").CombinedOutput()
	if err != nil || !strings.Contains(string(out), "9 answers are the same") {
		t.Errorf("%v\n%s", err, out)
	}
}
