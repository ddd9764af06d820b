package level

import (
	"math"
	"time"

	"gonum.org/v1/gonum/mat"

	"waterstrike/advisor/krige"
	"waterstrike/advisor/variogram"
)

// harmonics of the yearly course: more than one, for water rises faster than it falls.
const (
	harmonics   = 2
	courseTerms = 2 * harmonics
)

// What a course must have to be told from the readings.
const (
	leastMonths = 6  // months with readings
	leastDated  = 60 // readings with a month
)

// courseSDM is what is known of each harmonic beforehand: the standard deviation of its
// amplitude, metres. Common practice, no source.
var courseSDM = [harmonics]float64{1.5, 0.75}

// course is the yearly course of the level in metres above or below its mean, as
// amplitudes of cosine and sine of each harmonic, deeper positive.
type course struct {
	amplitude *mat.VecDense
	cov       *mat.SymDense
}

// at returns the harmonics at a time of the year, 0 at its beginning and 1 at its end.
func at(year float64) *mat.VecDense {
	out := mat.NewVecDense(courseTerms, nil)
	for h := range harmonics {
		sin, cos := math.Sincos(2 * math.Pi * float64(h+1) * year)
		out.SetVec(2*h, cos)
		out.SetVec(2*h+1, sin)
	}
	return out
}

// depth is the course at a time of the year.
func (c course) depth(year float64) float64 { return mat.Dot(at(year), c.amplitude) }

// between is the variance of the difference of the course at two times.
func (c course) between(a, b float64) float64 {
	d := at(a)
	d.SubVec(d, at(b))
	return mat.Inner(d, c.cov, d)
}

// confirms reports that two courses from different readings show the same one, which they
// would hardly do if there were none: an odd reading stands in one of them only.
//
// Without a course a'V⁻¹b of amplitudes a, b with covariances near V has mean 0 and a
// standard deviation of the root of their number.
func (c course) confirms(other course) bool {
	var both mat.SymDense
	both.AddSym(c.cov, other.cov)
	both.ScaleSym(0.5, &both)
	var solved mat.VecDense
	var factor mat.Cholesky
	if !factor.Factorize(&both) || factor.SolveVecTo(&solved, other.amplitude) != nil {
		return false
	}
	return mat.Dot(c.amplitude, &solved) > confirmedSD*math.Sqrt(courseTerms)
}

// confirmedSD is how many standard deviations two courses must agree by.
const confirmedSD = 4

// season turns a course into what readings are carried by.
func (c course) season(before Season) Season {
	const steps = 120
	low, high := 0.0, 0.0
	for i := range steps {
		year := float64(i) / steps
		if c.depth(year) > c.depth(low) {
			low = year
		}
		if c.depth(year) < c.depth(high) {
			high = year
		}
	}
	out := before
	out.RangeM = c.depth(low) - c.depth(high)
	out.RangeSDM = math.Sqrt(c.between(low, high) + square(fromPlace*out.RangeM))
	out.Low = time.Month(int(low*12) + 1)
	out.Identified = true
	for i := range out.Rise {
		year := (float64(i) + 0.5) / 12
		out.Rise[i] = (c.depth(low) - c.depth(year)) / out.RangeM
		early, late := c.depth(year-halfMonth), c.depth(year+halfMonth)
		within := (late - early) / math.Sqrt(12) // a day of the month, evenly
		out.RiseVar[i] = (c.between(low, year)+within*within)/square(out.RangeM) + shapeVar
	}
	return out
}

const (
	halfMonth = 0.5 / 12
	fromPlace = 0.25 // of the range, its spread from place to place; common practice, no source
)

func square(x float64) float64 { return x * x }

// learnSeason estimates the yearly course from readings of different months, and leaves
// the season as it is where they do not tell it.
//
// A reading on the scale is what the neighbours say of the low there, and the course as
// much as a metre counts on the way from that low to the reading:
//
//	z(d) = trend + field + m Σ aₕ cos 2πht + bₕ sin 2πht,  m = share(ŷ) z'(half way),
//
// with ŷ the low predicted without the reading itself, and half way by the course known so
// far: on a bent scale that slope is right to second order. The amplitudes follow by
// generalised least squares with a Normal prior; they count when each half of the readings
// confirms the other.
//
//   - Errors: those of [krige.Solver]; [variogram.ConditionError].
//   - Cost: O(n³).
//   - Source: Aitken (1935) for the estimate.
//   - Checked by: TestSeasonIsLearned, TestSeasonNotIdentified.
func (f *fitting) learnSeason() error {
	if f.season.Given || !f.manyMonths() {
		return nil
	}
	lows, err := f.leftOut()
	if err != nil {
		return err
	}
	whole, err := f.course(lows, func(int) bool { return true })
	if err != nil {
		return err
	}
	even, err := f.course(lows, func(i int) bool { return i%2 == 0 })
	if err != nil {
		return err
	}
	odd, err := f.course(lows, func(i int) bool { return i%2 == 1 })
	if err == nil && even.confirms(odd) {
		f.season = whole.season(f.season)
	}
	return err
}

// manyMonths reports that readings stand in enough months to tell a course.
func (f *fitting) manyMonths() bool {
	var months [13]int
	for _, o := range f.stated {
		months[o.On.Month]++
	}
	met, dated := 0, 0
	for _, n := range months[1:] {
		if n >= 2 {
			met++
		}
		dated += n
	}
	return met >= leastMonths && dated >= leastDated
}

// data are the readings with the terms of their land as drifts.
func (f *fitting) data() []krige.Datum {
	data := make([]krige.Datum, len(f.points), len(f.points)+len(f.bounded))
	for i, o := range f.stated {
		data[i] = krige.Datum{XY: o.At, Value: f.values[i], ErrVar: f.errVars[i], Drift: f.trend.drift(o.Land)}
	}
	return data
}

// solver kriges beside all terms of the land.
func (f *fitting) solver() (*krige.Solver, error) {
	universal, err := krige.NewUniversal(landTerms)
	if err != nil {
		return nil, err
	}
	return krige.NewSolver(f.structure, universal.Sparing())
}

// leftOut returns the low at each reading as all others state it, metres.
func (f *fitting) leftOut() ([]float64, error) {
	solver, err := f.solver()
	if err != nil {
		return nil, err
	}
	if err := solver.Fit(f.data()); err != nil {
		return nil, err
	}
	estimates, err := solver.LeaveOneOut()
	lows := make([]float64, len(estimates))
	for i, e := range estimates {
		lows[i] = max(f.scale.depth(e.Mean), floorM)
	}
	return lows, err
}

// course estimates the amplitudes from those of the readings that have a month, given the
// lows that their neighbours state.
func (f *fitting) course(lows []float64, of func(i int) bool) (course, error) {
	var data []krige.Datum
	var rows []*mat.VecDense
	for i, o := range f.stated {
		year, dated := timeOfYear(o.On)
		if o.State != Rest || !dated || !of(i) {
			continue
		}
		g, _ := f.season.rise(o.On)
		deeper, yearVar := f.season.year(o.On)
		if len(f.season.Years) == 0 {
			yearVar = square(f.season.YearSDM)
		}
		share, yearShare := f.season.share(lows[i]), f.season.yearShare(lows[i])
		between := (lows[i] + max(f.season.fromLow(lows[i], g, deeper), 0)) / 2
		metre := f.scale.perMetre(between)
		row := at(year)
		row.ScaleVec(share*metre, row)
		rows = append(rows, row)
		data = append(data, krige.Datum{
			XY: o.At, Value: f.scale.z(o.DepthM) - metre*yearShare*deeper,
			ErrVar: square(metre) * (square(readingSDM) + square(yearShare)*yearVar),
			Drift:  f.trend.drift(o.Land),
		})
	}
	products, err := products(data, f.structure, rows)
	if err != nil {
		return course{}, err
	}
	return solveCourse(products)
}

// conditionError tells of a matrix that cannot be solved.
func conditionError(number float64) error { return &variogram.ConditionError{Number: number} }

// solveCourse solves the normal equations of constant, land and course for the course.
func solveCourse(products *mat.Dense) (course, error) {
	const n = 1 + landTerms + courseTerms
	information := mat.NewSymDense(n, nil)
	right := mat.NewVecDense(n, nil)
	for i := range n {
		for j := range i + 1 {
			information.SetSym(i, j, products.At(i, j))
		}
		right.SetVec(i, products.At(i, n))
		if i > 0 { // slopes of a land that does not vary are then 0
			information.SetSym(i, i, information.At(i, i)+1e-6*products.At(0, 0))
		}
	}
	for h, sd := range courseSDM {
		for k := range 2 {
			i := 1 + landTerms + 2*h + k
			information.SetSym(i, i, information.At(i, i)+1/(sd*sd))
		}
	}
	var factor mat.Cholesky
	if !factor.Factorize(information) {
		return course{}, conditionError(math.Inf(1))
	}
	var solution mat.VecDense
	var inverse mat.SymDense
	if err := factor.SolveVecTo(&solution, right); err != nil {
		return course{}, conditionError(factor.Cond())
	}
	if err := factor.InverseTo(&inverse); err != nil {
		return course{}, conditionError(factor.Cond())
	}
	out := course{mat.NewVecDense(courseTerms, nil), mat.NewSymDense(courseTerms, nil)}
	for i := range courseTerms {
		out.amplitude.SetVec(i, solution.AtVec(1+landTerms+i))
		for j := range i + 1 {
			out.cov.SetSym(i, j, inverse.At(1+landTerms+i, 1+landTerms+j))
		}
	}
	return out, nil
}
