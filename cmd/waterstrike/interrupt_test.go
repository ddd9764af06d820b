package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// interrupting ends the program as soon as it has written a word to it.
type interrupting struct {
	bytes.Buffer
	after string
	stop  context.CancelFunc
}

func (i *interrupting) Write(p []byte) (int, error) {
	n, err := i.Buffer.Write(p)
	if strings.Contains(i.String(), i.after) {
		i.stop()
	}
	return n, err
}

// Ctrl-C in the middle leaves neither a file nor a folder, and the exit code tells it.
func TestInterruptLeavesNothingHalfDone(t *testing.T) {
	t.Parallel()
	room := t.TempDir()
	data := string(district(t))
	env := func(string) string { return "" }
	points := filepath.Join(room, "points.csv")
	table := "id,lon,lat\nbad,x,y\n" + strings.Repeat("p,0.01,0.68\n", 3) + strings.Repeat("far,0.02,0.67\n", 500)
	if err := os.WriteFile(points, []byte(table), 0o644); err != nil {
		t.Fatal(err)
	}
	work := filepath.Join(room, "work")
	if err := os.Mkdir(work, 0o755); err != nil {
		t.Fatal(err)
	}
	for name, c := range map[string]struct {
		args  []string
		after string
	}{
		"predict": {[]string{"predict", "-data", data, points, "-out", filepath.Join(work, "answers")}, "data row 1"},
		"trust": {[]string{
			"trust", "-data", data, "-folds", "2", "-page", filepath.Join(work, "page.html"), "-drawings", filepath.Join(work, "plots"),
		}, "Learning from"},
	} {
		t.Run(name, func(t *testing.T) {
			ctx, stop := context.WithCancel(t.Context())
			defer stop()
			complaints := &interrupting{after: c.after, stop: stop}
			var out bytes.Buffer
			if code := run(ctx, c.args, &out, complaints, env); code != exitInterrupted {
				t.Errorf("exit code %d: %s", code, complaints.String())
			}
			if !strings.Contains(complaints.String(), "Nothing was left half done") {
				t.Errorf("said %q", complaints.String())
			}
			left, err := os.ReadDir(work)
			if err != nil || len(left) > 0 {
				t.Errorf("left behind: %v, %v", left, err)
			}
		})
	}
}
