package hydraulics

import (
	"math"

	"waterstrike/geo"
)

// FitTheis finds the T and S of least squares over all readings of all piezometers.
//
// For a given S/T the drawdowns are proportional to 1/T, so one number alone is searched
// for. The range of T is that of the profile likelihood, the range of S by the delta
// method; both allow for residuals that are alike from one reading to the next.
//
//   - Shapes: at least 4 readings in all, in order of time within each series.
//   - Units: m³/d, m, d; T in m²/d. Used is nil: every reading counts.
//   - Domain: confined ground or drawdowns by [JacobCorrected]; piezometers only, for a
//     pumped well has losses and water of its own.
//   - Errors: [InputError], [ErrTooFew], [ErrNoAnswer] without a best value inside S/T of
//     1e-13 to 1e3 d/m², [ErrOpen].
//   - Cost: about 100 sums over the readings, and 3,000 for the range.
//   - Source: Theis (1935); separable least squares, Golub and Pereyra (1973).
//   - Checked by: TestFitTheisAgainstReference, TestFitTheisOudeKorendijk,
//     TestTheisRangeHoldsTruth, TestProfileNearDelta.
func FitTheis(dischargeM3D float64, series []Series) (Fit, error) {
	if err := positive(named{"discharge", dischargeM3D}); err != nil {
		return Fit{}, err
	}
	return FitRates([]Rate{{0, dischargeM3D}}, series)
}

// FitRates is [FitTheis] of a test whose discharge changed, or stopped: each drawdown is the
// sum of what every change of rate does.
//
//   - Shapes: rates as [TheisRates]; the first begins at 0. Readings as [FitTheis].
//   - Units, Domain, Errors: as [FitTheis].
//   - Cost: as [FitTheis], times the number of rates.
//   - Source: superposition; Theis (1935).
//   - Checked by: TestFitRates.
func FitRates(rates []Rate, series []Series) (Fit, error) {
	return fitProblem(rates, series, 4)
}

// FitPlaces is [FitTheis] of places that were each read once at one moment: it needs no
// straight line, so that it is never too early.
//
//   - Shapes: at least 3 places at different distances.
//   - Units, Domain, Errors: as [FitTheis].
//   - Source: Theis (1935).
//   - Checked by: TestFitDistance.
func FitPlaces(dischargeM3D, days float64, places []Place) (Fit, error) {
	series := make([]Series, len(places))
	for i, p := range places {
		series[i] = Series{p.DistanceM, []Reading{{days, p.DrawdownM}}}
	}
	f, err := fitProblem([]Rate{{0, dischargeM3D}}, series, 3)
	if err == nil && len(places) == 3 && !f.Has(FewReadings) {
		f.Signs = append(f.Signs, FewReadings)
	}
	return f, err
}

func fitProblem(rates []Rate, series []Series, least int) (Fit, error) {
	p, err := problemOf(rates, series, least)
	if err != nil {
		return Fit{}, err
	}
	ratio, err := p.search()
	if err != nil {
		return Fit{}, err
	}
	t := p.transmissivity(ratio)
	if !(t > 0) || math.IsInf(t, 0) {
		return Fit{}, ErrNoAnswer
	}
	return p.fitAt(Aquifer{TM2D: t, Storage: math.Exp(ratio) * t})
}

func (p *problem) fitAt(a Aquifer) (Fit, error) {
	rest := p.residuals(a)
	rss := sumSquares(rest)
	widen := alike(rest)
	f := Fit{RMSM: math.Sqrt(rss / float64(len(rest)))}
	if a.u(1, 1)*p.least > StrictU {
		f.Signs = append(f.Signs, EarlyTime)
	}
	f.Signs = append(f.Signs, doubts(rest, p.s)...)
	seT, seS, err := p.errors(a, rss/float64(p.dof())*widen)
	if err != nil {
		return Fit{}, err
	}
	if f.T, err = fitted(a.TM2D, seT, p.dof()); err != nil {
		return Fit{}, err
	}
	p.profile(&f.T, rss, widen)
	if s, err := fitted(a.Storage, seS, p.dof()); err == nil {
		f.Storage = geo.Some(s)
	}
	return f, nil
}

// term is what one change of rate does to a reading: share/T W(x S/4T).
type term struct {
	share float64 // change of discharge over 4π, m³/d
	x     float64 // r² over the time since, m²/d
}

// problem is the readings as the fit sees them.
type problem struct {
	terms [][]term // of each reading
	s     []float64
	least float64 // of r²/t: the latest and nearest
}

func problemOf(rates []Rate, series []Series, least int) (*problem, error) {
	if err := checkRates(rates); err != nil {
		return nil, err
	}
	p := &problem{least: math.Inf(1)}
	squares := 0.0
	for _, one := range series {
		if err := positive(named{"distance", one.DistanceM}); err != nil {
			return nil, err
		}
		if err := checkReadings(one.Readings, 1); err != nil {
			return nil, err
		}
		for _, r := range one.Readings {
			x := one.DistanceM * one.DistanceM / r.Days
			p.terms, p.s = append(p.terms, termsOf(rates, one.DistanceM, r.Days)), append(p.s, r.DrawdownM)
			p.least, squares = min(p.least, x), squares+x*x
		}
	}
	if len(p.s) < least {
		return nil, ErrTooFew
	}
	_, err := finite(squares + sumSquares(p.s))
	return p, err
}

// checkRates refuses rates that are none, or out of order.
func checkRates(rates []Rate) error {
	if len(rates) == 0 {
		return ErrTooFew
	}
	most, from := 0.0, math.Inf(-1)
	for _, r := range rates {
		if !(r.DischargeM3D >= 0) || math.IsInf(r.DischargeM3D, 0) {
			return &InputError{"discharge", r.DischargeM3D, "a finite number not below 0"}
		}
		if !(r.FromDays > from) {
			return &InputError{"start of a rate", r.FromDays, "a time after the rate before"}
		}
		most, from = max(most, r.DischargeM3D), r.FromDays
	}
	return positive(named{"discharge", most})
}

// termsOf are the changes of rate that a reading feels.
func termsOf(rates []Rate, rM, days float64) (out []term) {
	before := 0.0
	for _, r := range rates {
		if r.FromDays < days && r.DischargeM3D != before {
			out = append(out, term{(r.DischargeM3D - before) / (4 * math.Pi), rM * rM / (days - r.FromDays)})
		}
		before = r.DischargeM3D
	}
	return out
}

func (p *problem) dof() int { return len(p.s) - 2 }

// The natural logarithms of S/T in d/m² between which a best value is looked for.
const (
	leastRatio = -30.0
	mostRatio  = 7.0
)

// search returns the logarithm of the best S/T.
func (p *problem) search() (float64, error) {
	const step = 0.5
	best, least := 0.0, math.Inf(1)
	for at := leastRatio; at <= mostRatio; at += step {
		if cost := p.free(at); cost < least {
			best, least = at, cost
		}
	}
	if math.IsInf(least, 1) || best == leastRatio || best == mostRatio {
		return 0, ErrNoAnswer
	}
	return golden(p.free, best-step, best+step), nil
}

// free is the sum of squares at a ratio with the best T for it.
func (p *problem) free(ratio float64) float64 {
	t := p.transmissivity(ratio)
	if !(t > 0) {
		return math.Inf(1)
	}
	return sumSquares(p.residuals(Aquifer{t, math.Exp(ratio) * t}))
}

// transmissivity is the best T for a ratio: s = g/T.
func (p *problem) transmissivity(ratio float64) float64 {
	var gg, gs float64
	for i, terms := range p.terms {
		g := 0.0
		for _, one := range terms {
			g += one.share * wellFunction(one.x*math.Exp(ratio)/4)
		}
		gg, gs = gg+g*g, gs+g*p.s[i]
	}
	return gg / gs
}

func (p *problem) residuals(a Aquifer) []float64 {
	rest := make([]float64, len(p.s))
	for i, terms := range p.terms {
		rest[i] = p.s[i]
		for _, one := range terms {
			rest[i] -= one.share / a.TM2D * wellFunction(one.x*a.Storage/(4*a.TM2D))
		}
	}
	return rest
}

// errors returns the standard errors of ln T and ln S for residuals of that variance, from
//
//	∂s/∂ln T = -s + Q/(4πT) e⁻ᵘ,  ∂s/∂ln S = -Q/(4πT) e⁻ᵘ.
func (p *problem) errors(a Aquifer, variance float64) (seT, seS float64, err error) {
	var tt, ts, ss float64
	for _, terms := range p.terms {
		var byS, byT float64
		for _, one := range terms {
			u, scale := one.x*a.Storage/(4*a.TM2D), one.share/a.TM2D
			byS -= scale * math.Exp(-u)
			byT -= scale * wellFunction(u)
		}
		byT -= byS
		tt, ts, ss = tt+byT*byT, ts+byT*byS, ss+byS*byS
	}
	det := tt*ss - ts*ts
	if !(det > 1e-12*tt*ss) {
		return 0, 0, ErrOpen
	}
	return math.Sqrt(variance * ss / det), math.Sqrt(variance * tt / det), nil
}

// profile replaces the range of T by that in which the best S for each T explains the
// readings nearly as well as the best of all, widened by [methodDecades].
func (p *problem) profile(t *Estimate, rss, widen float64) {
	q := student(p.dof())
	bound := rss * (1 + q*q*widen/float64(p.dof()))
	method := normal95 * methodDecades * math.Ln10
	side := func(sign float64) float64 {
		far := p.crossing(t.Value, sign, bound)
		return t.Value * math.Exp(sign*math.Hypot(far, method))
	}
	t.Lo, t.Hi = side(-1), side(1)
}

// crossing returns how far ln T goes to one side before the readings are explained worse
// than bound; at most mostDecades.
func (p *problem) crossing(t, sign, bound float64) float64 {
	lo, hi := 0.0, mostDecades*normal95*math.Ln10
	for range 30 {
		mid := (lo + hi) / 2
		at := t * math.Exp(sign*mid)
		cost := func(lnS float64) float64 { return sumSquares(p.residuals(Aquifer{at, math.Exp(lnS)})) }
		lnS := golden(cost, math.Log(at)+leastRatio, math.Log(at)+mostRatio)
		if cost(lnS) < bound {
			lo = mid
		} else {
			hi = mid
		}
	}
	return hi
}
