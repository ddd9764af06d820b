package advisor

import (
	"waterstrike/advisor/hydraulics"
	"waterstrike/advisor/level"
	"waterstrike/advisor/strata"
	"waterstrike/geo"
)

// FitsSchema names the layout of [Fits] as JSON.
const FitsSchema = "waterstrike.learnt.1"

// Fits say what the answers were learnt from, and how far to trust what was learnt.
type Fits struct {
	Schema   string                 `json:"schema"`
	Snapshot string                 `json:"snapshot"` // of the records that were learnt from
	Now      string                 `json:"now"`      // of the records that answers read
	Bores    int                    `json:"bores"`    // in those learnt from
	Kinds    Kinds                  `json:"kinds"`
	Level    geo.Opt[level.Report]  `json:"level"`  // missing where there are too few readings
	Strata   geo.Opt[strata.Report] `json:"strata"` // missing where there are too few logs
	Ground   hydraulics.Report      `json:"ground"` // how open it is
}

// Kinds counts the bores behind a fit by what they say of the level. Beyond some number a
// sample of them is read: Stated counts them all.
type Kinds struct {
	Stated    int `json:"stated"`    // bores that state a level
	Rest      int `json:"rest"`      // of those read: with a depth to water
	Flowing   int `json:"flowing"`   // where water stood at or above the ground
	Dry       int `json:"dry"`       // without water down to their end
	Tight     int `json:"tight"`     // dry ones left out: their ground is too tight to show water in a day
	Vague     int `json:"vague"`     // of Rest: from what depth the water comes is not known
	Undated   int `json:"undated"`   // of Rest: without a month
	Landless  int `json:"landless"`  // of those read: without the shape of the land
	Points    int `json:"points"`    // wells and water points read
	Deep      int `json:"deep"`      // of all bores: left out for water of deep layers
	Described int `json:"described"` // bores with known layers
	Logs      int `json:"logs"`      // of these, read
}

// count adds a bore that was read; used is false where it states nothing of the level.
func (k *Kinds) count(o level.Observation, used bool) {
	switch {
	case !used:
		k.Tight++
		return
	case o.State == level.Flowing:
		k.Flowing++
	case o.State == level.DryTo:
		k.Dry++
	default:
		k.Rest++
		if o.Vague {
			k.Vague++
		}
		if o.On.Month == 0 {
			k.Undated++
		}
	}
	if !o.Land.Known() {
		k.Landless++
	}
}

// Fits says what the present answers were learnt from.
func (a *Advisor) Fits() Fits {
	out := a.fits.report
	out.Now = a.snapshot.ID()
	return out
}
