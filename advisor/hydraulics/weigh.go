package hydraulics

import (
	"math"
	"slices"
)

// learnt is what is known of a material: the mean of log10 K over the region and the
// variance of its layers around it.
type learnt struct {
	n               int
	mean, sd, layer float64
}

// The prior variance of log10 K is half between regions and half between the layers of one
// region. How much layers differ is itself known to about a third. Common practice, no source.
const (
	betweenRegions = 0.5
	layerDoubt     = 0.35 // standard deviation of the logarithm of the layers' spread
)

// saidOf is what records say of each material, in the order in which they first name it.
type saidOf []materialSays

type materialSays struct {
	Material
	all []says
}

func (x *saidOf) add(m Material, s says) {
	for i := range *x {
		if of := &(*x)[i]; of.Material == m {
			of.all = append(of.all, s)
			return
		}
	}
	*x = append(*x, materialSays{m, []says{s}})
}

// limit is the mean of the shares that are tried, each weighed by how likely it makes all
// records.
func (x saidOf) limit() float64 {
	var logs [len(limits)]float64
	for i, limit := range limits {
		for _, of := range x {
			_, likely := of.learn(limit)
			logs[i] += likely
		}
	}
	sum, total, most := 0.0, 0.0, slices.Max(logs[:])
	for i, limit := range limits {
		w := math.Exp(logs[i] - most)
		sum, total = sum+w*limit, total+w
	}
	return sum / total
}

// yields counts the reported yields.
func (x saidOf) yields() (n int) {
	for _, of := range x {
		for _, s := range of.all {
			if s.how == Reported {
				n++
			}
		}
	}
	return n
}

// The grid of mean and spread, in standard deviations of their priors.
const (
	gridMeans   = 49
	gridSpreads = 9
	gridTo      = 4.0 // of means
	spreadTo    = 2.0
)

// learn weighs means and spreads of the material by all records of it, of whose yields a share
// is taken for all that there was; and tells the logarithm of how likely they are.
func (x materialSays) learn(limit float64) (l learnt, likely float64) {
	prior := x.prior()
	sd := prior.SDDecades * math.Sqrt(betweenRegions)
	layer := (1 - betweenRegions) * prior.SDDecades * prior.SDDecades
	var means, layers mixed
	var logs [gridSpreads][gridMeans]float64
	most := math.Inf(-1)
	each := func(fn func(i, j int, mean, variance, priorLog float64)) {
		for i := range logs {
			zs := spreadTo * (2*float64(i)/(gridSpreads-1) - 1)
			for j := range logs[i] {
				zm := gridTo * (2*float64(j)/(gridMeans-1) - 1)
				fn(i, j, prior.Log10MPerS+zm*sd, layer*math.Exp(2*layerDoubt*(zs-layerDoubt)), -(zs*zs+zm*zm)/2)
			}
		}
	}
	each(func(i, j int, mean, variance, priorLog float64) {
		logs[i][j] = priorLog
		for _, s := range x.all {
			s.limit = limit
			likely, _, _ := s.moments(mean, variance)
			logs[i][j] += math.Log(likely)
		}
		most = max(most, logs[i][j])
	})
	each(func(i, j int, mean, variance, _ float64) {
		w := math.Exp(logs[i][j] - most)
		means.add(w, mean, 0)
		layers.add(w, variance, 0)
	})
	weight, mean, variance := means.moments()
	_, layer, _ = layers.moments()
	return learnt{len(x.all), mean, math.Sqrt(variance), layer}, most + math.Log(weight)
}
