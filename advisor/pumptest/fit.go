package pumptest

import (
	"cmp"
	"math"
	"slices"

	"waterstrike/advisor/hydraulics"
	"waterstrike/geo"
)

// series are the readings by distance, in the order in which the places stand in the table;
// 0 is the pumped well. Readings of the moment when the pump starts say nothing and go.
func (s Sheet) series() ([]hydraulics.Series, error) {
	var out []hydraulics.Series
	for _, r := range s.Rows {
		days, ok1 := r.Days.Get()
		m, ok2 := r.DrawdownM.Get()
		if !ok1 || !ok2 {
			return nil, refuse("pumping.row-lacks", row(r.Line))
		}
		if days == 0 {
			continue
		}
		at := r.DistanceM.Or(s.DistanceM.Or(0))
		i := slices.IndexFunc(out, func(x hydraulics.Series) bool { return x.DistanceM == at })
		if i < 0 {
			i, out = len(out), append(out, hydraulics.Series{DistanceM: at})
		}
		if list := out[i].Readings; days < 0 || len(list) > 0 && days <= list[len(list)-1].Days {
			return nil, refuse("pumping.out-of-order", row(r.Line))
		}
		corrected, err := s.corrected(r.Line, m)
		if err != nil {
			return nil, err
		}
		out[i].Readings = append(out[i].Readings, hydraulics.Reading{Days: days, DrawdownM: corrected})
	}
	return out, nil
}

// corrected takes off a drawdown what the thinning of the wet ground adds.
func (s Sheet) corrected(line int, m float64) (float64, error) {
	if !s.WaterTable {
		return m, nil
	}
	thick, err := need(s.ThickM, "thickness")
	if err != nil {
		return 0, err
	}
	if m >= thick || m < 0 {
		return 0, refuse("pumping.below-the-ground", row(line))
	}
	return hydraulics.JacobCorrected(m, thick)
}

// pumped is the pumped well itself.
func (s Sheet) pumped(q float64) (hydraulics.Pumping, error) {
	hole, err := need(s.HoleM, "hole")
	if err != nil {
		return hydraulics.Pumping{}, err
	}
	pipe := min(s.PipeM.Or(hole), hole)
	return hydraulics.Pumping{DischargeM3D: q, DistanceM: hole / 2, OpenRadiusM: pipe / 2}, nil
}

// place is where a series was read.
func (s Sheet) place(q float64, at float64) (hydraulics.Pumping, error) {
	if at == 0 {
		return s.pumped(q)
	}
	return hydraulics.Pumping{DischargeM3D: q, DistanceM: at}, nil
}

func (s Sheet) drawdown(out *Answer) error {
	rates, err := s.rates()
	if err != nil {
		return err
	}
	series, err := s.series()
	if err != nil {
		return err
	}
	if len(rates) > 1 {
		return s.changing(out, rates, series)
	}
	q := rates[0].DischargeM3D
	if err := s.theis(out, q, series); err != nil {
		return err
	}
	for _, one := range series {
		p, err := s.place(q, one.DistanceM)
		if err != nil {
			return err
		}
		f, fitErr := hydraulics.FitCooperJacob(p, one.Readings)
		w, err := s.way("way.straight-line", f, len(one.Readings), fitErr)
		if err != nil {
			return err
		}
		w.DistanceM = geo.Some(one.DistanceM)
		if fitErr == nil {
			w.Over = OverTime
			w.Curves, _ = hydraulics.Curves(p, f, s.Storage.Or(usualStorage), one.Readings) // a fit without curves is a fit
		}
		out.Ways = append(out.Ways, w)
	}
	s.remark(out, slices.ContainsFunc(series, func(x hydraulics.Series) bool { return x.DistanceM == 0 }))
	return nil
}

// theis fits all piezometers together; the pumped well has losses of its own.
func (s Sheet) theis(out *Answer, q float64, series []hydraulics.Series) error {
	piezometers, n := piezometersOf(series)
	if len(piezometers) == 0 {
		return nil
	}
	f, fitErr := hydraulics.FitTheis(q, piezometers)
	w, err := s.way("way.theis", f, n, fitErr)
	if err != nil {
		return err
	}
	at := piezometers[0].DistanceM
	readings := piezometers[0].Readings
	if len(piezometers) == 1 {
		w.DistanceM, w.Over = geo.Some(at), OverTime
	} else {
		at, readings, w.Over = 1, together(piezometers), OverSquare
	}
	if fitErr == nil {
		w.Curves, _ = hydraulics.Curves(hydraulics.Pumping{DischargeM3D: q, DistanceM: at}, f, 0, readings)
	}
	out.Ways = append(out.Ways, w)
	return nil
}

// piezometersOf are the places beside the pumped well, and how many readings they have.
func piezometersOf(series []hydraulics.Series) (out []hydraulics.Series, n int) {
	for _, one := range series {
		if one.DistanceM > 0 {
			out, n = append(out, one), n+len(one.Readings)
		}
	}
	return out, n
}

// together are the readings of all piezometers as if each stood 1 m from the well: by
// Theis drawdown depends on time over the square of the distance. Of two at one moment the
// first stays.
func together(piezometers []hydraulics.Series) []hydraulics.Reading {
	var all []hydraulics.Reading
	for _, one := range piezometers {
		for _, r := range one.Readings {
			all = append(all, hydraulics.Reading{Days: r.Days / (one.DistanceM * one.DistanceM), DrawdownM: r.DrawdownM})
		}
	}
	slices.SortStableFunc(all, func(a, b hydraulics.Reading) int { return cmp.Compare(a.Days, b.Days) })
	return slices.CompactFunc(all, func(a, b hydraulics.Reading) bool { return a.Days == b.Days })
}

func (s Sheet) recovery(out *Answer) error {
	q, err := need(s.Discharge, "discharge")
	if err != nil {
		return err
	}
	pumped, err := need(s.PumpedDays, "pumped")
	if err != nil {
		return err
	}
	s.Rows = slices.Clone(s.Rows)
	for i, r := range s.Rows {
		if ratio, ok := r.Ratio.Get(); ok && !r.Days.Known() {
			if ratio <= 1 {
				return refuse("pumping.ratio", row(r.Line))
			}
			s.Rows[i].Days = geo.Some(pumped / (ratio - 1))
		}
	}
	slices.SortStableFunc(s.Rows, func(a, b Row) int { return cmp.Compare(a.Days.Or(0), b.Days.Or(0)) }) // tables by t/t' may run back
	series, err := s.series()
	if err != nil {
		return err
	}
	for _, one := range series {
		p, err := s.place(q, one.DistanceM)
		if err != nil {
			return err
		}
		stopped := hydraulics.Stopped{Pumping: p, PumpedDays: pumped, Storage: s.Storage.Or(usualStorage)}
		f, fitErr := hydraulics.FitRecovery(stopped, one.Readings)
		w, err := s.way("way.recovery", f, len(one.Readings), fitErr)
		if err != nil {
			return err
		}
		w.DistanceM = geo.Some(one.DistanceM)
		if fitErr == nil {
			w.Over = OverRatio
			w.Curves, _ = hydraulics.RecoveryCurves(stopped, f, one.Readings)
		}
		out.Ways = append(out.Ways, w)
	}
	s.remark(out, false)
	return nil
}

func (s Sheet) distances(out *Answer) error {
	q, err := need(s.Discharge, "discharge")
	if err != nil {
		return err
	}
	var places []hydraulics.Place
	for _, r := range s.Rows {
		at, ok1 := r.DistanceM.Get()
		m, ok2 := r.DrawdownM.Get()
		if !ok1 || !ok2 {
			return refuse("pumping.row-lacks", row(r.Line))
		}
		if m, err = s.corrected(r.Line, m); err != nil {
			return err
		}
		places = append(places, hydraulics.Place{DistanceM: at, DrawdownM: m})
	}
	if days, ok := s.AfterDays.Get(); ok {
		curve, curveErr := hydraulics.FitPlaces(q, days, places)
		w, err := s.way("way.theis", curve, len(places), curveErr)
		if err != nil {
			return err
		}
		out.Ways = append(out.Ways, w)
		f, fitErr := hydraulics.FitDistance(q, days, places)
		if w, err = s.way("way.distance", f, len(places), fitErr); err != nil {
			return err
		}
		s.drawPlaces(&w, q, f, places)
		out.Ways = append(out.Ways, w)
	}
	f, fitErr := hydraulics.FitThiem(q, places)
	w, err := s.way("way.steady", f, len(places), fitErr)
	if err != nil {
		return err
	}
	if !slices.ContainsFunc(out.Ways, func(w Way) bool { return w.Curves != nil }) { // else it is the same line
		s.drawPlaces(&w, q, f, places)
	}
	out.Ways = append(out.Ways, w)
	s.remark(out, false)
	return nil
}

// drawPlaces adds the line to a way that gives one.
func (s Sheet) drawPlaces(w *Way, q float64, f hydraulics.Fit, places []hydraulics.Place) {
	if !w.Failed.Known() {
		w.Over = OverDistance
		w.Curves, _ = hydraulics.DistanceCurves(q, f, places) // a fit without curves is a fit
	}
}

// remark says what a reader of the answer must know.
func (s Sheet) remark(out *Answer, single bool) {
	if s.WaterTable {
		out.Notes = append(out.Notes, geo.Say("pumping.note.corrected"))
	}
	if single {
		out.Notes = append(out.Notes, geo.Say("pumping.note.single-well"))
	}
	lo, hi := math.Inf(1), 0.0
	for _, w := range out.Ways {
		if t, ok := w.T.Get(); ok {
			lo, hi = min(lo, t.Value), max(hi, t.Value)
		}
	}
	const apart = 1.5 // beyond what hand and computer differ by on one textbook test
	if hi > apart*lo {
		out.Notes = append(out.Notes, geo.Say("pumping.note.ways-differ"))
	}
}
