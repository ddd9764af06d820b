package pumptest

import (
	"waterstrike/advisor/hydraulics"
	"waterstrike/geo"
)

// rates are how the discharge changed: as lines state it, or as a column does, where each
// number holds since the reading before. Without either it is one rate.
func (s Sheet) rates() ([]hydraulics.Rate, error) {
	if len(s.Rates) > 0 {
		return s.Rates, nil
	}
	var out []hydraulics.Rate
	before := 0.0
	for _, r := range s.Rows {
		days, ok := r.Days.Get()
		if !ok || days < before {
			continue // series says what is wrong with it; a second place begins again
		}
		q, ok := r.Discharge.Get()
		if n := len(out); ok && (n == 0 || out[n-1].DischargeM3D != q) {
			switch {
			case n > 0 && out[n-1].FromDays == before:
				out[n-1].DischargeM3D = q // two places at one time
			default:
				out = append(out, hydraulics.Rate{FromDays: before, DischargeM3D: q})
			}
		}
		before = days
	}
	if out != nil {
		if out[0].FromDays > 0 {
			out[0].FromDays = 0
		}
		return out, nil
	}
	q, err := need(s.Discharge, "discharge")
	return []hydraulics.Rate{{FromDays: 0, DischargeM3D: q}}, err
}

// changing fits a test whose discharge changed, by piezometers together and by the pumped
// well itself.
func (s Sheet) changing(out *Answer, rates []hydraulics.Rate, series []hydraulics.Series) error {
	out.Notes = append(out.Notes, geo.Say("pumping.note.rates", geo.With("n", geo.Count(len(rates)))))
	piezometers, n := piezometersOf(series)
	if len(piezometers) > 0 {
		f, fitErr := hydraulics.FitRates(rates, piezometers)
		w, err := s.way("way.theis", f, n, fitErr)
		if err != nil {
			return err
		}
		w.DistanceM, w.Over = geo.Some(piezometers[0].DistanceM), OverRates // the nearest in the table is drawn
		if fitErr == nil {
			w.Curves, _ = hydraulics.RatesCurves(rates, piezometers[0].DistanceM, f, piezometers[0].Readings)
		}
		if len(piezometers) > 1 {
			w.DistanceM = geo.Opt[float64]{}
		}
		out.Ways = append(out.Ways, w)
	}
	for _, one := range series {
		if one.DistanceM == 0 {
			if err := s.varied(out, rates, one.Readings); err != nil {
				return err
			}
		}
	}
	s.remark(out, len(piezometers) < len(series))
	return nil
}

// varied fits the pumped well itself.
func (s Sheet) varied(out *Answer, rates []hydraulics.Rate, readings []hydraulics.Reading) error {
	p, err := s.pumped(0)
	if err != nil {
		return err
	}
	v, fitErr := hydraulics.FitVaried(p, rates, readings)
	w, err := s.way("way.varied", v.Fit, len(readings), fitErr)
	if err != nil {
		return err
	}
	w.DistanceM, w.Over = geo.Some(0.0), OverRates
	if fitErr == nil {
		w.Curves, _ = v.Curves(readings)
	}
	out.Ways = append(out.Ways, w)
	f, ok := v.Losses.Get()
	if fitErr != nil || !ok {
		return nil
	}
	l := lossesOf(out, f)
	for i, r := range rates {
		end := readings[len(readings)-1].Days
		if i+1 < len(rates) {
			end = rates[i+1].FromDays
		}
		if total := v.Drawdown(end); r.DischargeM3D > 0 && total > 0 && end > r.FromDays {
			l.Steps = append(l.Steps, StepShare{r.DischargeM3D, total, min(1, v.Ground(end)/total)})
		}
	}
	l.condition(f)
	out.Losses = geo.Some(l)
	return nil
}

// graded is the discharge from which a well is graded by its loss, m³/d: the grades were made
// for town wells, and every hand-drilled one would be called clogged by them. Common
// practice, no source.
const graded = 500

// condition grades the well where its steps reach so far.
func (l *Losses) condition(f hydraulics.StepFit) {
	for _, step := range l.Steps {
		if step.Discharge >= graded && f.C >= 0 {
			l.Condition, _ = f.Condition() // none for another power than that of the grades
		}
	}
}

// lossesOf says what a fit tells of the well's own part.
func lossesOf(out *Answer, f hydraulics.StepFit) Losses {
	b := f.B
	l := Losses{B: Range{b.Value, b.Lo, b.Hi}, C: f.C, CLo: f.CLo, CHi: f.CHi, Power: f.Power, LeftM: f.RMSM, Signs: f.Signs}
	if f.C < 0 {
		out.Notes = append(out.Notes, geo.Say("pumping.note.cleared-itself"))
	}
	if f.C >= 0 && f.CLo < 0 {
		out.Notes = append(out.Notes, geo.Say("pumping.note.loss-unsure"))
	}
	return l
}
