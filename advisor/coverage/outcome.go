package coverage

import (
	"math"

	"waterstrike/geo"
)

// Bore is one hole with what it came to.
type Bore struct {
	ID        string
	Group     string // what accounts are split by: a district, a year, a method
	Outcome   geo.Outcome
	Predicted geo.Opt[float64] // chance stated before it was drilled
	DepthM    geo.Opt[float64]
	Cost      geo.Opt[float64] // money, all in one currency
	Served    geo.Opt[int]     // people who drink from it, as [Land.Count] gave; missing: not counted
}

// Rate is how many bores of known outcome became water points.
type Rate struct {
	Producing int              `json:"producing"`
	Known     int              `json:"known"`
	Share     geo.Opt[float64] `json:"share,omitzero"` // missing where no outcome is known
	Range     Interval         `json:"range"`          // by [Wilson]
	Records   []string         `json:"records,omitempty"`
	Unknown   []string         `json:"unknown,omitempty"` // bores of unknown outcome, left out
}

// Kept says whether what was foretold came true, over the bores that have both a stated
// chance and a known outcome.
type Kept struct {
	Bores     int              `json:"bores"`
	Foretold  float64          `json:"foretold"` // sum of the stated chances
	Found     int              `json:"found"`    // producing bores
	Range     [2]int           `json:"range"`    // 95 % of what those chances allow
	MeanSaid  geo.Opt[float64] `json:"meanSaid,omitzero"`
	MeanFound geo.Opt[float64] `json:"meanFound,omitzero"`
	Records   []string         `json:"records,omitempty"`
}

// OutcomeAccount is the outcomes of one group of bores, or of all.
type OutcomeAccount struct {
	Group    string         `json:"group,omitempty"`
	Outcomes []OutcomeCount `json:"outcomes,omitempty"`
	Rate     Rate           `json:"rate"`
	Kept     Kept           `json:"kept"`
	Cost     Costs          `json:"cost"`
}

// OutcomeCount is how many bores had one outcome.
type OutcomeCount struct {
	Outcome geo.Outcome `json:"outcome"`
	Records []string    `json:"records"`
}

// Outcomes accounts for all bores together, then for each group in order of its name.
//
//   - Errors: [geo.Invalid] with a message that names the bore: an ID that is empty or
//     stands twice, a chance outside [0,1], a depth or cost that is no number of 0 or
//     more, people below 0.
//   - Checked by: TestOutcomesByHand, TestOutcomesRefuse.
func Outcomes(bores []Bore) (all OutcomeAccount, groups []OutcomeAccount, err error) {
	if err := checkBores(bores); err != nil {
		return all, nil, err
	}
	by := map[string][]Bore{}
	for _, b := range bores {
		by[b.Group] = append(by[b.Group], b)
	}
	for _, name := range sortedKeys(by) {
		a := accountFor(by[name])
		a.Group = name
		groups = append(groups, a)
	}
	return accountFor(bores), groups, nil
}

func accountFor(bores []Bore) OutcomeAccount {
	return OutcomeAccount{Outcomes: tally(bores), Rate: rateOf(bores), Kept: keptOf(bores), Cost: costsOf(bores)}
}

func tally(bores []Bore) (out []OutcomeCount) {
	by := map[geo.Outcome][]string{}
	for _, b := range bores {
		by[b.Outcome] = append(by[b.Outcome], b.ID)
	}
	for _, outcome := range sortedKeys(by) {
		out = append(out, OutcomeCount{outcome, by[outcome]})
	}
	return out
}

func rateOf(bores []Bore) Rate {
	var r Rate
	for _, b := range bores {
		if !b.known() {
			r.Unknown = append(r.Unknown, b.ID)
			continue
		}
		r.Known++
		r.Records = append(r.Records, b.ID)
		if b.produces() {
			r.Producing++
		}
	}
	r.Range = Wilson(r.Producing, r.Known)
	if r.Known > 0 {
		r.Share = geo.Some(float64(r.Producing) / float64(r.Known))
	}
	return r
}

func (b *Bore) known() bool { return b.Outcome != geo.OutcomeUnknown && b.Outcome != "" }

func (b *Bore) produces() bool { return b.Outcome == geo.Producing }

func keptOf(bores []Bore) Kept {
	var k Kept
	var said []float64
	for _, b := range bores {
		p, stated := b.Predicted.Get()
		if !stated || !b.known() {
			continue
		}
		said = append(said, p)
		k.Foretold += p
		k.Records = append(k.Records, b.ID)
		if b.produces() {
			k.Found++
		}
	}
	k.Bores = len(said)
	k.Range = allowed(said)
	if k.Bores > 0 {
		k.MeanSaid = geo.Some(k.Foretold / float64(k.Bores))
		k.MeanFound = geo.Some(float64(k.Found) / float64(k.Bores))
	}
	return k
}

// allowed returns the middle 95 % of how many of some independent chances come true: the
// quantiles at 0.025 and 0.975 of their exact distribution, built up chance by chance.
//
//   - Source: the Poisson-binomial distribution, by its recursion (textbook, from memory).
func allowed(chances []float64) [2]int {
	odds := make([]float64, 1, len(chances)+1)
	odds[0] = 1
	for _, p := range chances {
		odds = append(odds, 0)
		for k := len(odds) - 1; k > 0; k-- {
			odds[k] = odds[k]*(1-p) + odds[k-1]*p
		}
		odds[0] *= 1 - p
	}
	var out [2]int
	sum := 0.0
	for k, p := range odds {
		if sum < 0.025 {
			out[0] = k
		}
		if sum < 0.975 {
			out[1] = k
		}
		sum += p
	}
	return out
}

func checkBores(bores []Bore) error {
	fail := func(b *Bore, code geo.Code) error {
		return geo.Fail(geo.Invalid, "coverage.Outcomes", geo.Say(code, geo.With("id", geo.Text(b.ID))), nil)
	}
	seen := map[string]bool{}
	for i := range bores {
		b := &bores[i]
		switch {
		case b.ID == "":
			return geo.Fail(geo.Invalid, "coverage.Outcomes", geo.Say("coverage.no-id"), nil)
		case seen[b.ID]:
			return fail(b, "coverage.bore-twice")
		case !between(b.Predicted, 1):
			return fail(b, "coverage.bad-chance")
		case !between(b.DepthM, math.MaxFloat64) || !between(b.Cost, math.MaxFloat64) || b.Served.Or(0) < 0:
			return fail(b, "coverage.bad-figure")
		}
		seen[b.ID] = true
	}
	return nil
}

// between reports whether a number that is known lies in [0, most].
func between(v geo.Opt[float64], most float64) bool {
	x := v.Or(0)
	return x >= 0 && x <= most
}
