package programme

import "waterstrike/geo"

// Problem is one question: where to spend a budget.
type Problem struct {
	Villages []Village
	Rounds   []Round  // that villages name; a village in none pays no trip
	Windows  []Window // of the season, at least one
	Budget   float64  // money, in the currency of all costs
	Floors   []Floor
	Must     []string // villages that are in whatever they give
	Never    []string // villages that are out whatever they give
	Rules    Rules
}

// Village is where people are without a working point within the standard.
type Village struct {
	ID       string
	District string
	Round    string           // may be empty
	Unserved int              // people without, as advisor/coverage counts them
	BaseM    geo.Opt[float64] // way from the crews' base; only the rule Nearest looks at it
	Options  []Option
}

// Option is one attempt that could be made for a village: a spot with a method.
type Option struct {
	Spot    string
	Method  geo.Method
	WalkM   float64          // from the village to the spot
	Chances []float64        // of a lasting point: one, or one in each scenario; their mean is the chance
	DepthM  geo.Opt[float64] // for the reader
	People  int              // most people whom a point there serves
	Cost    float64          // money, whatever comes of it
	Weeks   float64          // crew-weeks, whatever comes of it
	Risk    geo.Opt[float64] // chance that the water is unfit; missing: not known
	Windows []int            // numbers of the windows in which it can be drilled; none: all
}

// Round is a neighbourhood that a crew travels to: the trip is paid once in each window in
// which any of its villages is drilled.
type Round struct {
	ID    string
	Cost  float64 // money a trip
	Weeks float64 // crew-weeks a trip
}

// Window is a part of the season.
type Window struct {
	Name  string  `json:"name"`
	Weeks float64 `json:"weeks"` // crew-weeks that all crews together have
}

// Floor is the least that a district gets; 0 asks for nothing.
type Floor struct {
	District string  `json:"district"`
	Villages int     `json:"villages"` // drilled in
	People   float64 `json:"people"`   // expected to be newly served
}

// Rules are the programme's own.
type Rules struct {
	WalkM       float64          // spots farther from their village are left out
	LeastChance float64          // so are attempts less likely than this
	MostRisk    geo.Opt[float64] // and spots whose water is likelier than this to be unfit; unknown risk passes
	SecondTry   bool             // a failed attempt may be followed by one at another spot or by another method
	SecondPoint bool             // a village that one point cannot serve may get two
	// ReserveTry counts a second attempt in full. Otherwise it counts by the chance that it
	// is needed, and money and weeks hold on average rather than in every case.
	ReserveTry bool
	Caution    float64 // κ in [0,1]: weight of the worst fifth of the scenarios
	Gap        float64 // distance to the bound, as a share of it, at which the search ends
	Effort     int     // millions of columns looked at before the search ends all the same
}

// DefaultRules are common practice, no source; a programme sets its own.
func DefaultRules() Rules {
	return Rules{WalkM: 500, LeastChance: 0.2, SecondTry: true, SecondPoint: true, Gap: 0.005, Effort: 350}
}

const (
	worstShare  = 0.2    // of the scenarios that caution looks at
	mostWindows = 6      // the trips of a round are decided for every set of windows
	leastCases  = 20     // scenarios from which a worst fifth can be told
	mostOptions = 24     // of one village; its pairs grow with the square
	fewColumns  = 20_000 // up to which caution compares columns scenario by scenario
)
