package level

import (
	"math"
	"time"

	"gonum.org/v1/gonum/mat"

	"waterstrike/advisor/krige"
	"waterstrike/advisor/variogram"
)

// What a course must have to be told from the readings.
const (
	leastMonths = 6   // months with readings
	leastDated  = 60  // readings with a month
	courseGain  = 6.0 // of log-likelihood that each half of the readings together gives the other
)

// over is how far the water stands over its low at a time of the year.
func (c *course) over(year float64) (m float64) {
	for k, w := range knotted(year) {
		m += w * c.overM[k]
	}
	return m
}

// between is the covariance of that at two times.
func (c *course) between(a, b float64) (cov float64) {
	at, and := knotted(a), knotted(b)
	for k, w := range at {
		for j, u := range and {
			cov += w * u * c.cov[k][j]
		}
	}
	return cov
}

// season turns a course into what readings are carried by.
func (c *course) season(before Season) Season {
	low := 0
	for k, m := range c.overM {
		if m < c.overM[low] {
			low = k
		}
	}
	out := before
	out.RangeM = c.rangeM
	out.RangeSDM = math.Sqrt(c.varM2 + square(fromPlace*c.rangeM))
	out.Low = time.Month(low*12/knots + 1)
	out.Identified = true
	for i := range out.Rise {
		year := (float64(i) + 0.5) / 12
		out.Rise[i] = c.over(year) / c.rangeM
		within := (c.over(year+halfMonth) - c.over(1+year-halfMonth)) / math.Sqrt(12) // a day of the month, evenly
		own := max(c.between(year, year)-square(out.Rise[i])*c.varM2, 0)              // beyond that of the range
		out.RiseVar[i] = (own+within*within)/square(c.rangeM) + shapeVar
		for j := range out.riseCov {
			out.riseCov[i][j] = c.between(year, (float64(j)+0.5)/12)
		}
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
// A reading on the scale is what the neighbours say of the low there, less the course as
// much as a metre counts on the way from that low to the reading:
//
//	z(d) = trend + field - m A g(t),  m = share(ŷ) z'(half way),
//
// with ŷ the low predicted without the reading itself, and half way by the course known so
// far: on a bent scale that slope is right to second order. The course is an average over
// shapes that a year may have; it counts when what each half of the readings says makes the
// other likelier, which an odd reading, that stands in one of them only, does not do.
//
//   - Errors: those of [krige.Solver]; [variogram.ConditionError].
//   - Cost: O(n³).
//   - Source: Aitken (1935) for the estimate.
//   - Checked by: TestSeasonIsLearned, TestSeasonNotIdentified, TestCourseIsAveraged.
func (f *fitting) learnSeason() error {
	if f.season.Given || !f.manyMonths() {
		return nil
	}
	lows, err := f.leftOut()
	if err != nil {
		return err
	}
	halves := [2]told{}
	for half := range halves {
		if halves[half], err = f.told(lows, func(i int) bool { return i%2 == half }); err != nil {
			return err
		}
	}
	even, odd := halves[0].course(f.season.RangeM), halves[1].course(f.season.RangeM)
	toOdd, toEven := halves[1].gains(even), halves[0].gains(odd)
	if min(toOdd, toEven) <= 0 || toOdd+toEven < courseGain {
		return nil
	}
	whole, err := f.told(lows, func(int) bool { return true })
	if err != nil {
		return err
	}
	c := whole.course(f.season.RangeM)
	f.season = c.season(f.season)
	return nil
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

// told gathers what those of the readings that have a month say of the course, given the
// lows that their neighbours state.
func (f *fitting) told(lows []float64, of func(i int) bool) (told, error) {
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
		at := knotted(year)
		row := mat.NewVecDense(knots, at[:])
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
		return told{}, err
	}
	return tellCourse(products)
}

// conditionError tells of a matrix that cannot be solved.
func conditionError(number float64) error { return &variogram.ConditionError{Number: number} }
