package welldesign

import (
	"math"

	"waterstrike/advisor/hydraulics"
	"waterstrike/advisor/method"
	"waterstrike/geo"
)

// Kit is what a well is built with.
type Kit struct {
	Method *method.Method
	Rates  *method.Rates // how fast the method gets on
	Crew   string        // whose pace is meant; any crew's where it is empty or has logged nothing
	Rules  *Rules
	Pumps  []Pump
	Prices *Prices                    // nil where the programme keeps no list
	Ground *hydraulics.Conductivities // what the region's tests teach; its zero value knows none
}

// NewKit returns a method with the embedded rules and pump classes and the list's rates.
func NewKit(m method.Method) (Kit, error) {
	rules, err := DefaultRules()
	if err != nil {
		return Kit{}, err
	}
	pumps, err := DefaultPumps()
	return Kit{Method: &m, Rates: m.Learn(nil), Rules: &rules, Pumps: pumps, Ground: new(hydraulics.Conductivities)}, err
}

// The verdicts on a column.
const (
	Fits   geo.Code = "well.verdict.fits"
	Unsafe geo.Code = "well.verdict.unsafe-here" // water could be drawn, but not kept clean
	NoWell geo.Code = "well.verdict.no-well"
)

// Well is a design, or the reason why there is none. Depths are metres below ground; with a
// verdict other than [Fits] nothing stands in it but the verdict, its reasons and how deep
// the method gets.
type Well struct {
	Verdict geo.Code      `json:"verdict"`
	Why     []geo.Message `json:"why,omitempty"`
	ReachM  float64       `json:"reachM"` // the deepest that the method gets here

	BottomM  float64       `json:"bottomM"` // of hole and plug
	Casing   Casing        `json:"casing"`
	Pipes    []geo.Pipe    `json:"pipes,omitempty"` // from the top; the plug is blank pipe, closed below
	Fills    []geo.Fill    `json:"fills,omitempty"` // from the top, without gaps unless the ground closes by itself
	WidenM   float64       `json:"widenM"`          // the top of the hole is widened for the cement down to here
	ScreenM  [2]float64    `json:"screenM"`
	Filter   Filter        `json:"filter"`
	Slots    Slots         `json:"slots"`
	Chance   float64       `json:"chance"`   // that it gives what is wanted
	DesignM  float64       `json:"designM"`  // the low that it is built for
	PumpingM float64       `json:"pumpingM"` // level while pumped at that low, as the middle of what is believed
	IntakeM  float64       `json:"intakeM"`  // of the pump
	Pumps    []PumpChoice  `json:"pumps,omitempty"`
	Tools    []ToolRange   `json:"tools,omitempty"`
	MayFlow  bool          `json:"mayFlow,omitempty"` // the water may come to stand over the ground
	Notes    []geo.Message `json:"notes,omitempty"`   // what to mind of this very well
}

// drilled is a column with what a method does in it.
type drilled struct {
	Kit
	*column
	site   Site
	reach  method.Reach
	reachM float64
}

// Design builds a well into one column: the screen opposite ground that gives water and
// below the design low, a seal that wins over the pack, a plug.
//
//   - Shapes: layers from the surface down without gaps.
//   - Units: metres below ground.
//   - Domain: the three levels in order; layers are read to the tenth of a metre and to
//     100 m; where they end the hole ends.
//   - Errors: a [geo.Invalid] error that tells how the site contradicts itself. That no
//     safe well is possible is no error but a verdict with its reason.
//   - Source: RWSN Code of Practice (2010), from memory, and the rules' own sources.
//   - Checked by: TestDesignLaws, TestSealWinsOverPack, TestUnsafeHere, TestWhyNoWell,
//     ExampleDesign.
func Design(s Site, k Kit) (Well, error) {
	d, err := drill(s, k)
	if err != nil {
		return Well{}, err
	}
	w, ok, err := d.place(all)
	if err != nil {
		return Well{}, err
	}
	if !ok || w.chance < hardly {
		verdict, why, err := d.whyNot(w, ok)
		return Well{Verdict: verdict, Why: why, ReachM: d.reachM}, err
	}
	return d.build(w)
}

func drill(s Site, k Kit) (*drilled, error) {
	if err := s.check(); err != nil {
		return nil, err
	}
	d := &drilled{Kit: k, column: columnOf(s, k.Rules.Seal.Separating.Value), site: s}
	d.reach = k.Method.Reach(d.classes, cellM, d.strikeM(s.Water.NormalLowM))
	d.reachM = tenth(d.reach.DepthM)
	return d, nil
}

// build lines the hole for a window.
func (d *drilled) build(w window) (Well, error) {
	out := Well{Verdict: Fits, ReachM: d.reachM, ScreenM: [2]float64{w.topM, w.baseM}, Chance: w.chance, DesignM: d.site.Water.DesignLowM}
	behind := d.classes[w.cell]
	var err error
	if out.PumpingM, err = d.pumpingM(w, d.Method.HoleMM); err != nil {
		return Well{}, err
	}
	lift := out.PumpingM + d.Rules.Pipe.StickUp.Value
	out.Casing, out.Pumps = d.lining(lift, behind)
	if len(out.Pumps) == 0 {
		return d.refuse(d.noPump(lift)), nil
	}
	if base, other := d.aboveM(w.cell); out.Casing.Natural && other {
		return Well{Verdict: Unsafe, ReachM: d.reachM, Why: []geo.Message{
			geo.Say("well.why.narrow-hole-joins", metres("from", base), metres("to", w.topM)),
		}}, nil
	}
	d.setIntake(&out)
	if shorter, ok, err := d.blankFoot(w, out); ok || err != nil {
		if err != nil {
			return Well{}, err
		}
		return d.build(shorter)
	}
	d.reserveFirst(&out)
	out.Filter = d.filter(w, out.Casing)
	d.surround(&out, w)
	out.Slots = d.Rules.slots(out)
	out.Tools = d.tools(out.BottomM)
	out.MayFlow = d.site.Water.WetHighM < flowsWithinM
	out.Notes = d.notes(out)
	return out, nil
}

func (d *drilled) refuse(why geo.Message) Well {
	return Well{Verdict: NoWell, Why: []geo.Message{why}, ReachM: d.reachM}
}

// pumpingM is the level while pumped at the design low, for the middle of what is believed
// of the ground.
func (d *drilled) pumpingM(w window, holeMM float64) (float64, error) {
	t := exp10(w.belief.Log10M2D)
	s, err := hydraulics.Drawdown(d.duty(holeMM), t, 1, 1)
	if err != nil {
		return 0, err
	}
	low := d.site.Water.DesignLowM
	return low + fallM(min(s, w.usableM), w.topM-low, w.baseM-w.topM), nil
}

// setIntake places the pump's intake, and with it the length of the sump: in the blank pipe
// over the screen with as much water over it as the rules wish; as deep there as it may
// stand; else at the foot of the screen, where the sump is long if the hole allows.
func (d *drilled) setIntake(w *Well) {
	y, s := d.Rules.Yield, d.Rules.Screen
	sump := s.Sump.Value
	highest := w.ScreenM[0] - y.AboveScreen.Value
	switch {
	case w.PumpingM+y.CoverBest.Value <= highest:
		w.IntakeM = min(highest, math.Ceil(10*(w.PumpingM+y.CoverBest.Value)-slackM)/10)
	case w.PumpingM+y.Cover.Value <= highest:
		w.IntakeM = highest
	default:
		w.IntakeM = w.ScreenM[1]
		long := w.ScreenM[1] + s.SumpLong.Value
		if long <= d.reachM+slackM && !d.holdsBody(w.ScreenM[1], long, d.body[down(w.ScreenM[1])-1]) {
			sump = s.SumpLong.Value
		}
	}
	w.BottomM = tenth(w.ScreenM[1] + sump)
}

// blankFoot gives up the lowest part of a screen for blank pipe, where a pump that stands at
// its foot has too little below it and the hole can go no deeper; ok is false where that is
// not so, or where what is left of the screen would hardly yield.
func (d *drilled) blankFoot(w window, out Well) (shorter window, ok bool, err error) {
	s := d.Rules.Screen
	if out.IntakeM < w.baseM-slackM || out.BottomM-w.baseM >= s.SumpLong.Value-slackM {
		return w, false, nil
	}
	shorter = window{topM: w.topM, baseM: tenth(w.baseM - s.SumpLong.Value + out.BottomM - w.baseM)}
	if shorter.baseM-shorter.topM < s.Least.Value-slackM {
		return w, false, nil
	}
	shorter.cell = down(shorter.baseM) - 1
	shorter, ok, err = d.judge(shorter)
	return shorter, ok && shorter.chance >= hardly, err
}
