package welldesign

import (
	"math"

	"waterstrike/geo"
)

// Item is what is carried to a well.
type Item string

// The items, in the order of packing lists.
const (
	CasingPipe      Item = "casing"
	ScreenPipe      Item = "screen"
	PlugCap         Item = "plug"
	Joints          Item = "joints"
	Glue            Item = "glue"
	PackSand        Item = "pack"
	SealClay        Item = "clay"
	Cement          Item = "cement"
	Sand            Item = "sand"
	Gravel          Item = "gravel"
	Mesh            Item = "mesh"
	Chlorine        Item = "chlorine"
	HauledWater     Item = "water"
	Rods            Item = "rods"
	TemporaryCasing Item = "temporary-casing"
	SampleBags      Item = "sample-bags"
	Riser           Item = "riser"
	PumpSet         Item = "pump"
)

// Unit is what an item is counted in.
type Unit string

// The units.
const (
	Lengths    Unit = "lengths" // of pipe as sold
	Each       Unit = "each"
	Millilitre Unit = "ml"
	Litre      Unit = "l"
	Kilogram   Unit = "kg"
	Gram       Unit = "g"
	Bag        Unit = "bags" // of 50 kg
	CubicMetre Unit = "m3"
	SquareM    Unit = "m2"
	Metre      Unit = "m"
)

// bagKg is a bag of cement.
const bagKg = 50

// units says what each item is counted in, and whether it comes whole.
var units = map[Item]struct {
	unit  Unit
	whole bool
}{
	CasingPipe: {Lengths, true}, ScreenPipe: {Lengths, true}, PlugCap: {Each, true}, Joints: {Each, true},
	Glue: {Millilitre, false}, PackSand: {Litre, false}, SealClay: {Kilogram, false}, Cement: {Bag, true},
	Sand: {CubicMetre, false}, Gravel: {CubicMetre, false}, Mesh: {SquareM, false}, Chlorine: {Gram, false},
	HauledWater: {Litre, false}, Rods: {Metre, false}, TemporaryCasing: {Metre, false},
	SampleBags: {Each, true}, Riser: {Metre, false}, PumpSet: {Each, true},
}

// Items lists every item in its order.
func Items() []Item {
	return []Item{
		CasingPipe, ScreenPipe, PlugCap, Joints, Glue, PackSand, SealClay, Cement, Sand, Gravel, Mesh, Chlorine,
		HauledWater, Rods, TemporaryCasing, SampleBags, Riser, PumpSet,
	}
}

// Unit returns what an item is counted in.
func (i Item) Unit() Unit { return units[i].unit }

// Loads are amounts by item; what is not needed is not there.
type Loads map[Item]float64

// SpaceL returns the space around a pipe,
//
//		V = π/4 (D² - d²) L.
//
//	  - Units: diameters in mm, length in m; litres.
//	  - Domain: holeMM >= outsideMM, lengthM >= 0.
//	  - Source: geometry. A hole of 150 mm, pipe of 110 mm and 5 m make 41 L.
//	  - Checked by: TestSpaceAroundPipe.
func SpaceL(holeMM, outsideMM, lengthM float64) float64 {
	return math.Pi / 4 * (holeMM*holeMM - outsideMM*outsideMM) / 1000 * lengthM
}

// Quantities returns what a well takes, losses included and spares not. share says where
// within its usual range the water for drilling lies: 0.5 for the middle.
//
//   - Units: those of [Item.Unit].
//   - Domain: a design that fits; others take nothing. share in [0,1].
//   - Source: the rules' own sources.
//   - Checked by: TestQuantitiesOfTwentyMetres, TestDesignLaws.
func Quantities(w Well, k Kit, share float64) Loads {
	out := Loads{}
	if w.Verdict != Fits {
		return out
	}
	r := k.Rules
	pieces := Pieces(w, r)
	out[CasingPipe] = stock(pieces, r, geo.Casing, geo.Plug)
	out[ScreenPipe] = stock(pieces, r, geo.Screen)
	out[PlugCap] = 1
	out[Joints] = float64(len(pieces) - 1)
	out[Glue] = float64(len(pieces)) * r.Pipe.Glue.Value // the plug's joint too
	grout := groutBags(w, r)
	apron := r.Apron.materials()
	out[PackSand] = filled(w, r, geo.Pack) * r.Pack.Loss.Value
	out[SealClay] = filled(w, r, geo.ClaySeal) * r.Pack.Loss.Value * r.Grout.Clay.Value
	out[Cement] = math.Ceil(grout + apron.bags - slackM)
	out[Sand], out[Gravel], out[Mesh] = apron.sandM3, apron.gravelM3, apron.meshM2
	drilling := 1000 * (k.Method.WaterM3[0] + share*(k.Method.WaterM3[1]-k.Method.WaterM3[0]))
	out[Chlorine] = r.Dose(w).Grams + ProductG(out[PackSand], r.Chlorine.PackSoak.Value, r.Chlorine.Share.Value)
	if k.Method.Fluid && !k.Method.Thickener { // thickened water takes none
		out[Chlorine] += ProductG(drilling, r.Chlorine.DrillWater.Value, r.Chlorine.Share.Value)
	}
	out[HauledWater] = drilling + grout*(r.Grout.Water.Lo+r.Grout.Water.Hi)/2 + apron.waterL
	out[Rods] = w.BottomM + r.Pipe.RodsOver.Value
	if cased := max(casedTo(w), k.Method.SurfaceM); cased > 0 {
		out[TemporaryCasing] = cased + r.Pipe.StickUp.Value
	}
	out[SampleBags] = math.Ceil(w.BottomM)
	out[Riser] = w.IntakeM + r.Pipe.StickUp.Value
	out[PumpSet] = 1
	return out
}

// filled is the space that one kind of fill takes, litres.
func filled(w Well, r *Rules, kind geo.FillKind) (litres float64) {
	for _, f := range w.Fills {
		if f.Kind == kind {
			litres += SpaceL(w.holeAt(f.TopM, r), w.Casing.OutsideMM, f.BaseM-f.TopM)
		}
	}
	return litres
}

// holeAt is the hole's diameter below a depth: its top may be widened for the cement.
func (w Well) holeAt(topM float64, r *Rules) float64 {
	if topM < w.WidenM-slackM {
		return max(w.Casing.HoleMM, w.Casing.OutsideMM+2*r.Grout.Widen.Value)
	}
	return w.Casing.HoleMM
}

// groutBags are the bags of cement for the seal.
func groutBags(w Well, r *Rules) float64 {
	return filled(w, r, geo.Grout) * r.Pack.Loss.Value / ((r.Grout.Yield.Lo + r.Grout.Yield.Hi) / 2)
}

// casedTo is how deep temporary casing goes: to the lowest ground bailed inside it.
func casedTo(w Well) (m float64) {
	for _, t := range w.Tools {
		if t.Tool == "bailer" {
			m = t.BaseM
		}
	}
	return m
}
