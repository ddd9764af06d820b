package advisor

import (
	"context"
	"slices"

	"waterstrike/advisor/evidence"
	"waterstrike/advisor/method"
	"waterstrike/advisor/strata"
	"waterstrike/geo"
)

// Over returns an advisor with the same fits over another snapshot, such as one from which
// a bore is hidden.
func (a *Advisor) Over(snapshot *evidence.Snapshot) *Advisor {
	next := *a
	next.snapshot = snapshot
	return &next
}

// answerable refuses a question that no answer can be given to.
func (a *Advisor) answerable(ctx context.Context, q Question) error {
	if err := a.askable(ctx, q.At); err != nil {
		return err
	}
	if !a.offers(q.Method) {
		return geo.Fail(geo.Invalid, "advisor.Advise", geo.Say("problem.unknown-method", geo.With("value", geo.Text(q.Method))), nil)
	}
	return nil
}

// offers reports that a method is one of the rules', or that none is named.
func (a *Advisor) offers(m geo.Method) bool {
	return m == "" || slices.ContainsFunc(a.drillers, func(d *driller) bool { return d.Code == m })
}

// Methods returns the drilling methods of the rules.
func (a *Advisor) Methods() []method.Method { return a.rules.Methods }

// ReachM is how far evidence reaches at most, metres; 0 when nothing could be fitted.
func (a *Advisor) ReachM() float64 { return a.reachM() }

// LogOf cuts a bore's layers into the cells that the layer statement is made of.
func LogOf(b *evidence.Bore) strata.Log { return logOf(b) }

// Currency is the currency of the programme's price list, "" where it keeps none.
func (a *Advisor) Currency() string {
	if a.rules.Prices == nil {
		return ""
	}
	return a.rules.Prices.Currency
}
