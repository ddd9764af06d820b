package welldesign

import (
	"cmp"
	"fmt"
	"slices"

	"waterstrike/advisor/rule"
)

// leastSealM is the seal that no rule of a programme may go below.
const leastSealM = 3

// bound is what one rule may lie within.
type bound struct {
	field       string
	value       float64
	least, most float64
}

// check refuses rules that no well can be built by, or that would hurt someone.
func (r Rules) check(at rule.Fault) error {
	for _, b := range slices.Concat(r.wellBounds(), r.workBounds(), r.healthBounds()) {
		if err := at.Within(b.field, b.value, b.least, b.most); err != nil {
			return err
		}
	}
	return cmp.Or(r.Pipe.check(at), whole(at, "screen.rows", r.Screen.Rows.Value))
}

func (r Rules) wellBounds() []bound {
	top, grain := r.Pack.Top.Value(), r.Pack.Grain.Value()
	return []bound{
		{"seal.leastM", r.Seal.Least.Value, leastSealM, 20},
		{"seal.bestM", r.Seal.Best.Value, r.Seal.Least.Value, 50},
		{"seal.clayM", r.Seal.Clay.Value, 0.3, 5},
		{"seal.clayBestM", r.Seal.ClayBest.Value, r.Seal.Clay.Value, 10},
		{"seal.separatingM", r.Seal.Separating.Value, 0.1, 5},
		{"pack.top.leastM", top.LeastM, 0.3, 5},
		{"pack.top.bestM", top.BestM, top.LeastM, 10},
		{"pack.thickness", r.Pack.Thickness.Value(), 5, 200},
		{"pack.naturalMM", r.Pack.Natural.Value, 2, 50},
		{"pack.narrowestMM", r.Pack.Narrowest.Value, r.Pack.Natural.Value, 100},
		{"pack.lossFactor", r.Pack.Loss.Value, 1, 2},
		{"pack.grain.retained", grain.Retained, 0.1, 0.9},
		{"pack.grain.lo", grain.Lo, 1, grain.Hi},
		{"pack.grain.hi", grain.Hi, grain.Lo, 20},
		{"pack.grain.loUneven", grain.LoUneven, 1, grain.HiUneven},
		{"pack.grain.hiUneven", grain.HiUneven, grain.LoUneven, 20},
		{"screen.leastM", r.Screen.Least.Value, 0.5, 10},
		{"screen.usualM", r.Screen.Usual.Value, r.Screen.Least.Value, 20},
		{"screen.longestM", r.Screen.Longest.Value, r.Screen.Usual.Value, 40},
		{"screen.belowLowM", r.Screen.BelowLow.Value, 0, 20},
		{"screen.slotMM", r.Screen.Slot.Value, 0.1, 5},
		{"screen.slotEveryMM", r.Screen.SlotEvery.Value, 2 * r.Screen.Slot.Value, 100},
		{"screen.rowShare", r.Screen.RowShare.Value, 0.02, 0.8 / max(r.Screen.Rows.Value, 1)},
		{"screen.factoryOpenShare", r.Screen.Factory.Value, 0.005, 0.5},
		{"screen.entranceMS", r.Screen.Entrance.Value, 0.001, 1},
		{"screen.openShare", r.Screen.Open.Value, 0.05, 1},
		{"screen.sumpM", r.Screen.Sump.Value, 0.1, 5},
		{"screen.sumpLongM", r.Screen.SumpLong.Value, r.Screen.Sump.Value, 10},
		{"yield.wantedLPS", r.Yield.Wanted.Value, 0.01, 5},
		{"yield.hours", r.Yield.Hours.Value, 0.5, 24},
		{"yield.coverM", r.Yield.Cover.Value, 0.2, 20},
		{"yield.coverBestM", r.Yield.CoverBest.Value, r.Yield.Cover.Value, 20},
		{"yield.aboveScreenM", r.Yield.AboveScreen.Value, 0, 10},
		{"yield.acceptance", r.Yield.Acceptance.Value(), 1, 300},
		{"yield.testHours", r.Yield.TestHours.Value, 0.25, 100},
		{"yield.testFactor", r.Yield.TestFactor.Value, 1, 5},
	}
}

func (r Rules) workBounds() []bound {
	mix := r.Apron.Mix.Value()
	return []bound{
		{"pipe.sdr", r.Pipe.SDR.Value, 5, 50},
		{"pipe.thickFromMM", r.Pipe.ThickFrom.Value, 10, 1000},
		{"pipe.thickMM", r.Pipe.Thick.Value, 1, 20},
		{"pipe.pieceM", r.Pipe.Piece.Value, 0.5, 12},
		{"pipe.stickUpM", r.Pipe.StickUp.Value, 0.3, 3},
		{"pipe.glueMLJoint", r.Pipe.Glue.Value, 0, 500},
		{"pipe.rodsOverM", r.Pipe.RodsOver.Value, 0, 10},
		{"pipe.spareShare", r.Pipe.Spare.Value, 0, 2},
		{"grout.waterLBag.lo", r.Grout.Water.Lo, 15, 40},
		{"grout.waterLBag.hi", r.Grout.Water.Hi, 15, 40},
		{"grout.yieldLBag.lo", r.Grout.Yield.Lo, 20, 60},
		{"grout.yieldLBag.hi", r.Grout.Yield.Hi, 20, 60},
		{"grout.stillH", r.Grout.Still.Value, 12, 500},
		{"grout.loadH", r.Grout.Load.Value, r.Grout.Still.Value, 1000},
		{"grout.clayKgL", r.Grout.Clay.Value, 0.5, 2.5},
		{"grout.widenMM", r.Grout.Widen.Value, 20, 200},
		{"apron.radiusM", r.Apron.Radius.Value, 1, 5},
		{"apron.thickM", r.Apron.Thick.Value, 0.05, 0.5},
		{"apron.rimM", r.Apron.Rim.Value, 0.02, 0.5},
		{"apron.drainM2", r.Apron.DrainM2.Value, 0, 1},
		{"apron.dryFactor", r.Apron.Dry.Value, 1, 2.5},
		{"apron.cementKgL", r.Apron.CementKg.Value, 0.8, 3.2},
		{"apron.waterLBag", r.Apron.Water.Value, 10, 50},
		{"apron.cureLDayM2", r.Apron.Cure.Value, 0, 100},
		{"apron.drainM", r.Apron.Drain.Value, 3, 100},
		{"apron.mix.cement", mix.Cement, 0.1, 10},
		{"apron.mix.sand", mix.Sand, 0.1, 20},
		{"apron.mix.gravel", mix.Gravel, 0.1, 40},
		{"apron.wetDays", r.Apron.Wet.Value, 3, 60},
		{"apron.pumpDays", r.Apron.Pump.Value, 1, 60},
		{"apron.strengthDays", r.Apron.Strength.Value, r.Apron.Wet.Value, 120},
		{"work.setUpDays", r.Work.SetUp.Value, 0, 30},
		{"work.liningDays", r.Work.Lining.Value, 0, 30},
		{"work.apronDays", r.Work.Apron.Value, 0, 30},
		{"work.hoursDay", r.Work.HoursDay.Value, 1, 14},
		{"work.developHours.lo", r.Work.Develop.Lo, 0.5, 100},
		{"work.developHours.hi", r.Work.Develop.Hi, 0.5, 100},
		{"work.clearNTU", r.Work.Clear.Value, 0.1, 50},
		{"work.sandMLBucket", r.Work.Sand.Value, 0.01, 100},
		{"work.bucketL", r.Work.Bucket.Value, 1, 1000},
		{"work.overPump.lo", r.Work.OverPump.Lo, 1, 10},
		{"work.overPump.hi", r.Work.OverPump.Hi, 1, 10},
		{"work.stopM", r.Work.Stop.Value, 0.01, 5},
		{"work.stopHours", r.Work.StopHours.Value, 0.25, 100},
	}
}

func (r Rules) healthBounds() []bound {
	latrine := r.Apart.Latrine.Value()
	return []bound{
		{"chlorine.dose", r.Chlorine.Dose.Value(), 20, 500},
		{"chlorine.holdHours", r.Chlorine.Hold.Value, 0.5, 72},
		{"chlorine.share", r.Chlorine.Share.Value, 0.01, 1},
		{"chlorine.packFactor", r.Chlorine.Pack.Value, 1, 10},
		{"chlorine.useBelowMgL", r.Chlorine.UseBelow.Value, 0.1, 5},
		{"chlorine.clearNTU", r.Chlorine.Clear.Value, 1, 100},
		{"chlorine.mostPH", r.Chlorine.MostPH.Value, 6, 9},
		{"chlorine.packMgL", r.Chlorine.PackSoak.Value, 10, 1000},
		{"chlorine.drillWaterMgL", r.Chlorine.DrillWater.Value, 0, 500},
		{"people.perPump", r.People.PerPump.Value(), 10, 1000},
		{"people.litresDay", r.People.Litres.Value(), 2.5, 200},
		{"people.powerW", r.People.Power.Value, 10, 200},
		{"people.efficiency", r.People.Efficiency.Value, 0.1, 1},
		{"drinking.manganese", r.Drinking.Manganese.Value(), 0.01, 1},
		{"apart.latrine.latrineM", latrine.LatrineM, 3, 1000},
		{"apart.latrine.pitAboveWaterM", latrine.PitAboveWaterM, 0.5, 20},
		{"apart.graves", r.Apart.Graves.Value(), 10, 1000},
		{"apart.kraalM", r.Apart.Kraal.Value, 5, 1000},
		{"apart.refuseM", r.Apart.Refuse.Value, 5, 5000},
		{"apart.fuelM", r.Apart.Fuel.Value, 5, 5000},
		{"apart.soakawayM", r.Apart.Soakaway.Value, 5, 1000},
		{"apart.riverM", r.Apart.River.Value, 0, 1000},
		{"apart.buildingM", r.Apart.Building.Value, 0, 100},
		{"apart.treeM", r.Apart.Tree.Value, 0, 100},
		{"apart.pitM", r.Apart.Pit.Value, 0.5, 20},
		{"apart.travelDays", r.Apart.Travel.Value(), 10, 1000},
		{"apart.gradient", r.Apart.Gradient.Value, 0.0001, 0.5},
		{"apart.porosity", r.Apart.Porosity.Value, 0.01, 0.6},
		{"after.closeTopM", r.After.CloseTop.Value, leastSealM, 50},
		{"after.returnDays", r.After.Return.Value, 1, 366},
		{"after.dummyM", r.After.Dummy.Value, 0.5, 12},
	}
}

// check refuses diameters out of order or that no pipe has.
func (p PipeRules) check(at rule.Fault) error {
	if len(p.Outside) == 0 {
		return at.Missing("pipe.outsideMM")
	}
	narrower := 20.0
	for _, d := range p.Outside {
		if err := at.Within("pipe.outsideMM", d, narrower, 400); err != nil {
			return err
		}
		narrower = d
	}
	return nil
}

// whole refuses what is no count.
func whole(at rule.Fault, field string, v float64) error {
	if v == float64(int(v)) {
		return at.Within(field, v, 1, 12)
	}
	at.Kind, at.Field, at.Value, at.Allowed = rule.Outside, field, fmt.Sprint(v), "1, 2, 3 …"
	return rule.Refuse(at)
}
