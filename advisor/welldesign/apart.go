package welldesign

import (
	"math"

	"waterstrike/geo"
	"waterstrike/geo/soil"
)

// Distance is how far a well stays from one thing.
type Distance struct {
	From geo.Code `json:"from"` // such as "apart.latrine"
	M    float64  `json:"m"`
}

// Distances lists how far the well stays from what may foul it or harm it, by the rules in
// force. The latrine's is the larger of rule and travel time where travel time sets one.
func Distances(p Protection, r *Rules) []Distance {
	a := r.Apart
	latrine := a.Latrine.Value().LatrineM
	if travel, ok := p.TravelM.Get(); ok {
		latrine = max(latrine, math.Ceil(travel-slackM))
	}
	return []Distance{
		{"apart.latrine", latrine},
		{"apart.graves", a.Graves.Value()},
		{"apart.kraal", a.Kraal.Value},
		{"apart.refuse", a.Refuse.Value},
		{"apart.fuel", a.Fuel.Value},
		{"apart.soakaway", a.Soakaway.Value},
		{"apart.river", a.River.Value},
		{"apart.building", a.Building.Value},
		{"apart.tree", a.Tree.Value},
	}
}

// Risk is how likely germs of a pit latrine reach the screen.
type Risk string

// The risks.
const (
	Significant Risk = "significant"
	Low         Risk = "low"
	VeryLow     Risk = "very-low"
)

// Protection is what stands between a pit latrine and the screen, at the level that the
// water reaches at the end of the rains.
type Protection struct {
	PitM     float64          `json:"pitM"`
	DryM     float64          `json:"dryM"`               // of ground between pit and wet-season level; negative where the pit stands in water
	DryRisk  Risk             `json:"dryRisk"`            // by the dry ground alone
	PitFits  bool             `json:"pitFits"`            // as far above the water as the rule asks
	DeepestM float64          `json:"deepestM"`           // pit that the rule allows here; 0 or less for none
	Feasible bool             `json:"feasible"`           // distance can stand in for dry ground here
	ClayM    float64          `json:"clayM"`              // of clay between that level or the pit, whichever is deeper, and the screen
	TravelM  geo.Opt[float64] `json:"travelM,omitzero"`   // distance that the water takes the rule's days for, median of K
	TravelHi geo.Opt[float64] `json:"travelHiM,omitzero"` // for K that one layer in ten exceeds
	Notes    []geo.Message    `json:"notes,omitempty"`
}

// Protect judges a pit latrine of a depth (of the rules' where it is not known) beside a
// well: the dry ground below it against the wet-season high, then travel through the ground
// that the screen draws from,
//
//	d = max(K i t / n, √(Q t / (π b n))),
//
// the further of natural flow and of the cylinder that the pump empties in the same days.
//
//   - Units: metres below ground.
//   - Domain: a design that fits.
//   - Source: BGS CR/01/142 (ARGOSS), details from memory: 5 and 10 m of fine or weathered
//     ground, 10 m of medium sand, none relied on in coarse sand, gravel or fractured rock;
//     distance feasible in silt, fine sand and weathered rock, uncertain in medium sand, not
//     feasible in gravel and fractured rock.
//   - Checked by: TestTravelOfTheManual, TestDryGroundBelowPits, TestProtectLaws.
func Protect(s Site, w Well, pitM geo.Opt[float64], k Kit) Protection {
	r := k.Rules.Apart
	pit := pitM.Or(r.Pit.Value)
	rule := r.Latrine.Value()
	p := Protection{PitM: pit, DryM: s.Water.WetHighM - pit, DeepestM: s.Water.WetHighM - rule.PitAboveWaterM}
	p.PitFits = p.DryM >= rule.PitAboveWaterM-slackM
	p.DryRisk = dryRisk(s, pit)
	p.ClayM = clayOver(s, w, pit)
	source := screened(s, w)
	p.Feasible = distanceHelps(source)
	if p.Feasible {
		belief := k.Ground.Of(source.Class, source.Grade, source.Clayey)
		days := r.Travel.Value()
		pumped := k.cylinderM(w, days)
		p.TravelM = geo.Some(max(TravelM(belief.MetresPerDay(), r.Gradient.Value, r.Porosity.Value, days), pumped))
		fast := belief.MetresPerDay() * exp10(1.2815515655446004*belief.SDDecades)
		p.TravelHi = geo.Some(max(TravelM(fast, r.Gradient.Value, r.Porosity.Value, days), pumped))
	}
	p.Notes = p.tell(rule, r.Travel.Value())
	return p
}

// clayOver is how much clay lies over the screen, below the wet-season level and below the
// pit, which cuts through what lies higher.
func clayOver(s Site, w Well, pitM float64) (m float64) {
	for _, l := range s.Layers {
		if l.Class == soil.Clay {
			m += max(0, min(l.BaseM, w.ScreenM[0])-max(l.TopM, s.Water.WetHighM, pitM))
		}
	}
	return m
}

// coverM is how much clay over a layer holds germs back for longer than they live: through
// a metre of unbroken clay water takes years. Common practice, no source.
const coverM = 2

// TravelM returns how far water travels,
//
//		d = K i t / n.
//
//	  - Units: K in m/d, gradient and porosity as shares, days; metres.
//	  - Domain: porosity above 0.
//	  - Source: Darcy's law. K 10 m/d, gradient 0.01, porosity 0.2: 12.5 m in 25 days.
//	  - Checked by: TestTravelOfTheManual.
func TravelM(kMD, gradient, porosity, days float64) float64 { return kMD * gradient * days / porosity }

// cylinderM is the radius of ground that the daily pumping empties in so many days.
func (k Kit) cylinderM(w Well, days float64) float64 {
	duty := k.duty(w.Casing.HoleMM)
	length := w.ScreenM[1] - w.ScreenM[0]
	return math.Sqrt(duty.DischargeM3D * duty.Days * days / (math.Pi * length * k.Rules.Apart.Porosity.Value))
}

// screened is the coarsest layer behind the screen: water comes fastest there.
func screened(s Site, w Well) Layer {
	var best Layer
	for _, l := range s.Layers {
		if !Gives(l.Class) || min(l.BaseM, w.ScreenM[1])-max(l.TopM, w.ScreenM[0]) < cellM {
			continue
		}
		if best.BaseM == 0 || soil.ConductivityOf(l.Class, l.Grade, l.Clayey).Log10MPerS > soil.ConductivityOf(best.Class, best.Grade, best.Clayey).Log10MPerS {
			best = l
		}
	}
	return best
}

// distanceHelps reports ground in which distance can keep germs back at all.
func distanceHelps(l Layer) bool {
	switch {
	case l.Class == soil.WeatheredRock:
		return true
	case l.Class == soil.Sand:
		return l.Grade != soil.Coarse
	}
	return false
}

// dryRisk grades the dry ground between the bottom of a pit and the wet-season level: each
// layer counts for as much of what its class needs as it is thick.
func dryRisk(s Site, pitM float64) Risk {
	low, veryLow := 0.0, 0.0 // shares of what is needed
	for _, l := range s.Layers {
		thick := min(l.BaseM, s.Water.WetHighM) - max(l.TopM, pitM)
		needLow, needVeryLow := dryNeeded(l)
		if thick <= 0 || math.IsInf(needLow, 1) {
			continue
		}
		low += thick / needLow
		veryLow += thick / needVeryLow
	}
	switch {
	case veryLow >= 1-slackM:
		return VeryLow
	case low >= 1-slackM:
		return Low
	}
	return Significant
}

// dryNeeded is how many metres of a layer make the risk low and very low. Medium sand makes
// it low beyond 10 m and never very low; a sand of no stated grade counts as medium.
func dryNeeded(l Layer) (low, veryLow float64) {
	fine := l.Class == soil.Sand && l.Grade == soil.Fine
	switch {
	case fine, l.Class == soil.Clay, l.Class == soil.Silt, l.Class == soil.Topsoil, l.Class == soil.WeatheredRock:
		return 5, 10
	case l.Class == soil.Sand && l.Grade != soil.Coarse:
		return 10, math.Inf(1)
	}
	return math.Inf(1), math.Inf(1)
}

// tell puts the protection into messages. Below a cover of clay the water stands under
// pressure: its level is no water table that a pit could reach.
func (p Protection) tell(rule LatrineRule, days float64) []geo.Message {
	if p.ClayM >= coverM {
		return []geo.Message{
			geo.Say("apart.clay-cover", metres("length", p.ClayM)), geo.Say("apart.water-above-clay"),
			geo.Say("apart.nitrate"), geo.Say("apart.local-rule"),
		}
	}
	out := []geo.Message{geo.Say("apart.dry-ground", metres("length", p.DryM), geo.With("reason", geo.Ref("risk."+geo.Code(p.DryRisk))))}
	if p.DryM <= 0 {
		out[0] = geo.Say("apart.pit-in-water", metres("depth", p.PitM))
	}
	switch {
	case p.DeepestM <= 0.5:
		out = append(out, geo.Say("apart.no-pits", metres("length", rule.PitAboveWaterM)))
	case !p.PitFits:
		out = append(out, geo.Say("apart.pit-too-deep", metres("depth", p.DeepestM), metres("length", rule.PitAboveWaterM)))
	}
	out = append(out, p.travels(rule, days)...)
	return append(out, geo.Say("apart.nitrate"), geo.Say("apart.local-rule"))
}

// travels tells how far germs get in the days of the rule, and where that is further than
// the distance asked for.
func (p Protection) travels(rule LatrineRule, days float64) []geo.Message {
	travel, ok := p.TravelM.Get()
	if !ok {
		return []geo.Message{geo.Say("apart.distance-no-help")}
	}
	usual, far := math.Ceil(travel-slackM), math.Ceil(p.TravelHi.Or(travel)-slackM)
	in := geo.With("n", geo.Count(int(days+0.5)))
	if far <= usual {
		return []geo.Message{geo.Say("apart.travel-only", in, geo.With("distance", geo.DistanceM(usual)))}
	}
	out := []geo.Message{geo.Say("apart.travel", in, geo.With("distance", geo.DistanceM(usual)), geo.With("distance-to", geo.DistanceM(far)))}
	if asked := max(rule.LatrineM, usual); far > asked {
		out = append(out, geo.Say("apart.travel-further", geo.With("distance", geo.DistanceM(asked))))
	}
	return out
}
