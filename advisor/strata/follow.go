package strata

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// follows is how the layers of a region follow the shape of its land: coordinates in which
// places that may be expected to have like layers stand close, with 1 the distance of two
// logs taken at random, as the root of the mean square. The zero value knows of none.
type follows struct {
	bends
	along [][]float64 // of each coordinate, a slope for each of the bends
}

// leastFollowed is how many logs with a known setting it takes to learn how layers follow
// the land.
const leastFollowed = 40

// followsOf learns the coordinates from the logs. What a log has of a class within a range
// of depth, and whether it was refused there, is regressed on the bends of the land; each
// of these foretold shares is weighed by one over its scatter. Their main directions are
// the coordinates. Where the land tells nothing the slopes are 0.
//
//   - Shapes: one setting for each log, of the same length or nil.
//   - Cost: for each of some forty shares an eigenproblem as large as the bends are many.
//   - Source: ridge regression, Hoerl and Kennard (1970), its variance by the marginal
//     likelihood, Morris (1983); to weigh neighbours by foretold responses, Crookston and
//     Finley (2008) of most similar neighbours.
//   - Checked by: TestLayersFollowTheLand, TestLandThatTellsNothing.
func followsOf(logs []Log) follows {
	var read []Log
	var settings []Setting
	for _, log := range logs {
		if log.Setting != nil && log.Described() {
			read, settings = append(read, log), append(settings, log.Setting)
		}
	}
	if len(read) < leastFollowed {
		return follows{}
	}
	f := follows{bends: bendsOf(settings)}
	rows := make([][]float64, len(read))
	for i, s := range settings {
		rows[i] = f.bends.of(s)
	}
	var slopes [][]float64
	for _, share := range shares(read) {
		if b := ridge(rows, share); b != nil {
			slopes = append(slopes, b)
		}
	}
	f.along = mainDirections(slopes, rows)
	return f
}

// at returns the coordinates of a place; none where its setting is not known.
func (f *follows) at(s Setting) []float64 {
	if s == nil || len(f.along) == 0 {
		return nil
	}
	bends := f.bends.of(s)
	out := make([]float64, len(f.along))
	for c, slopes := range f.along {
		out[c] = dot(slopes, bends)
	}
	return out
}

// apart is the distance of two places in these coordinates; 0 where one is not known.
func apart(a, b []float64) float64 {
	if a == nil || b == nil {
		return 0
	}
	sum := 0.0
	for c := range a {
		sum += (a[c] - b[c]) * (a[c] - b[c])
	}
	return math.Sqrt(sum)
}

func dot(a, b []float64) (sum float64) {
	for i, x := range a {
		sum += x * b[i]
	}
	return sum
}

// spans are the ranges of depth, in cells, whose shares of the classes are foretold.
var spans = [...]struct{ from, to int }{{0, 2}, {2, 6}, {6, 12}, {12, 20}, {20, 30}}

// shares lists, for each class and span and for refusal in each span, what each log has of
// it; NaN for a log that does not tell.
func shares(logs []Log) (out [][]float64) {
	for _, span := range spans {
		var of [len(row{}) + 1][]float64
		for _, log := range logs {
			known, refused := log.within(span.from, span.to)
			for k, share := range known {
				of[k] = append(of[k], share)
			}
			of[len(known)] = append(of[len(known)], refused)
		}
		out = append(out, of[:]...)
	}
	return out
}

// within returns the shares of the classes among a log's described cells of a span, NaN
// where less than half of it is described, and whether the log was refused in it: 1 or 0,
// NaN where the log had ended before.
func (log Log) within(from, to int) (classes row, refused float64) {
	cells, n := log.cells(), 0.0
	for z := from; z < min(to, len(cells)); z++ {
		if known(cells[z]) {
			classes[cells[z]-1]++
			n++
		}
	}
	for k := range classes {
		classes[k] /= n
		if 2*n < float64(to-from) {
			classes[k] = math.NaN()
		}
	}
	switch end := log.last() + 1; {
	case end < from || end <= to && !log.Refused:
		return classes, math.NaN()
	case end <= to:
		return classes, 1
	}
	return classes, 0
}

// leastShareSD is the scatter below which a share is nearly the same in all logs.
const leastShareSD = 0.03

// ridge returns the slopes of a response on the rows over the standard deviation of what
// is left of it, for the ratio of the slopes' variance to that of the rest which makes the
// responses likeliest; nil where there is nothing to learn.
func ridge(rows [][]float64, response []float64) []float64 {
	mean, variance, n := moments(response)
	if n < leastFollowed || variance < leastShareSD*leastShareSD {
		return nil
	}
	p := len(rows[0])
	x := mat.NewDense(n, p, nil)
	y := mat.NewVecDense(n, nil)
	at := 0
	for i, v := range response {
		if !math.IsNaN(v) {
			x.SetRow(at, rows[i])
			y.SetVec(at, v-mean)
			at++
		}
	}
	var products mat.SymDense
	products.SymOuterK(1, x.T())
	var eigen mat.EigenSym
	if !eigen.Factorize(&products, true) {
		return nil
	}
	var vectors mat.Dense
	eigen.VectorsTo(&vectors)
	lambda := eigen.Values(nil)
	var right, turned mat.VecDense
	right.MulVec(x.T(), y)
	turned.MulVec(vectors.T(), &right)
	q := turned.RawVector().Data
	ratio, left := likeliestRatio(lambda, q, variance*float64(n), float64(n))
	if ratio == 0 {
		return nil
	}
	b := mat.NewVecDense(p, nil)
	for k, l := range lambda {
		b.AddScaledVec(b, q[k]/(max(l, 0)+1/ratio)/math.Sqrt(left), vectors.ColView(k))
	}
	return b.RawVector().Data
}

// likeliestRatio returns the ratio ρ of the variance of the slopes to that of the rest which
// makes the responses likeliest, and the variance σ² of the rest,
//
//	log L = -½ n log σ² - ½ Σ log(1 + λρ),  n σ² = y'y - Σ q² ρ / (1 + λρ),
//
// with λ the information of the slopes and q the right sides along its own directions; 0
// where no slopes do as well.
func likeliestRatio(lambda, q []float64, square, n float64) (ratio, variance float64) {
	variance = square / n
	best := -n / 2 * math.Log(variance)
	for step := -40; step <= 8; step++ {
		rho := math.Exp(float64(step) / 4)
		left, ll := square, 0.0
		for k, l := range lambda {
			with := 1 + max(l, 0)*rho
			left -= q[k] * q[k] * rho / with
			ll -= math.Log(with) / 2
		}
		left = max(left/n, 1e-3*square/n)
		if ll -= n / 2 * math.Log(left); ll > best {
			best, ratio, variance = ll, rho, left
		}
	}
	return ratio, variance
}

// moments returns the mean and the variance of the numbers there are, and how many.
func moments(values []float64) (mean, variance float64, n int) {
	sum, square := 0.0, 0.0
	for _, v := range values {
		if !math.IsNaN(v) {
			sum, square, n = sum+v, square+v*v, n+1
		}
	}
	if n == 0 {
		return 0, 0, 0
	}
	mean = sum / float64(n)
	return mean, max(square/float64(n)-mean*mean, 0), n
}

// leastDirection is the share of the variance of all that is foretold below which a
// direction is left out.
const leastDirection = 0.01

// mainDirections turns slopes of many shares into those of a few coordinates that keep the
// distances between rows.
func mainDirections(slopes, rows [][]float64) (along [][]float64) {
	if len(slopes) == 0 {
		return nil
	}
	foretold := mat.NewDense(len(rows), len(slopes), nil)
	for r, b := range slopes {
		mean := 0.0
		for _, row := range rows {
			mean += dot(b, row) / float64(len(rows))
		}
		for i, row := range rows {
			foretold.Set(i, r, dot(b, row)-mean)
		}
	}
	var products mat.SymDense
	products.SymOuterK(1/float64(len(rows)), foretold.T())
	var eigen mat.EigenSym
	if !eigen.Factorize(&products, true) {
		return nil
	}
	var vectors mat.Dense
	eigen.VectorsTo(&vectors)
	total := mat.Trace(&products)
	for k, v := range eigen.Values(nil) {
		if v < leastDirection*total || !(total > 0) {
			continue
		}
		one := make([]float64, len(slopes[0]))
		for r, b := range slopes {
			for i, x := range b {
				one[i] += vectors.At(r, k) * x / math.Sqrt(2*total)
			}
		}
		along = append(along, one)
	}
	return along
}
