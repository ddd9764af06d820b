package level

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"waterstrike/advisor/krige"
	"waterstrike/geo"
)

// Year is a water year: it begins at the low of the calendar year that it is named after.
type Year struct {
	Year     int     `json:"year"`
	DeeperM  float64 `json:"deeperM"`  // how much deeper its low stands than that of a normal year
	SDM      float64 `json:"sdM"`      // what is not known of it
	Readings int     `json:"readings"` // in it
}

// yearShare is how much of a year's effect water has where its low stands at y metres.
func (s Season) yearShare(y float64) float64 {
	if s.YearFull {
		return 1
	}
	return s.share(y)
}

// year returns how much deeper than in a normal year the water stands on a day, and the
// variance of that. Where years are not told they are a part of the noise.
func (s Season) year(on geo.Date) (deeperM, variance float64) {
	if len(s.Years) == 0 {
		return 0, 0
	}
	if on.Year == 0 {
		return 0, s.YearSDM * s.YearSDM
	}
	water, share := s.waterYear(on)
	was, wasSD := s.effect(water - 1)
	is, isSD := s.effect(water)
	return (1-share)*was + share*is, square((1-share)*wasSD + share*isSD)
}

// effect is the effect of a water year and its standard deviation. Before the first year
// that is told and after the last one it fades as the years forget.
func (s Season) effect(water int) (deeperM, sd float64) {
	first, last := s.Years[0], s.Years[len(s.Years)-1]
	near, away := first, first.Year-water
	switch {
	case water > last.Year:
		near, away = last, water-last.Year
	case water >= first.Year:
		y := s.Years[water-first.Year]
		return y.DeeperM, y.SDM
	}
	left := math.Pow(s.YearMemory, float64(away))
	return left * near.DeeperM, math.Sqrt(square(left*near.SDM) + square(s.YearSDM)*(1-left*left))
}

// waterYear returns the water year of a day, and how much of its effect shows by then: the
// effect of a year comes with its rains, and that of the year before goes.
func (s Season) waterYear(on geo.Date) (water int, share float64) {
	year, ok := timeOfYear(on)
	if !ok {
		return on.Year, 0.5
	}
	low := (float64(s.Low) - 0.5) / 12
	since := year - low
	water = on.Year
	if since < 0 {
		water, since = water-1, since+1
	}
	high := 0
	for i, r := range s.Rise {
		if r > s.Rise[high] {
			high = i
		}
	}
	if rises := math.Mod((float64(high)+0.5)/12-low+1, 1); since >= rises {
		return water, 1
	}
	g, _ := s.rise(on)
	return water, max(0, min(g, 1))
}

// What years must have to be told from the readings.
const (
	leastYears    = 4   // water years with readings
	leastOfYear   = 3   // readings that make a year count among them
	mostYears     = 80  // before the last one; older ones fade
	yearGain      = 3.0 // of log-likelihood over years that are all alike
	yearKnownLog  = 0.7 // what is known beforehand of the logarithm of their spread
	yearSpreads   = 18  // that are tried, each a fifth wider than the one before
	leastSpreadM  = 0.1
	spreadStep    = 1.2
	likeliestYear = 0.6
)

// learnYears estimates how much deeper the water stood year by year, from readings that
// were carried to the low, beside trend and field:
//
//	e ~ N(0, σ² R), R the correlations ρ^|i-j| of an autoregression,
//
// with the σ and ρ that make the readings likeliest, and either in full at all depths or,
// as the yearly range, less near the surface. Years stay a part of the noise where they do
// not make the readings clearly likelier.
//
//   - Errors: those of [krige.Solver]; [variogram.ConditionError].
//   - Cost: O(n³).
//   - Source: a random effect of the year by Henderson's equations (1975); first-order
//     autoregression, any textbook of time series.
//   - Checked by: TestYearsAreLearned, TestYearsNotIdentified, TestYearsOfShallowWater.
func (f *fitting) learnYears() error {
	years := f.waterYears()
	if len(years) == 0 {
		f.season.Years = nil
		f.carry()
		return nil
	}
	lows, err := f.leftOut()
	if err != nil {
		return err
	}
	data, rows := f.yearData(years, lows)
	f.season.Years = nil
	f.carry()
	products, err := products(data, f.structure, rows)
	if err != nil {
		return err
	}
	var fits [2]yearFit // in full at all depths, less near the surface
	for i := range fits {
		information, right, err := besideTrend(products, len(years), i)
		if err != nil {
			return err
		}
		fits[i] = likelyYears(information, right)
	}
	fit, full := fits[0], true
	if fits[1].gain > fits[0].gain+yearGain {
		fit, full = fits[1], false
	}
	if fit.gain < yearGain {
		return nil
	}
	f.season.NormalSDM = fit.about(years)
	f.season.Years, f.season.YearSDM, f.season.YearMemory, f.season.YearFull = years, fit.sd, fit.memory, full
	f.carry()
	return nil
}

// about writes the effects down as differences from the mean over all readings, and what
// is not known of these. It returns by how much that mean may miss a normal year: a few
// years may all have been dry.
func (fit yearFit) about(years []Year) (normalSDM float64) {
	n, total := len(years), 0.0
	for _, y := range years {
		total += float64(y.Readings)
	}
	differ := mat.NewDense(n, n, nil)
	for i := range n {
		for j, y := range years {
			differ.Set(i, j, -float64(y.Readings)/total)
		}
		differ.Set(i, i, 1+differ.At(i, i))
	}
	var effects mat.VecDense
	effects.MulVec(differ, fit.effects)
	var half, cov mat.Dense
	half.Mul(differ, fit.cov)
	cov.Mul(&half, differ.T())
	for i := range years {
		years[i].DeeperM, years[i].SDM = effects.AtVec(i), math.Sqrt(max(cov.At(i, i), 0))
	}
	for i, a := range years {
		for j, b := range years {
			normalSDM += float64(a.Readings) * float64(b.Readings) / (total * total) * fit.prior.At(i, j)
		}
	}
	return math.Sqrt(normalSDM)
}

// waterYears lists the water years from the first reading to the last, with how many
// readings are theirs; none where these are too few to tell years.
func (f *fitting) waterYears() (years []Year) {
	readings := map[int]int{}
	last := 0
	for _, o := range f.stated {
		if o.State == Rest && o.On.Year != 0 {
			water, _ := f.season.waterYear(o.On)
			readings[water]++
			last = max(last, water)
		}
	}
	first, met := last, 0
	for water, n := range readings {
		if water > last-mostYears {
			first = min(first, water)
		}
		if n >= leastOfYear {
			met++
		}
	}
	if met < leastYears {
		return nil
	}
	for water := first; water <= last; water++ {
		years = append(years, Year{Year: water, Readings: readings[water]})
	}
	return years
}

// yearData lists the readings as they stood, the course of the year taken off on the scale
// where the low is what their neighbours state, and how much of the scale each of them moves
// with a metre of each year: first in full, then with as little of it near the surface as
// of the yearly range. The metre counts as much as half way from where the water would stand
// in a normal year to where it stood by the years known so far: carried to the low first,
// shallow water in the rains would stretch a year to several times its size.
func (f *fitting) yearData(years []Year, lows []float64) (data []krige.Datum, rows []*mat.VecDense) {
	n := len(years)
	for i, o := range f.stated {
		if o.State != Rest || o.On.Year == 0 {
			continue
		}
		g, gVar := f.season.rise(o.On)
		low, share := lows[i], f.season.share(lows[i])
		normal := f.season.fromLow(low, g, 0)
		deeper, _ := f.season.year(o.On)
		metre := f.scale.perMetre((normal + max(f.season.fromLow(low, g, deeper), 0)) / 2)
		full := f.season.RangeM * share
		data = append(data, krige.Datum{
			XY: o.At, Value: f.scale.z(o.DepthM) + f.scale.z(low) - f.scale.z(normal),
			ErrVar: square(metre) * (square(readingSDM) + square(full)*gVar + square(share)*(square(g*f.season.RangeSDM)+square(f.season.NoiseSDM))),
			Drift:  f.trend.drift(o.Land),
		})
		row := mat.NewVecDense(2*n, nil)
		water, part := f.season.waterYear(o.On)
		for k, p := range map[int]float64{water - 1 - years[0].Year: 1 - part, water - years[0].Year: part} {
			if k >= 0 && k < n {
				row.SetVec(k, p*metre)
				row.SetVec(n+k, p*metre*share)
			}
		}
		rows = append(rows, row)
	}
	return data, rows
}

// besideTrend takes constant, land and what all years have in common out of the products
// of one of two blocks of years: a normal year is the mean of those that were read.
func besideTrend(products *mat.Dense, years, block int) (*mat.SymDense, *mat.VecDense, error) {
	const nuisance = 1 + landTerms
	from, value := nuisance+block*years, nuisance+2*years
	// The years, the values, then the nuisance with the sum of the years at its end.
	pick := mat.NewDense(value+1, years+1+nuisance+1, nil)
	for k := range years {
		pick.Set(from+k, k, 1)
		pick.Set(from+k, years+1+nuisance, 1)
	}
	pick.Set(value, years, 1)
	for i := range nuisance {
		pick.Set(i, years+1+i, 1)
	}
	var half, all mat.Dense
	half.Mul(products, pick)
	all.Mul(pick.T(), &half)
	n := nuisance + 1
	own := mat.NewSymDense(n, nil)
	for i := range n {
		for j := range i + 1 {
			own.SetSym(i, j, all.At(years+1+i, years+1+j))
		}
		if i > 0 { // slopes of a land that does not vary are then 0
			own.SetSym(i, i, own.At(i, i)+1e-6*products.At(0, 0))
		}
	}
	var factor mat.Cholesky
	if !factor.Factorize(own) {
		return nil, nil, conditionError(math.Inf(1))
	}
	cross := all.Slice(years+1, years+1+n, 0, years+1)
	var solved, taken mat.Dense
	if err := factor.SolveTo(&solved, cross); err != nil {
		return nil, nil, conditionError(factor.Cond())
	}
	taken.Mul(cross.T(), &solved)
	information, right := mat.NewSymDense(years, nil), mat.NewVecDense(years, nil)
	for i := range years {
		for j := range i + 1 {
			information.SetSym(i, j, all.At(i, j)-taken.At(i, j))
		}
		right.SetVec(i, all.At(i, years)-taken.At(i, years))
	}
	return information, right, nil
}
