package hydraulics

import (
	"math"
	"slices"

	"waterstrike/geo"
)

// Sign is something that the readings show and that a reader of the answer must know.
type Sign string

// The signs.
const (
	EarlyTime   Sign = "early-time"   // readings of u above [StrictU] had to be used
	WellStorage Sign = "well-storage" // readings had to be used while the well gave of its own water
	Barrier     Sign = "barrier"      // late readings fall faster: a boundary or poorer ground farther out
	Recharge    Sign = "recharge"     // late readings fall slower: a river, leakage, delayed yield or richer ground
	Displaced   Sign = "displaced"    // a recovery line that misses 0 at the end: recharge, or storage that changed
	FewReadings Sign = "few-readings" // one wrong reading would turn the answer
	ShortTest   Sign = "short-test"   // the line lasts from a time to less than ten times it
	Uneven      Sign = "uneven"       // what the fit leaves runs to one side for long: another curve would fit better
	NotSteady   Sign = "not-steady"   // drawdowns that do not lie on one line of the logarithm of distance
)

// Fit is what a test says of the ground.
type Fit struct {
	T       Estimate
	Storage geo.Opt[Estimate] // missing where the method cannot tell
	RMSM    float64           // of what the fit leaves, metres
	Used    []int             // which readings, by their place
	Signs   []Sign
}

// Has reports that the fit shows a sign.
func (f Fit) Has(s Sign) bool { return slices.Contains(f.Signs, s) }

// Aquifer returns the middle of the fit, with a storage in its stead where it has none.
func (f Fit) Aquifer(storage float64) Aquifer {
	return Aquifer{TM2D: f.T.Value, Storage: f.Storage.Or(Estimate{Value: storage}).Value}
}

// checkReadings refuses what is no reading, and readings out of order.
func checkReadings(readings []Reading, least int) error {
	if len(readings) < least {
		return ErrTooFew
	}
	last := 0.0
	for _, r := range readings {
		if err := positive(named{"time", r.Days}); err != nil {
			return err
		}
		if r.Days <= last {
			return &InputError{"time", r.Days, "a time after the reading before"}
		}
		if math.IsNaN(r.DrawdownM) || math.IsInf(r.DrawdownM, 0) {
			return &InputError{"drawdown", r.DrawdownM, "a finite number"}
		}
		last = r.Days
	}
	return nil
}
