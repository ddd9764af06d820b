package geo

import (
	"waterstrike/geo/coord"

	"github.com/google/uuid"
)

// BoreID is a permanent UUID: two offices' bases can be merged by it.
type BoreID string

// NewBoreID draws a new random id.
func NewBoreID() BoreID { return BoreID(uuid.NewString()) }

// Outcome is what came of a bore.
type Outcome string

// The outcomes.
const (
	OutcomeUnknown Outcome = "unknown"
	Producing      Outcome = "producing"
	Dry            Outcome = "dry"       // never reached water
	Refused        Outcome = "refused"   // the method could not go on
	Collapsed      Outcome = "collapsed" // lost before it was lined
	LowYield       Outcome = "low-yield"
	BadWater       Outcome = "bad-water"
	Failed         Outcome = "failed" // given up, nobody wrote why
)

// Outcomes lists every outcome in a fixed order.
func Outcomes() []Outcome {
	return []Outcome{Producing, Dry, Refused, Collapsed, LowYield, BadWater, Failed, OutcomeUnknown}
}

// Method is the code of a drilling method; the editable list of methods and their limits
// lives in the advisor's data. "machine" stands for every powered rig.
type Method string

// MethodUnknown and MethodMachine are the two codes that records need of their own.
const (
	MethodUnknown Method = "unknown"
	MethodMachine Method = "machine"
)

// Bore is one hole in the ground, finished or given up, with all that was written of it.
type Bore struct {
	ID        BoreID             `json:"id"`
	Code      string             `json:"code,omitempty"` // the programme's own number
	Name      string             `json:"name,omitempty"`
	Place     string             `json:"place,omitempty"`     // place name as written
	VillageID VillageID          `json:"villageId,omitempty"` // when matched to a village
	Position  Opt[coord.Reading] `json:"position,omitzero"`
	Ground    Opt[Elevation]     `json:"ground,omitzero"`
	Started   Opt[Date]          `json:"started,omitzero"`
	Completed Opt[Date]          `json:"completed,omitzero"`
	Method    Method             `json:"method"`
	Outcome   Outcome            `json:"outcome"`
	DepthM    Opt[float64]       `json:"depthM,omitzero"`   // total drilled depth
	RefusalM  Opt[float64]       `json:"refusalM,omitzero"` // depth beyond which the method could not go
	YieldLPS  Opt[float64]       `json:"yieldLps,omitzero"` // as reported, without a test
	Driller   string             `json:"driller,omitempty"` // crew or firm, never a person
	Remarks   string             `json:"remarks,omitempty"`
	Cost      Opt[Money]         `json:"cost,omitzero"`
	Layers    []Layer            `json:"layers,omitempty"`  // by top
	Strikes   []Strike           `json:"strikes,omitempty"` // by depth
	Levels    []Level            `json:"levels,omitempty"`  // by date
	Pipes     []Pipe             `json:"pipes,omitempty"`   // casing, screen and plug
	Fills     []Fill             `json:"fills,omitempty"`   // pack, seal, backfill
	Tests     []PumpTest         `json:"tests,omitempty"`
	Samples   []Sample           `json:"samples,omitempty"`
	Source    Provenance         `json:"source"`
}

// Elevation is metres above a named datum.
type Elevation struct {
	M      float64 `json:"m"`
	Datum  string  `json:"datum,omitempty"`  // such as "EGM96"; empty when not written
	Source string  `json:"source,omitempty"` // such as "gps", "map", "terrain", "levelled"
}

// Money is an amount in a named currency (ISO 4217).
type Money struct {
	Amount   float64 `json:"amount"`
	Currency string  `json:"currency"`
}

// Label returns what a person calls the bore: its code, its name, or its place.
func (b Bore) Label() string {
	for _, text := range []string{b.Code, b.Name, b.Place} {
		if text != "" {
			return text
		}
	}
	return string(b.ID)
}

// LoggedM returns the depth down to which layers were described, 0 when none were.
func (b Bore) LoggedM() float64 {
	logged := 0.0
	for _, l := range b.Layers {
		logged = max(logged, l.BaseM)
	}
	return logged
}
