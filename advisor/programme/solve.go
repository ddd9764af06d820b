package programme

import (
	"math"

	"waterstrike/geo"
)

// Solve finds the programme that serves most people, weighed as the rules say.
//
//   - Units: people, money in the one currency of the problem, crew-weeks.
//   - Domain: see the types; a village stands for all who would use its spots, so hamlets
//     that share a spot are one village.
//   - Errors: [geo.Invalid], [geo.NotFound] and [geo.TooFewData] for bad input, with a
//     message that names it; [geo.Unsolvable] where floors or villages that must be in
//     cannot hold, with a message that says which, and where the effort ended before
//     that could be told.
//   - Source: Lagrangian relaxation, Geoffrion (1974), Math. Prog. Study 2:82-114, by
//     rounds; branch and bound; see the head of the package.
//   - Cost: see BenchmarkSolve.
//   - Checked by: TestSolveAgainstEnumeration, TestSolveAgainstSolver, TestBoundHolds,
//     TestNeverBelowSimple, TestImpossibleFloors, TestSolveRefuses.
func Solve(p Problem) (*Programme, error) { return p.solve(nil) }

// SolveFrom is [Solve] for a problem that differs from another in its caution alone,
// beginning with the programme found for that one: by its own measure it is not worse (with
// more than 20,000 columns, as far as their own worst fifths tell).
//
//   - Errors: as [Solve]; [geo.Invalid] for a programme that holds what the problem does
//     not offer.
//   - Checked by: TestSolveFromIsNoWorse.
func SolveFrom(p Problem, have *Programme) (*Programme, error) {
	columns, err := p.resume(have)
	if err != nil {
		return nil, err
	}
	return p.solve(columns)
}

// solve starts from a programme that is known to fit, where there is one.
func (p *Problem) solve(have []column) (*Programme, error) {
	scenarios, err := p.check()
	if err != nil {
		return nil, err
	}
	if err := p.checkMust(); err != nil {
		return nil, err
	}
	m := build(p, scenarios)
	starts := [][]int32{m.picksOf(have)}
	for _, by := range SimpleRules() {
		starts = append(starts, m.picksOf(p.simply(by, scenarios)))
	}
	lim := limits{gap: p.Rules.Gap, enough: math.Inf(1), below: math.Inf(-1), work: p.Rules.Effort * 1_000_000}
	if m.asks() {
		picks, err := p.meetFloors(m, starts, lim)
		if err != nil {
			return nil, err
		}
		starts = append(starts, picks)
	}
	best := maximise(m, starts, lim)
	out := p.summarise(m.chosen(best.picks), scenarios)
	out.Proof = proofOf(best, p.Rules.Gap)
	out.Why = p.reasons(m, best, out)
	return out, nil
}

func proofOf(best found, gap float64) *Proof {
	out := &Proof{Score: best.score, Bound: best.bound}
	if best.bound > 0 {
		out.Gap = max(0, (best.bound-best.score)/best.bound)
	}
	out.Settled = out.Gap <= max(gap, 1e-6) // the search itself stops at 1e-7
	return out
}

// asks reports whether anything must hold.
func (m *model) asks() bool {
	for _, worth := range m.goal.out {
		if math.IsInf(worth, -1) {
			return true
		}
	}
	return len(m.floors) > 0
}

func (m *model) chosen(picks []int32) (out []column) {
	for _, j := range picks {
		if j >= 0 {
			out = append(out, m.cols[j])
		}
	}
	return out
}

// checkMust names the first village that must be in and has no way to be.
func (p *Problem) checkMust() error {
	for _, id := range p.Must {
		for v := range p.Villages {
			if p.Villages[v].ID == id && len(p.columns(v, p.cases())) == 0 {
				return fail(geo.Unsolvable, "programme.must-without-spot", village(id))
			}
		}
	}
	return nil
}

// cases is the number of scenarios of a problem that was checked.
func (p *Problem) cases() int {
	n := 1
	for _, v := range p.Villages {
		for _, o := range v.Options {
			n = max(n, len(o.Chances))
		}
	}
	return n
}

// resume checks the problem and returns the columns of a programme that was found before.
func (p *Problem) resume(have *Programme) ([]column, error) {
	scenarios, err := p.check()
	if err != nil {
		return nil, err
	}
	return p.columnsOf(have, scenarios)
}
