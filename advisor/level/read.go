package level

import "waterstrike/advisor/krige"

// reading is what a model reads in an observation, wherever it is asked for.
type reading struct {
	by      *Model
	datum   krige.Datum // at no place; of a bound none
	row     []float64   // the terms of its land
	carried carried
}

// carried is how an observation was carried to the low of a normal year.
type carried struct {
	perMetre         float64 // how much of the scale a metre is at the low
	rise             float64 // share of the range above it
	share, yearShare float64 // how much of range and years counts there
	months           [12]float64
}

// Read returns an observation as the model reads it: where it is near to many points, it is
// read once for all of them. Its place may still be changed.
//
//   - Checked by: TestReadObservationsSayTheSame.
func (m *Model) Read(o Observation) Observation {
	o.read = nil
	r := &reading{by: m, row: m.trend.row(o.Land)}
	if !o.IsBound() {
		r.datum = m.datum(&o)
	}
	if o.State == Rest {
		r.carried = m.carried(&o)
	}
	o.read = r
	return o
}

// has returns what a model has read in an observation, nil where it has not.
func (m *Model) has(o *Observation) *reading {
	if o.read != nil && o.read.by == m {
		return o.read
	}
	return nil
}

// datum carries a Rest or Flowing observation to the kriging scale, beside the trend.
func (m *Model) datum(o *Observation) krige.Datum {
	if r := m.has(o); r != nil {
		d := r.datum
		d.XY = o.At
		return d
	}
	z, v := o.onScale(m.scale, m.season)
	trend, extra := m.trend.at(o.Land)
	return krige.Datum{XY: o.At, Value: z - trend, ErrVar: v + extra}
}

// row returns the terms of the land of an observation.
func (m *Model) row(o *Observation) []float64 {
	if r := m.has(o); r != nil {
		return r.row
	}
	return m.trend.row(o.Land)
}

// carried tells how a Rest observation was carried.
func (m *Model) carried(o *Observation) carried {
	if r := m.has(o); r != nil {
		return r.carried
	}
	y, _ := o.low(m.season)
	g, _ := m.season.rise(o.On)
	return carried{m.scale.perMetre(y), g, m.season.share(y), m.season.yearShare(y), monthsOf(o.On)}
}
