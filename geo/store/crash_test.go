package store_test

import (
	"bufio"
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"waterstrike/geo"
	"waterstrike/geo/store"
	"waterstrike/geo/store/storetest"
)

// crashDir tells a child of the test which base to write to, crashFrom its first number.
const (
	crashDir  = "STORE_CRASH_DIR"
	crashFrom = "STORE_CRASH_FROM"
)

// importSize is how many bores each import of the child brings.
const importSize = 80

// A program that is killed at any moment loses nothing it acknowledged, and leaves no
// half import. (SIGKILL spares what the system holds in its own memory; that the disk
// has it too rests on synchronous=FULL, which TestEveryConnectionHasItsPragmas checks.)
func TestKilledAtAnyMoment(t *testing.T) {
	times := 5
	if os.Getenv("WATERSTRIKE_LONG") == "1" {
		times = 50
	}
	b := newBase(t)
	dir := filepath.Dir(b.Path())
	must(t, b.Close())
	rng := rand.New(rand.NewPCG(2024, 3))
	acknowledged := map[string]bool{}
	for i := range times {
		lines := killedChild(t, dir, 10_000*(i+1), time.Duration(rng.IntN(250))*time.Millisecond)
		for _, line := range lines {
			acknowledged[line] = true
		}
		checkAcknowledged(t, dir, acknowledged)
	}
	t.Logf("%d kills, %d acknowledged writes, none lost", times, len(acknowledged))
	if len(acknowledged) < times {
		t.Error("the children were killed before they wrote anything")
	}
}

// killedChild runs a writer, kills it some time after its first acknowledgement and
// returns what it acknowledged.
func killedChild(t *testing.T, dir string, from int, after time.Duration) []string {
	t.Helper()
	cmd := exec.Command(os.Args[0], "-test.run=^TestCrashChild$")
	cmd.Env = append(os.Environ(), crashDir+"="+dir, fmt.Sprintf("%s=%d", crashFrom, from))
	cmd.Stderr = os.Stderr
	out, err := cmd.StdoutPipe()
	must(t, err)
	must(t, cmd.Start())
	var lines []string
	scanner := bufio.NewScanner(out)
	for scanner.Scan() {
		if len(lines) == 0 {
			time.AfterFunc(after, func() { _ = cmd.Process.Kill() })
		}
		if line := scanner.Text(); strings.HasSuffix(line, ".") { // a whole line
			lines = append(lines, line)
		}
	}
	if err := cmd.Wait(); cmd.ProcessState.ExitCode() != -1 { // -1: ended by a signal
		t.Fatalf("the child ended by itself: %v", err)
	}
	return lines
}

func checkAcknowledged(t *testing.T, dir string, acknowledged map[string]bool) {
	t.Helper()
	ctx := context.Background()
	b, err := store.Open(filepath.Join(dir, "ground.gpkg"), store.DefaultOptions())
	must(t, err)
	defer b.Close()
	must(t, b.Check(ctx))
	present := map[string]bool{}
	batches := map[string]int{}
	must(t, b.Bores(ctx, func(v geo.Bore) error {
		present["saved "+string(v.ID)+"."] = true
		if v.Source.Batch != "" {
			batches[v.Source.Batch]++
		}
		if len(v.Layers) < 2 {
			t.Errorf("bore %s lost its layers", v.ID)
		}
		return nil
	}))
	known, err := b.Batches(ctx)
	must(t, err)
	for _, batch := range known {
		present["applied "+batch.ID+"."] = true
		if batches[batch.ID] != importSize || batch.Added != importSize {
			t.Errorf("an import of %d bores left %d", importSize, batches[batch.ID])
		}
	}
	if len(batches) != len(known) {
		t.Errorf("bores of %d imports, %d of them known", len(batches), len(known))
	}
	for line := range acknowledged {
		if !present[line] {
			t.Errorf("lost: %s", line)
		}
	}
}

// TestCrashChild is the writer that is killed: nothing when run by itself.
func TestCrashChild(t *testing.T) {
	dir := os.Getenv(crashDir)
	if dir == "" {
		return // it is a program for TestKilledAtAnyMoment to start
	}
	var from int
	_, err := fmt.Sscan(os.Getenv(crashFrom), &from)
	must(t, err)
	b, err := store.Open(filepath.Join(dir, "ground.gpkg"), store.DefaultOptions())
	must(t, err)
	ctx := context.Background()
	for i := from; ; i++ {
		v := storetest.FullBore(i)
		must(t, b.SaveBore(ctx, v, me))
		fmt.Printf("saved %s.\n", v.ID)
		if i%10 != 5 {
			continue
		}
		d, err := store.NewDraft(ctx, filepath.Join(t.TempDir(), fmt.Sprintf("%d.db", i)))
		must(t, err)
		for j := range importSize {
			v := storetest.FullBore(1_000_000 + 100*i + j)
			must(t, d.AddBore("", v))
		}
		must(t, d.Finish())
		applied, err := b.Apply(ctx, d, me, store.How{})
		must(t, err)
		fmt.Printf("applied %s.\n", applied.Batch)
		must(t, d.Close())
	}
}
