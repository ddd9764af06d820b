package programme_test

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"testing"

	"waterstrike/advisor/programme"
	"waterstrike/geo"
	"waterstrike/geo/outside"
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
	optima := outside.ReadTable(t, outside.Reference(t, "programme", "optima.csv"))
	for i, row := range optima.Rows {
		got, err := programme.Solve(readProblem(t, row["problem"]))
		if row["status"] == "infeasible" {
			refused(t, row["problem"], err, geo.Unsolvable, "programme.floors-together")
			continue
		}
		if row["status"] != "optimal" || err != nil {
			t.Fatalf("%v: %v", row, err)
		}
		want := optima.Number(i, "optimum")
		const tol = 1e-5 // the solver's own tolerance of rows is 1e-6, its figures have ten digits
		if math.Abs(got.Proof.Score-want) > tol*want || got.Proof.Bound < want*(1-tol) {
			t.Errorf("%s: score %.6f, bound %.6f, want %.6f", row["problem"], got.Proof.Score, got.Proof.Bound, want)
		}
		t.Logf("%s: score %.4f, bound %.4f, optimum %.4f", row["problem"], got.Proof.Score, got.Proof.Bound, want)
	}
}
