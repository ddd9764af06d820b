package coverage

import (
	"cmp"
	"math"
	"slices"

	"waterstrike/geo"
)

// Span is how long one thing was watched, and whether it failed at the end of it. One
// that had not failed is censored: it lasted at least so long.
type Span struct {
	ID     string
	Length float64 // from 0, in any one unit
	Failed bool
}

// Step is the curve from one time up to the next.
type Step struct {
	At       float64           `json:"at"`
	AtRisk   int               `json:"atRisk"` // still watched just before
	Failed   int               `json:"failed"` // at this time
	Censored int               `json:"censored"`
	Survival float64           `json:"survival"`       // share that outlasts this time
	Error    geo.Opt[float64]  `json:"error,omitzero"` // standard error; missing once nothing is left
	Range    geo.Opt[Interval] `json:"range,omitzero"` // 95 %; missing before the first failure and once nothing is left
}

// Curve is the share of things that still last, by time. Spans in order of length.
type Curve struct {
	Steps []Step `json:"steps"` // one for each length that occurs
	spans []Span
}

// KaplanMeier returns the share that outlasts each time,
//
//	S(t) = Π over failure times u ≤ t of (1 - failed(u) / atRisk(u)),
//
// with Greenwood's standard error
//
//	se(t) = S(t) √(Σ failed(u) / (atRisk(u) (atRisk(u) - failed(u))))
//
// and the 95 % interval that is symmetric on ln(-ln S), which stays within [0,1]. What
// fails and what is censored at one time: the failures come first.
//
//   - Shapes: one step for each length that occurs.
//   - Units: time as the spans have it; shares in [0,1].
//   - Domain: censoring must not foretell failure: a point that nobody visits any more
//     because it broke makes the curve too good.
//   - Errors: [geo.Invalid] for a length that is no number of 0 or more, [geo.TooFewData]
//     without any span.
//   - Source: Kaplan and Meier (1958), J. Am. Stat. Assoc. 53:457-481; Greenwood (1926);
//     interval as in Kalbfleisch and Prentice (1980), the choice "log-log" of R's survfit.
//   - Checked by: TestKaplanMeierTextbook, TestKaplanMeierAgainstR, TestKaplanMeierLaws.
func KaplanMeier(spans []Span) (*Curve, error) {
	if len(spans) == 0 {
		return nil, geo.Fail(geo.TooFewData, "coverage.KaplanMeier", geo.Say("coverage.no-spans"), nil)
	}
	for _, s := range spans {
		if !(s.Length >= 0) || math.IsInf(s.Length, 0) {
			return nil, geo.Fail(geo.Invalid, "coverage.KaplanMeier", geo.Say("coverage.bad-span", geo.With("id", geo.Text(s.ID))), nil)
		}
	}
	c := &Curve{spans: slices.Clone(spans)}
	slices.SortFunc(c.spans, func(a, b Span) int {
		return cmp.Or(cmp.Compare(a.Length, b.Length), cmp.Compare(a.ID, b.ID))
	})
	survival, greenwood := 1.0, 0.0
	for i := 0; i < len(c.spans); {
		s := Step{At: c.spans[i].Length, AtRisk: len(c.spans) - i}
		for ; i < len(c.spans) && c.spans[i].Length == s.At; i++ {
			if c.spans[i].Failed {
				s.Failed++
			} else {
				s.Censored++
			}
		}
		left := float64(s.AtRisk - s.Failed)
		survival *= left / float64(s.AtRisk)
		if left > 0 {
			greenwood += float64(s.Failed) / (float64(s.AtRisk) * left)
		}
		s.Survival = survival
		s.spread(greenwood)
		c.Steps = append(c.Steps, s)
	}
	return c, nil
}

// spread adds the standard error and the interval of a step.
func (s *Step) spread(greenwood float64) {
	if s.Survival == 0 {
		return // the formula has no value here
	}
	root := math.Sqrt(greenwood)
	s.Error = geo.Some(s.Survival * root)
	if s.Survival < 1 {
		half := z95 * root / math.Abs(math.Log(s.Survival))
		s.Range = geo.Some(Interval{math.Pow(s.Survival, math.Exp(half)), math.Pow(s.Survival, math.Exp(-half))})
	}
}

// At returns the step that holds at a time: the last one that begins by then, a step of
// its own with all at risk before the first. It is missing beyond the longest span, where
// nothing was watched, unless by then everything had failed.
//
//   - Units: time as the spans have it.
//   - Errors: none; a time below 0 has no step.
//   - Source: as [KaplanMeier].
//   - Checked by: TestKaplanMeierTextbook, TestCurveBeyondItsEnds.
func (c *Curve) At(t float64) geo.Opt[Step] {
	last := c.Steps[len(c.Steps)-1]
	switch {
	case !(t >= 0):
		return geo.Opt[Step]{}
	case t < c.Steps[0].At:
		return geo.Some(Step{AtRisk: c.Steps[0].AtRisk, Survival: 1, Error: geo.Some(0.0)})
	case t > last.At && last.Survival > 0:
		return geo.Opt[Step]{}
	}
	i, found := slices.BinarySearchFunc(c.Steps, t, func(s Step, t float64) int { return cmp.Compare(s.At, t) })
	if !found {
		i--
	}
	return geo.Some(c.Steps[i])
}

// Median returns the first time that half do not outlast; missing where more than half
// still lasted at the end.
//
//   - Units: time as the spans have it.
//   - Errors: none.
//   - Source: the usual definition, the least t with S(t) ≤ 1/2.
//   - Checked by: TestKaplanMeierTextbook.
func (c *Curve) Median() geo.Opt[float64] {
	for _, s := range c.Steps {
		if s.Survival <= 0.5 {
			return geo.Some(s.At)
		}
	}
	return geo.Opt[float64]{}
}

// Records returns the IDs of the spans, the shortest first.
func (c *Curve) Records() []string {
	out := make([]string, len(c.spans))
	for i, s := range c.spans {
		out[i] = s.ID
	}
	return out
}
