package programme_test

import (
	"encoding/csv"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"waterstrike/advisor/programme"
	"waterstrike/geo"
)

var reference = filepath.Join("..", "..", "testdata", "reference", "programme")

func readProblem(t *testing.T, name string) (p programme.Problem) {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(reference, name+".json"))
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(text, &p); err != nil {
		t.Fatal(err)
	}
	return p
}

// Against a mixed-integer solver that was given the rules as a linear programme
// (testdata/reference/scripts/programme.py).
func TestSolveAgainstSolver(t *testing.T) {
	f, err := os.Open(filepath.Join(reference, "optima.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range rows[1:] {
		got, err := programme.Solve(readProblem(t, row[0]))
		if row[1] == "infeasible" {
			refused(t, row[0], err, geo.Unsolvable, "programme.floors-together")
			continue
		}
		want, bad := strconv.ParseFloat(row[2], 64)
		if bad != nil || row[1] != "optimal" || err != nil {
			t.Fatalf("%v: %v, %v", row, bad, err)
		}
		const tol = 1e-5 // the solver's own tolerance of rows is 1e-6, its figures have ten digits
		if math.Abs(got.Proof.Score-want) > tol*want || got.Proof.Bound < want*(1-tol) {
			t.Errorf("%s: score %.6f, bound %.6f, want %.6f", row[0], got.Proof.Score, got.Proof.Bound, want)
		}
		t.Logf("%s: score %.4f, bound %.4f, optimum %.4f", row[0], got.Proof.Score, got.Proof.Bound, want)
	}
}
