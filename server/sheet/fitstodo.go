package sheet

import (
	"waterstrike/advisor"
	"waterstrike/advisor/level"
	"waterstrike/ui/say"
)

// What a fit must keep to for nothing to be said of it. Common practice, no source.
const (
	heldLeast, heldMost = 0.70, 0.90 // of an 80 % range
	highCondition       = 1e8
	manyOf              = 0.5 // of the readings
	fewReadings         = 30
)

// fitsToDo says what is off with the fits and what to do about it.
func (s speaker) fitsToDo(f advisor.Fits) (out []string) {
	if f.Now != f.Snapshot {
		out = append(out, s.Say("fit.todo.older"))
	}
	if r, ok := f.Level.Get(); ok {
		for _, code := range levelToDo(r, f.Kinds) {
			out = append(out, s.Say(code))
		}
		if held := r.Shown.LeftOut.Held; len(r.Shown.LeftOut.Cases) >= fewReadings && held < heldLeast {
			out = append(out, s.Say("fit.todo.narrow", say.With("share", say.Share(held))))
		}
		if held := r.Shown.LeftOut.Held; len(r.Shown.LeftOut.Cases) >= fewReadings && held > heldMost {
			out = append(out, s.Say("fit.todo.wide", say.With("share", say.Share(held))))
		}
	} else {
		out = append(out, s.Say("fit.todo.no-level"))
	}
	if r, ok := f.Strata.Get(); !ok {
		out = append(out, s.Say("fit.todo.no-strata"))
	} else if r.LogScore >= r.Profile {
		out = append(out, s.Say("fit.todo.strata"))
	}
	if len(out) == 0 {
		return []string{s.Say("fit.todo.nothing")}
	}
	return out
}

// levelToDo names what is off with the fit of the depth to water.
func levelToDo(r level.Report, k advisor.Kinds) (out []string) {
	v := r.Variogram
	for _, off := range []struct {
		is   bool
		code string
	}{
		{r.Readings < fewReadings, "fit.todo.few"},
		{v.AtPureMicro, "fit.todo.pure-micro"},
		{!v.AtPureMicro && v.AtMinRange, "fit.todo.least-range"},
		{!v.AtPureMicro && v.RangeOpenAbove(), "fit.todo.open-range"},
		{v.AtZeroMicro, "fit.todo.zero-micro"},
		{v.AtTotal, "fit.todo.total"},
		{v.Condition > highCondition, "fit.todo.condition"},
		{seasonCode(r.Season) == "fit.season.assumed", "fit.todo.season"},
		{float64(k.Undated) > manyOf*float64(k.Rest), "fit.todo.undated"},
		{float64(k.Vague) > manyOf*float64(k.Rest), "fit.todo.vague"},
		{len(r.Trend) == 0, "fit.todo.land"},
		{r.DryHoles == 0, "fit.todo.no-dry"},
	} {
		if off.is {
			out = append(out, off.code)
		}
	}
	return out
}
