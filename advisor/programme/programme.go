package programme

import "waterstrike/geo"

// Programme is what is drilled where and when, and what comes of it.
type Programme struct {
	Picks  []Pick  `json:"picks"`  // by village
	People float64 `json:"people"` // expected to be newly served
	// Range holds the people newly served in four programmes of five like this one.
	Range Range            `json:"range"`
	Worst geo.Opt[float64] `json:"worst,omitzero"` // mean of the worst fifth of the scenarios; missing with few
	Money float64          `json:"money"`          // as the rules count it, trips included
	// MoneyMost is what it costs if every second attempt is needed.
	MoneyMost   float64    `json:"moneyMost"`
	Trips       float64    `json:"trips"` // part of the money
	Windows     []Used     `json:"windows"`
	Districts   []District `json:"districts"` // by name, all that have a village
	Attempts    float64    `json:"attempts"`  // to be expected, second ones by the chance that they are needed
	Points      float64    `json:"points"`    // lasting ones to be expected
	Unfit       float64    `json:"unfit"`     // of the people expected: those whose water may be unfit
	RiskUnknown []string   `json:"riskUnknown,omitempty"`
	Why         []Reason   `json:"why,omitempty"` // of each village, by ID; none from a simple rule
	Proof       *Proof     `json:"proof,omitempty"`
	Cases       []float64  `json:"-"` // people expected in each scenario
}

// Range is the middle four fifths of what may come.
type Range struct {
	P10 float64 `json:"p10"`
	P90 float64 `json:"p90"`
}

// Proof says how far the programme can be from the best one.
type Proof struct {
	Score float64 `json:"score"` // people expected, weighed with the worst fifth under caution
	Bound float64 `json:"bound"` // no programme under these rules scores more
	Gap   float64 `json:"gap"`   // (bound - score) / bound
	// Settled: the gap is no wider than the rules ask. Otherwise the effort ended first.
	Settled bool `json:"settled"`
}

// Pick is one village with its attempts.
type Pick struct {
	Village string    `json:"village"`
	Window  int       `json:"window"`
	Tries   []Attempt `json:"tries"`
	People  float64   `json:"people"` // expected to be newly served
	Chance  float64   `json:"chance"` // that at least one point lasts
	// Attempts is how many holes are to be expected, Points how many of them last.
	Attempts float64 `json:"attempts"`
	Points   float64 `json:"points"`
	Money    float64 `json:"money"` // as the rules count it, without the trip
	Weeks    float64 `json:"weeks"`
}

// Attempt is one spot with a method.
type Attempt struct {
	Spot   string           `json:"spot"`
	Method geo.Method       `json:"method"`
	When   geo.Code         `json:"when"`
	Chance float64          `json:"chance"`
	DepthM geo.Opt[float64] `json:"depthM,omitzero"`
	Cost   float64          `json:"cost"`
	Risk   geo.Opt[float64] `json:"risk,omitzero"`
}

// When an attempt is made.
const (
	First   geo.Code = "programme.when.first"
	IfFails geo.Code = "programme.when.if-fails" // only if the first one fails
	Also    geo.Code = "programme.when.also"     // besides the first one
)

// Used is what a window of the season holds.
type Used struct {
	Name      string  `json:"name"`
	Weeks     float64 `json:"weeks"`     // as the rules count them, trips included
	WeeksMost float64 `json:"weeksMost"` // if every second attempt is needed
	Of        float64 `json:"of"`
}

// District is what one district gets.
type District struct {
	Name     string  `json:"name"`
	Villages int     `json:"villages"`
	People   float64 `json:"people"`  // expected to be newly served
	Without  int     `json:"without"` // people without water before
	Money    float64 `json:"money"`   // without trips
}

// Reason says why a village is in or out.
type Reason struct {
	Village string      `json:"village"`
	In      bool        `json:"in"`
	Message geo.Message `json:"message"`
}
