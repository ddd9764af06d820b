package pumptest

import (
	"waterstrike/advisor/hydraulics"
	"waterstrike/geo"
)

func (s Sheet) steps(out *Answer) error {
	var steps []hydraulics.Step
	for _, r := range s.Rows {
		q, ok1 := r.Discharge.Get()
		m, ok2 := r.DrawdownM.Get()
		if !ok1 || !ok2 {
			return refuse("pumping.row-lacks", row(r.Line))
		}
		steps = append(steps, hydraulics.Step{DischargeM3D: q, DrawdownM: m})
	}
	f, err := hydraulics.FitSteps(steps)
	if err != nil {
		why, ok := failed(err)
		if !ok {
			return err
		}
		return geo.Fail(geo.Unsolvable, "pumptest.Answer", why, err)
	}
	l := lossesOf(out, f)
	for _, step := range steps {
		share, err := f.Efficiency(step.DischargeM3D)
		if err != nil {
			share = 1 // the well loses nothing, or less than nothing
		}
		l.Steps = append(l.Steps, StepShare{step.DischargeM3D, step.DrawdownM, share})
	}
	l.condition(f)
	l.Curves, _ = hydraulics.StepCurves(f, steps)
	out.Losses = geo.Some(l)
	return nil
}

// slug turns the rate at which a displacement dies into a conductivity, by the way for a
// screen in ground of any kind and, where its place is known, by that for a water table.
func (s Sheet) slug(out *Answer) error {
	hole, err := need(s.HoleM, "hole")
	if err != nil {
		return err
	}
	screen, err := need(s.ScreenM, "screen")
	if err != nil {
		return err
	}
	series, err := s.series()
	if err != nil {
		return err
	}
	start, ok := s.StartM.Get()
	if !ok {
		start = s.Rows[0].DrawdownM.Or(0)
	}
	if len(series) != 1 {
		return refuse("pumping.one-place")
	}
	readings := series[0].Readings
	f, err := hydraulics.FitSlug(start, readings)
	if err != nil {
		why, ok := failed(err)
		if !ok {
			return err
		}
		return geo.Fail(geo.Unsolvable, "pumptest.Answer", why, err)
	}
	well := hydraulics.Well{RadiusM: hole / 2, OpenRadiusM: min(s.PipeM.Or(hole), hole) / 2}
	k, err := hydraulics.Hvorslev(well, screen, f.RatePerDay.Value)
	s.conductivity(out, "way.long-screen", f, len(readings), k, err)
	out.Ways[0].Over = OverShare // the straight part that both ways rest on
	out.Ways[0].Curves, _ = hydraulics.SlugCurves(start, f, readings)
	foot, ok1 := s.FootM.Get()
	thick, ok2 := s.ThickM.Get()
	if ok1 && ok2 {
		k, err = hydraulics.BouwerRice(hydraulics.Slugged{Well: well, ScreenM: screen, BelowM: foot, ThickM: thick}, f.RatePerDay.Value)
		s.conductivity(out, "way.water-table", f, len(readings), k, err)
	} else {
		out.Notes = append(out.Notes, geo.Say("pumping.note.no-foot"))
	}
	out.Notes = append(out.Notes, geo.Say("pumping.note.near-the-well"))
	return nil
}

// conductivity adds what one way says; its range is that of the rate.
func (s Sheet) conductivity(out *Answer, code geo.Code, f hydraulics.SlugFit, of int, k float64, err error) {
	w := Way{Code: code, Used: len(f.Used), Of: of, Signs: f.Signs}
	if err != nil {
		w.Used = 0
		if why, ok := failed(err); ok {
			w.Failed = geo.Some(why)
		}
	} else {
		w.K = rangeOf(f.RatePerDay, k/f.RatePerDay.Value)
	}
	out.Ways = append(out.Ways, w)
}
