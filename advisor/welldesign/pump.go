package welldesign

import (
	"cmp"
	_ "embed"
	"io/fs"
	"math"
	"slices"
	"strconv"

	"waterstrike/advisor/rule"
	"waterstrike/geo"
)

// PumpsFile is the name of the list of pump classes in the rules folder.
const PumpsFile = "pumps.json"

//go:embed pumps.json
var embeddedPumps []byte

// Pump is a class of hand pumps.
type Pump struct {
	Code      string
	LiftM     float64
	LostPerKM float64 // of lift for each kilometre above the sea
	InsideMM  float64 // least inside diameter of the casing
	People    [2]float64
	Flows     []Flow // by lift
	Told      []rule.Told
}

// Flow is the usual discharge at one lift.
type Flow struct{ LiftM, LoLMin, HiLMin float64 }

// pumpEntry is a pump class as a file writes it.
type pumpEntry struct {
	Code    string                `json:"code"`
	LeftOut bool                  `json:"leftOut"`
	Lift    rule.Number           `json:"liftM"`
	Lost    rule.Number           `json:"liftLostPerKM"`
	Inside  rule.Number           `json:"insideMM"`
	People  rule.Range            `json:"people"`
	Flows   map[string]rule.Range `json:"dischargeLMin"`
}

func (e pumpEntry) name() string { return e.Code }

// suctionM is more than any pump sucks: the air at sea level carries 10.3 m of water (101,325
// Pa, ISO 2533), of which vapour and losses take some.
const suctionM = 9

// PumpCodes lists the classes that have a name in the catalogue.
func PumpCodes() []string { return []string{"suction", "direct-action", "rope", "lever", "screw"} }

func (e pumpEntry) check(at rule.Fault) error {
	highest := 200.0
	if e.Code == "suction" {
		highest = suctionM
	}
	err := cmp.Or(
		at.OneOf("code", e.Code, PumpCodes()...),
		at.Within("liftM", e.Lift.Value, 1, highest),
		at.Within("liftLostPerKM", e.Lost.Value, 0, 5),
		at.Within("insideMM", e.Inside.Value, 20, 400),
		at.Within("people.lo", e.People.Lo, 1, 2000), at.Within("people.hi", e.People.Hi, 1, 2000),
	)
	if len(e.Flows) == 0 {
		return cmp.Or(err, at.Missing("dischargeLMin"))
	}
	for lift, flow := range e.Flows {
		m, bad := strconv.ParseFloat(lift, 64)
		if bad != nil {
			m = math.NaN()
		}
		field := "dischargeLMin." + lift
		err = cmp.Or(err, at.Within(field, m, 0.5, 200), at.Within(field+".lo", flow.Lo, 0.5, 300), at.Within(field+".hi", flow.Hi, 0.5, 300))
	}
	return err
}

// DefaultPumps returns the embedded classes.
func DefaultPumps() ([]Pump, error) { return pumpsOver(nil) }

// PumpsFromFolder returns the classes of a programme: the embedded ones, changed by its
// pumps.json where the rules folder holds one. A wrong file is a [geo.Invalid] error that
// names file, entry, field, value and what to do.
func PumpsFromFolder(rules fs.FS) ([]Pump, error) {
	edited, err := rule.Edited(rules, PumpsFile)
	if err != nil {
		return nil, err
	}
	return pumpsOver(edited)
}

func pumpsOver(edited []byte) ([]Pump, error) {
	list, err := rule.Lay(nil, PumpsFile, embeddedPumps, pumpEntry.name, pumpEntry.check)
	if err == nil && edited != nil {
		list, err = rule.Lay(list, rule.Named(PumpsFile), edited, pumpEntry.name, pumpEntry.check)
	}
	if err != nil {
		return nil, err
	}
	var out []Pump
	for _, e := range list {
		if !e.LeftOut {
			out = append(out, e.pump())
		}
	}
	return out, nil
}

func (e pumpEntry) pump() Pump {
	p := Pump{
		Code: e.Code, LiftM: e.Lift.Value, LostPerKM: e.Lost.Value, InsideMM: e.Inside.Value,
		People: [2]float64{e.People.Lo, e.People.Hi}, Told: rule.Tell(e),
	}
	for lift, flow := range e.Flows {
		m, _ := strconv.ParseFloat(lift, 64) // checked when it was read
		p.Flows = append(p.Flows, Flow{m, flow.Lo, flow.Hi})
	}
	slices.SortFunc(p.Flows, func(a, b Flow) int { return cmp.Compare(a.LiftM, b.LiftM) })
	return p
}

// Lifts reports whether the class lifts water from so deep.
func (p Pump) Lifts(liftM float64, altitudeM geo.Opt[float64]) bool {
	return liftM <= p.LiftM-p.LostPerKM*max(0, altitudeM.Or(0))/1000
}

// Discharge returns the usual discharge at a lift, between the lifts that are listed in a
// line, below the shallowest as there, beyond the deepest by the same power.
//
//   - Units: metres; L/min, low and high.
//   - Domain: lifts above 0; others as the shallowest listed.
//   - Source: the list of pumps.
//   - Checked by: TestPumpDischarge.
func (p Pump) Discharge(liftM float64) (lo, hi float64) {
	first, last := p.Flows[0], p.Flows[len(p.Flows)-1]
	switch {
	case liftM <= first.LiftM:
		return first.LoLMin, first.HiLMin
	case liftM >= last.LiftM:
		return last.LoLMin * last.LiftM / liftM, last.HiLMin * last.LiftM / liftM
	}
	i := slices.IndexFunc(p.Flows, func(f Flow) bool { return f.LiftM > liftM })
	a, b := p.Flows[i-1], p.Flows[i]
	share := (liftM - a.LiftM) / (b.LiftM - a.LiftM)
	return a.LoLMin + share*(b.LoLMin-a.LoLMin), a.HiLMin + share*(b.HiLMin-a.HiLMin)
}

// OnePerson returns what one adult can lift for long,
//
//	Q = 60/9.81 · P η / H,
//
// which tables of pumps exceed where two work or in short bursts.
//
//   - Units: metres; L/min.
//   - Domain: lifts above 0; +Inf at 0.
//   - Source: power over weight; 75 W and 60 % from memory.
//   - Checked by: TestOnePersonPower.
func (r PeopleRules) OnePerson(liftM float64) float64 {
	return 60 / 9.81 * r.Power.Value * r.Efficiency.Value / liftM
}

// PumpChoice is a class that suits a well.
type PumpChoice struct {
	Code       string  `json:"code"`
	LiftM      float64 `json:"liftM"`      // from the pumping level to the spout
	LoLMin     float64 `json:"loLMin"`     // as listed
	HiLMin     float64 `json:"hiLMin"`     //
	SteadyLMin float64 `json:"steadyLMin"` // that one adult keeps up, and the well gives
	People     int     `json:"people"`     // it can serve, by norm and by water
}

// serves returns how many a discharge serves: no more than the norm and the class allow,
// nor than the litres reach for.
//
//   - Units: L/min; people.
//   - Domain: discharges not below 0.
//   - Source: coverage by norm and by yield (common practice, no source).
//   - Checked by: TestPeopleServed.
func (r Rules) serves(dischargeLMin, mostOfClass float64) int {
	byWater := dischargeLMin * 60 * r.Yield.Hours.Value / r.People.Litres.Value()
	return int(min(byWater, r.People.PerPump.Value(), mostOfClass))
}

// pumpsFor lists the classes that fit the casing and lift the water, those that serve most
// people first.
func (k Kit) pumpsFor(insideMM, liftM float64, altitudeM geo.Opt[float64]) []PumpChoice {
	var out []PumpChoice
	for _, p := range k.Pumps {
		if p.InsideMM > insideMM+slackM || !p.Lifts(liftM, altitudeM) {
			continue
		}
		lo, hi := p.Discharge(liftM)
		steady := min((lo+hi)/2, k.Rules.People.OnePerson(max(liftM, 1)), 60*k.Rules.Yield.Wanted.Value)
		out = append(out, PumpChoice{p.Code, liftM, lo, hi, steady, k.Rules.serves(steady, p.People[1])})
	}
	slices.SortStableFunc(out, func(a, b PumpChoice) int { return cmp.Compare(b.People, a.People) })
	return out
}

// reserveFirst puts classes that lift from the intake itself before those that serve as many
// and do not: in a year drier than the one the well is built for the water falls towards it.
//
// Source: common practice, no source.
func (d *drilled) reserveFirst(w *Well) {
	short := map[string]int{}
	for _, p := range d.Pumps {
		if !p.Lifts(w.IntakeM+d.Rules.Pipe.StickUp.Value, d.site.AltitudeM) {
			short[p.Code] = 1
		}
	}
	slices.SortStableFunc(w.Pumps, func(a, b PumpChoice) int {
		return cmp.Or(cmp.Compare(b.People, a.People), cmp.Compare(short[a.Code], short[b.Code]))
	})
}
