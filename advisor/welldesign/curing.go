package welldesign

import "waterstrike/geo"

// Step is one piece of work or of waiting, with when it begins and ends, hours after the
// crew arrives; nights count while something sets, and not while people work.
type Step struct {
	Code  geo.Code `json:"code"`
	FromH float64  `json:"fromH"`
	ToH   float64  `json:"toH"`
	Wait  bool     `json:"wait,omitempty"` // nothing to do but to keep it wet and untouched
}

// Timetable puts the work in an order in which no cement is loaded before it has set: the
// pack settles while the well is developed, before anything is sealed over it; the seal
// stands still before the slab is cast on it; the slab is wet for days and hard before it
// carries a pump.
//
//   - Units: hours from arrival; working days begin a day apart.
//   - Domain: work of a design that fits.
//   - Source: the rules' own; order of work common practice, no source.
//   - Checked by: TestTimetable.
func Timetable(work Work, r *Rules) []Step {
	t := clock{dayH: r.Work.HoursDay.Value}
	t.work("step.set-up", work.SetUpH)
	t.work("step.drill", work.DrillH)
	t.work("step.line-and-pack", work.LineH/2)
	t.work("step.develop", work.LineH/2)
	t.work("step.seal", 1)
	sealed := t.nowH
	t.wait("step.seal-still", r.Grout.Still.Value)
	t.work("step.apron", work.ApronH)
	cast := t.nowH
	t.beside("step.apron-wet", cast, 24*r.Apron.Wet.Value)
	t.until("step.no-load-on-seal", sealed, r.Grout.Load.Value)
	t.until("step.no-pump-on-slab", cast, 24*r.Apron.Pump.Value)
	t.work("step.test-and-disinfect", r.Work.HoursDay.Value)
	t.wait("step.chlorine-stands", r.Chlorine.Hold.Value)
	t.work("step.pump", r.Work.HoursDay.Value/2)
	t.beside("step.full-strength", cast, 24*r.Apron.Strength.Value)
	return t.steps
}

// clock adds steps one after another.
type clock struct {
	steps []Step
	nowH  float64
	dayH  float64
	doneH float64 // worked on the day that runs
}

// work takes hours of working days.
func (c *clock) work(code geo.Code, hours float64) {
	from := c.nowH
	for hours > slackM {
		if c.doneH >= c.dayH-slackM {
			c.nowH += 24 - c.dayH
			c.doneH = 0
		}
		part := min(hours, c.dayH-c.doneH)
		c.nowH, c.doneH, hours = c.nowH+part, c.doneH+part, hours-part
	}
	c.steps = append(c.steps, Step{Code: code, FromH: from, ToH: c.nowH})
}

// wait lets hours pass; the next work begins with a fresh day.
func (c *clock) wait(code geo.Code, hours float64) {
	c.steps = append(c.steps, Step{code, c.nowH, c.nowH + hours, true})
	c.nowH += hours
	c.doneH = 0
}

// beside runs while the work goes on.
func (c *clock) beside(code geo.Code, fromH, hours float64) {
	c.steps = append(c.steps, Step{code, fromH, fromH + hours, true})
}

// until waits for what was finished at fromH, as far as time has not passed already. What
// must not be loaded meanwhile must not be from fromH on, so the step begins there.
func (c *clock) until(code geo.Code, fromH, hours float64) {
	c.beside(code, fromH, hours)
	if end := fromH + hours; end > c.nowH {
		c.nowH, c.doneH = end, 0
	}
}
