package advisor

import (
	"slices"

	"waterstrike/advisor/evidence"
	"waterstrike/advisor/level"
	"waterstrike/advisor/method"
	"waterstrike/advisor/strata"
	"waterstrike/geo"
	"waterstrike/geo/coord"
)

// Over returns an advisor with the same fits over another snapshot, such as one from which
// a bore is hidden.
func (a *Advisor) Over(snapshot *evidence.Snapshot) *Advisor {
	next := *a
	next.snapshot = snapshot
	return &next
}

// LevelAt states the level alone; ok is false where there is too little evidence for one.
func (a *Advisor) LevelAt(at coord.LonLat) (s level.Statement, ok bool, err error) {
	near := gathered{land: a.snapshot.Setting(at)}
	near.readLevels(a.snapshot, at, coord.NewPlane(at))
	water, err := a.water(near)
	if water == nil {
		return s, false, err
	}
	return *water, true, nil
}

// LayersAt states the layers alone; ok is false where there is too little evidence for them.
func (a *Advisor) LayersAt(at coord.LonLat) (odds strata.Odds, ok bool) {
	near := gathered{land: a.snapshot.Setting(at)}
	near.readLogs(a.snapshot, at, a.logIn)
	x := a.layers(near)
	if x == nil {
		return odds, false
	}
	return x.Odds, true
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
