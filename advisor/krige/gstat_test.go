//go:build unix

package krige_test

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"syscall"
	"testing"
	"time"

	"waterstrike/advisor/krige"
	"waterstrike/geo/outside"
)

// BenchmarkAgainstGstat runs the reference library and this package on the same
// points and cells in one run, one thread each, and compares the answers and
// the CPU time, which a busy machine disturbs least. It needs Rscript with the packages gstat and sp.
func BenchmarkAgainstGstat(b *testing.B) {
	rscript := outside.Program(b, "Rscript", "r-cran-gstat r-cran-sp")
	data := plain(scatter(100000, 1e5, 20240607))
	for _, side := range []int{100, 500} {
		b.Run(fmt.Sprintf("cells=%d", side*side), func(b *testing.B) {
			theirs, want := runGstat(b, rscript, data, side)
			p := speedCase(b, len(data))
			var ours time.Duration
			runs := 0
			for b.Loop() {
				start := cpu(b)
				got := predictGrid(b, p, side)
				ours += cpu(b) - start
				runs++
				compareGrid(b, got, want)
			}
			cells := float64(side * side)
			us := float64(ours.Microseconds()) / float64(runs) / cells
			b.ReportMetric(us, "cpu-us/cell")
			b.ReportMetric(1e6*theirs/cells, "gstat-cpu-us/cell")
			b.ReportMetric(1e6*theirs/cells/us, "ratio")
			start := cpu(b)
			predictBlocks(b, p, side)
			b.ReportMetric(1e6*theirs/float64((cpu(b)-start).Microseconds()), "shared-ratio")
		})
	}
}

// cpu is the CPU time this process has used.
func cpu(b *testing.B) time.Duration {
	b.Helper()
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		b.Fatal(err)
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

func predictGrid(b *testing.B, p *krige.Predictor, side int) []krige.Estimate {
	b.Helper()
	out := make([]krige.Estimate, 0, side*side)
	h := 1e5 / float64(side)
	for i := range side * side {
		e, err := p.Predict(krige.XY{X: h * (float64(i%side) + 0.5), Y: h * (float64(i/side) + 0.5)})
		if err != nil {
			b.Fatal(err)
		}
		out = append(out, e)
	}
	return out
}

// predictBlocks predicts the grid in blocks of three by three cells and what is left.
func predictBlocks(b *testing.B, p *krige.Predictor, side int) {
	b.Helper()
	h := 1e5 / float64(side)
	dst := make([]krige.Estimate, 9)
	for j := 0; j < side; j += 3 {
		for i := 0; i < side; i += 3 {
			var at []krige.XY
			for k := range 9 {
				if x, y := i+k%3, j+k/3; x < side && y < side {
					at = append(at, krige.XY{X: h * (float64(x) + 0.5), Y: h * (float64(y) + 0.5)})
				}
			}
			if err := p.PredictTogether(dst[:len(at)], at, nil); err != nil {
				b.Fatal(err)
			}
		}
	}
}

// compareGrid holds both answers together to the figure asked for, 1e-8.
func compareGrid(b *testing.B, got, want []krige.Estimate) {
	b.Helper()
	for i := range want {
		if !near(got[i].Mean, want[i].Mean, 1e-8) || !near(got[i].Variance, want[i].Variance, 1e-8) {
			b.Fatalf("cell %d: %+v, reference %+v", i, got[i], want[i])
		}
	}
}

// runGstat returns the CPU seconds of the krige call alone and its predictions.
func runGstat(b *testing.B, rscript string, data []krige.Datum, side int) (seconds float64, want []krige.Estimate) {
	b.Helper()
	points := filepath.Join(b.TempDir(), "points.csv")
	answers := filepath.Join(b.TempDir(), "answers.csv")
	var text bytes.Buffer
	text.WriteString("x,y,z\n")
	for _, d := range data {
		fmt.Fprintf(&text, "%.17g,%.17g,%.17g\n", d.X, d.Y, d.Value)
	}
	if err := os.WriteFile(points, text.Bytes(), 0o600); err != nil {
		b.Fatal(err)
	}
	script := filepath.Join("..", "..", "testdata", "reference", "scripts", "speed_gstat.R")
	out, err := exec.Command(rscript, script, points, answers, strconv.Itoa(side)).Output()
	if err != nil {
		b.Fatalf("gstat did not run: %v; apt-get install r-cran-gstat r-cran-sp", err)
	}
	if seconds, err = strconv.ParseFloat(string(bytes.TrimSpace(out)), 64); err != nil {
		b.Fatal(err)
	}
	return seconds, readAnswers(b, answers)
}

func readAnswers(b *testing.B, name string) []krige.Estimate {
	b.Helper()
	f, err := os.Open(name)
	if err != nil {
		b.Fatal(err)
	}
	defer f.Close()
	lines, err := csv.NewReader(f).ReadAll()
	if err != nil {
		b.Fatal(err)
	}
	var out []krige.Estimate
	for _, line := range lines[1:] {
		mean, err1 := strconv.ParseFloat(line[0], 64)
		variance, err2 := strconv.ParseFloat(line[1], 64)
		if err1 != nil || err2 != nil {
			b.Fatal(err1, err2)
		}
		out = append(out, krige.Estimate{Mean: mean, Variance: variance})
	}
	return out
}
