package pumptest

import (
	"errors"

	"waterstrike/advisor/hydraulics"
	"waterstrike/geo"
)

// Yield is what a well gives, as far as hands have measured it.
type Yield struct {
	LPS      geo.Opt[Range]           `json:"lps,omitzero"`         // what was taken
	PerMetre geo.Opt[Range]           `json:"lpsPerMetre,omitzero"` // for each metre that the water may fall, in eight hours
	Carries  geo.Opt[Range]           `json:"carriesLPS,omitzero"`  // for all that it may fall
	Needed   geo.Opt[float64]         `json:"neededTM2D,omitzero"`  // m²/d that a hand pump takes
	Verdict  hydraulics.BailerVerdict `json:"verdict,omitempty"`    // of a bailer test that was read whole
}

// BucketL is the bucket that villagers count by: 20 litres, common practice.
const BucketL = 20

// What a hand pump takes of the ground where nobody says how far the water may fall.
//
// Source: T 1.1 m²/d and S 0.001 give the times of the table for field staff of MacDonald,
// Barker and Davies (2008), from memory; see TestBailAgainstGuideline in hydraulics.
const (
	handPumpT       = 1.1
	handPumpStorage = 1e-3
)

// The least that a hand-pump well gives on the day: 7.6 L/min for two hours.
//
// Source: Lifewater's target, two US gallons a minute, from memory; others ask 12 L/min.
const (
	leastLPS  = 7.6 / 60
	leastDays = 2.0 / 24
)

// bailer reads a bailer test: how far the water fell, and how long it took to rise by half and
// by three quarters of that, as stated or as a table of the rise has it.
func (s Sheet) bailer(out *Answer) error {
	bails, ok := s.Bailed.Get()
	if !ok {
		return missing("bailed")
	}
	well, err := s.pumped(0)
	if err != nil {
		return err
	}
	b := hydraulics.Bailed{
		Well:    hydraulics.Well{RadiusM: well.DistanceM, OpenRadiusM: well.OpenRadiusM},
		VolumeL: bails.Buckets * bails.Litres, Minutes: bails.Minutes,
	}
	timed, points, err := s.rise()
	if err != nil {
		return err
	}
	e, fitErr := hydraulics.FitBailer(b, timed)
	w, err := s.way("way.bailer", hydraulics.Fit{T: e}, len(points), fitErr)
	if err != nil {
		return err
	}
	if w.Failed.Known() && errors.Is(fitErr, hydraulics.ErrNoAnswer) {
		w.Failed = geo.Some(geo.Say("pumping.fail.bailer"))
	}
	w.Over = OverRise
	if fitErr == nil {
		w.Curves, _ = hydraulics.BailCurves(b, e, points)
	}
	out.Ways = append(out.Ways, w)
	taken, err := hydraulics.BucketCount(bails.Buckets, bails.Litres, bails.Minutes)
	if err != nil {
		return geo.Fail(geo.Unsolvable, "pumptest.Answer", geo.Say("pumping.fail.no-answer"), err)
	}
	y := Yield{LPS: takenLPS(taken)}
	if fitErr == nil {
		s.carries(&y, b.RadiusM, e)
	}
	s.judge(&y, b, timed)
	out.Yield = geo.Some(y)
	out.Notes = append(out.Notes, geo.Say("pumping.note.bailer"))
	if !s.UsableM.Known() {
		out.Notes = append(out.Notes, geo.Say("pumping.note.usable"))
	}
	if y.Verdict == "" {
		out.Notes = append(out.Notes, geo.Say("pumping.note.bailer-three"))
	}
	return nil
}

// rise gathers the three readings of a bailer test, and the points to draw.
func (s Sheet) rise() (t hydraulics.Timed, points []hydraulics.Point, err error) {
	t.MostM = s.StartM
	for _, r := range s.Rows {
		days, ok1 := r.Days.Get()
		m, ok2 := r.DrawdownM.Get()
		if !ok1 || !ok2 {
			return t, nil, refuse("pumping.row-lacks", row(r.Line))
		}
		if n := len(points); days < 0 || n > 0 && days <= points[n-1].X {
			return t, nil, refuse("pumping.out-of-order", row(r.Line))
		}
		if days == 0 && !t.MostM.Known() {
			t.MostM = geo.Some(m)
		}
		points = append(points, hydraulics.Point{X: days, Y: m})
	}
	const minutesPerDay = 1440
	most, known := t.MostM.Get()
	for _, one := range []struct {
		stated geo.Opt[float64]
		share  float64
		to     *geo.Opt[float64]
	}{{s.HalfDays, 0.5, &t.HalfMin}, {s.QuartDays, 0.25, &t.ThreeQMin}} {
		days, ok := one.stated.Get()
		if !ok && known {
			days, ok = crossing(points, one.share*most)
		}
		if ok {
			*one.to = geo.Some(days * minutesPerDay)
		}
	}
	if len(points) == 0 && known { // as three readings
		points = append(points, hydraulics.Point{X: 0, Y: most})
		if half, ok := t.HalfMin.Get(); ok {
			points = append(points, hydraulics.Point{X: half / minutesPerDay, Y: most / 2})
		}
		if quarter, ok := t.ThreeQMin.Get(); ok {
			points = append(points, hydraulics.Point{X: quarter / minutesPerDay, Y: most / 4})
		}
	}
	half, ok1 := t.HalfMin.Get()
	quarter, ok2 := t.ThreeQMin.Get()
	switch {
	case !ok1 && !ok2 && !known:
		return t, nil, missing("fall")
	case !ok1 && !ok2:
		return t, nil, missing("half")
	case ok1 && ok2 && quarter <= half:
		return t, nil, refuse("pumping.half-after-quarter")
	}
	return t, points, nil
}

// crossing is when the water has risen so far that so much is left, between two readings.
func crossing(points []hydraulics.Point, left float64) (days float64, ok bool) {
	for i := 1; i < len(points); i++ {
		a, b := points[i-1], points[i]
		if a.Y >= left && b.Y <= left && a.Y > b.Y {
			return a.X + (a.Y-left)/(a.Y-b.Y)*(b.X-a.X), true
		}
	}
	return 0, false
}

// carries says what a T lets a hand pump take in eight hours.
func (s Sheet) carries(y *Yield, radiusM float64, e hydraulics.Estimate) {
	const secondsPerDay = 86400
	duty := hydraulics.HandPump(2000 * radiusM)
	lps := func(t float64) (float64, bool) {
		m, err := hydraulics.Drawdown(duty, t, 1, 1)
		return duty.DischargeM3D / m / secondsPerDay * 1000, err == nil && m > 0
	}
	value, ok1 := lps(e.Value)
	lo, ok2 := lps(e.Lo)
	hi, ok3 := lps(e.Hi)
	if !ok1 || !ok2 || !ok3 {
		return
	}
	y.PerMetre = geo.Some(Range{value, lo, hi})
	if m, ok := s.UsableM.Get(); ok {
		y.Carries = geo.Some(Range{value * m, lo * m, hi * m})
	}
}

// judge compares a bailer test that was read whole with ground that just suffices.
func (s Sheet) judge(y *Yield, b hydraulics.Bailed, t hydraulics.Timed) {
	needed := handPumpT
	if m, ok := s.UsableM.Get(); ok {
		if t, err := hydraulics.NeededT(hydraulics.HandPump(2000*b.RadiusM), m); err == nil {
			needed = t
		}
	}
	y.Needed = geo.Some(needed)
	most, ok1 := t.MostM.Get()
	half, ok2 := t.HalfMin.Get()
	quarter, ok3 := t.ThreeQMin.Get()
	if !ok1 || !ok2 || !ok3 {
		return
	}
	v, err := hydraulics.JudgeBailer(b, hydraulics.Rise{MostM: most, HalfMin: half, ThreeQMin: quarter}, hydraulics.Aquifer{TM2D: needed, Storage: handPumpStorage})
	if err == nil {
		y.Verdict = v
	}
}

// takenLPS is a discharge measured by hand with its range.
func takenLPS(d hydraulics.Discharge) geo.Opt[Range] {
	const normal95 = 1.959963984540054
	return geo.Some(Range{d.LPS, max(0, d.LPS-normal95*d.Err), d.LPS + normal95*d.Err})
}

// buckets says what was taken by bucket and watch and, where it was read how far the water
// fell meanwhile, what the ground gives.
func (s Sheet) buckets(out *Answer) error {
	d, ok := s.ByHand.Get()
	if !ok {
		return missing("buckets")
	}
	y := Yield{LPS: takenLPS(d)}
	fall, ok := s.StartM.Get()
	pumped, timed := s.PumpedDays.Get()
	switch {
	case !ok:
		out.Notes = append(out.Notes, geo.Say("pumping.note.buckets-alone"))
	case !timed:
		return missing("pumped")
	default:
		well, err := s.pumped(d.M3D())
		if err != nil {
			return err
		}
		duty := hydraulics.HandPump(2000 * well.DistanceM)
		e, fitErr := hydraulics.SpecificCapacity(hydraulics.Single{
			DischargeM3D: d.M3D(), DrawdownM: fall * duty.Efficiency, Days: pumped, RadiusM: well.DistanceM,
			Storage: s.Storage.Or(duty.Storage), ScreenM: 1, LayerM: 1,
		})
		w, err := s.way("way.end", hydraulics.Fit{T: e}, 1, fitErr)
		if err != nil {
			return err
		}
		out.Ways = append(out.Ways, w)
		if fitErr == nil {
			s.carries(&y, well.DistanceM, e)
		}
		out.Notes = append(out.Notes, geo.Say("pumping.note.end"))
		if !s.UsableM.Known() {
			out.Notes = append(out.Notes, geo.Say("pumping.note.usable"))
		}
	}
	enough, long := d.LPS >= leastLPS, timed && pumped >= leastDays
	switch {
	case enough && long:
		out.Notes = append(out.Notes, geo.Say("pumping.note.accepted"))
	case enough:
		out.Notes = append(out.Notes, geo.Say("pumping.note.go-on"))
	default:
		out.Notes = append(out.Notes, geo.Say("pumping.note.too-little"))
	}
	out.Notes = append(out.Notes, geo.Say("pumping.note.on-the-day"))
	out.Yield = geo.Some(y)
	return nil
}
