package welldesign

import (
	_ "embed"
	"io/fs"

	"waterstrike/advisor/rule"
)

// RulesFile is the name of the rules of the well in the rules folder.
const RulesFile = "well.json"

//go:embed rules.json
var embeddedRules []byte

// Rules are what a well is built by. Every value has its source and mark; where sources
// differ, a choice holds what each of them says.
type Rules struct {
	Seal     SealRules     `json:"seal"`
	Pack     PackRules     `json:"pack"`
	Screen   ScreenRules   `json:"screen"`
	Yield    YieldRules    `json:"yield"`
	Pipe     PipeRules     `json:"pipe"`
	Grout    GroutRules    `json:"grout"`
	Apron    ApronRules    `json:"apron"`
	Work     WorkRules     `json:"work"`
	Chlorine ChlorineRules `json:"chlorine"`
	People   PeopleRules   `json:"people"`
	Drinking DrinkingRules `json:"drinking"`
	Apart    ApartRules    `json:"apart"`
	After    AfterRules    `json:"after"`
}

// SealRules keep surface water and other layers out.
type SealRules struct {
	Least      rule.Number `json:"leastM"` // of cement below ground
	Best       rule.Number `json:"bestM"`  // where there is room
	Clay       rule.Number `json:"clayM"`  // between pack and cement
	ClayBest   rule.Number `json:"clayBestM"`
	Separating rule.Number `json:"separatingM"` // tight ground that keeps two waters apart
}

// PackRules are those of the filter pack.
type PackRules struct {
	Top       rule.Choice[PackTop]   `json:"top"`
	Thickness rule.Choice[float64]   `json:"thickness"`   // that the pack should have, mm
	Narrowest rule.Number            `json:"narrowestMM"` // space in which a pack can be placed at all
	Natural   rule.Number            `json:"naturalMM"`   // space around a screen without a placed pack
	Loss      rule.Number            `json:"lossFactor"`
	Grain     rule.Choice[GrainRule] `json:"grain"`
}

// PackTop says how far above the screen the pack reaches.
type PackTop struct {
	BestM       float64 `json:"bestM"`
	LeastM      float64 `json:"leastM"`
	WithinLayer bool    `json:"withinLayer"` // never above the top of the screened layer
}

// GrainRule sets the pack's middle grain by a grain of the ground.
type GrainRule struct {
	Retained float64 `json:"retained"` // share of the ground that is coarser than that grain
	Lo       float64 `json:"lo"`       // times that grain
	Hi       float64 `json:"hi"`
	LoUneven float64 `json:"loUneven"` // when the ground is very uneven
	HiUneven float64 `json:"hiUneven"`
}

// ScreenRules are those of screen and sump.
type ScreenRules struct {
	Usual     rule.Number `json:"usualM"`
	Longest   rule.Number `json:"longestM"`
	Least     rule.Number `json:"leastM"` // opposite ground that gives water
	BelowLow  rule.Number `json:"belowLowM"`
	Slot      rule.Number `json:"slotMM"` // cut by hand
	SlotEvery rule.Number `json:"slotEveryMM"`
	Rows      rule.Number `json:"rows"`
	RowShare  rule.Number `json:"rowShare"`
	Factory   rule.Number `json:"factoryOpenShare"`
	Entrance  rule.Number `json:"entranceMS"`
	Open      rule.Number `json:"openShare"` // of the slots, once the rest has clogged
	Sump      rule.Number `json:"sumpM"`
	SumpLong  rule.Number `json:"sumpLongM"` // where the pump's intake stands over it
}

// YieldRules say what is asked of the well.
type YieldRules struct {
	Wanted      rule.Number          `json:"wantedLPS"`
	Hours       rule.Number          `json:"hours"`
	Cover       rule.Number          `json:"coverM"` // of water over the intake
	CoverBest   rule.Number          `json:"coverBestM"`
	AboveScreen rule.Number          `json:"aboveScreenM"` // intake over the screen's top
	Acceptance  rule.Choice[float64] `json:"acceptance"`   // L/min
	TestHours   rule.Number          `json:"testHours"`
	TestFactor  rule.Number          `json:"testFactor"`
}

// PipeRules are those of the casing.
type PipeRules struct {
	Outside   []float64   `json:"outsideMM"` // that can be had, narrowest first
	SDR       rule.Number `json:"sdr"`       // outside diameter over wall
	ThickFrom rule.Number `json:"thickFromMM"`
	Thick     rule.Number `json:"thickMM"` // least wall from there on
	Piece     rule.Number `json:"pieceM"`
	StickUp   rule.Number `json:"stickUpM"`
	Glue      rule.Number `json:"glueMLJoint"`
	RodsOver  rule.Number `json:"rodsOverM"`
	Spare     rule.Number `json:"spareShare"`
}

// GroutRules are those of cement and clay around the pipe.
type GroutRules struct {
	Water rule.Range  `json:"waterLBag"`
	Yield rule.Range  `json:"yieldLBag"`
	Still rule.Number `json:"stillH"`
	Load  rule.Number `json:"loadH"`
	Clay  rule.Number `json:"clayKgL"`
	Widen rule.Number `json:"widenMM"` // around the pipe, where the hole is too narrow for cement
}

// ApronRules are those of the slab.
type ApronRules struct {
	Radius   rule.Number      `json:"radiusM"`
	Thick    rule.Number      `json:"thickM"`
	Rim      rule.Number      `json:"rimM"` // high and wide
	Drain    rule.Number      `json:"drainM"`
	DrainM2  rule.Number      `json:"drainM2"`   // of concrete in its cross-section
	Dry      rule.Number      `json:"dryFactor"` // loose parts for a volume of concrete
	CementKg rule.Number      `json:"cementKgL"`
	Water    rule.Number      `json:"waterLBag"`
	Cure     rule.Number      `json:"cureLDayM2"`
	Mix      rule.Choice[Mix] `json:"mix"`
	Wet      rule.Number      `json:"wetDays"`
	Pump     rule.Number      `json:"pumpDays"`
	Strength rule.Number      `json:"strengthDays"`
}

// Mix is concrete in parts by volume.
type Mix struct {
	Cement float64 `json:"cement"`
	Sand   float64 `json:"sand"`
	Gravel float64 `json:"gravel"`
}

// WorkRules are those of the crew's time.
type WorkRules struct {
	SetUp     rule.Number `json:"setUpDays"`
	Lining    rule.Number `json:"liningDays"` // and development
	Apron     rule.Number `json:"apronDays"`
	HoursDay  rule.Number `json:"hoursDay"`
	Develop   rule.Range  `json:"developHours"`
	Clear     rule.Number `json:"clearNTU"`
	Sand      rule.Number `json:"sandMLBucket"`
	Bucket    rule.Number `json:"bucketL"`
	OverPump  rule.Range  `json:"overPump"`
	Stop      rule.Number `json:"stopM"`
	StopHours rule.Number `json:"stopHours"`
}

// ChlorineRules are those of disinfection.
type ChlorineRules struct {
	Dose       rule.Choice[float64] `json:"dose"` // mg/L
	Hold       rule.Number          `json:"holdHours"`
	Share      rule.Number          `json:"share"` // of available chlorine in the product
	Pack       rule.Number          `json:"packFactor"`
	UseBelow   rule.Number          `json:"useBelowMgL"`
	Clear      rule.Number          `json:"clearNTU"`
	MostPH     rule.Number          `json:"mostPH"`
	PackSoak   rule.Number          `json:"packMgL"`
	DrillWater rule.Number          `json:"drillWaterMgL"`
}

// PeopleRules say how many a pump serves.
type PeopleRules struct {
	PerPump    rule.Choice[float64] `json:"perPump"`
	Litres     rule.Choice[float64] `json:"litresDay"` // for each
	Power      rule.Number          `json:"powerW"`
	Efficiency rule.Number          `json:"efficiency"`
}

// DrinkingRules are limits of water to drink that sources set apart; the others stand with
// the analytes.
type DrinkingRules struct {
	Manganese rule.Choice[float64] `json:"manganese"` // mg/L
}

// ApartRules are how far a well stays from what fouls it.
type ApartRules struct {
	Latrine  rule.Choice[LatrineRule] `json:"latrine"`
	Graves   rule.Choice[float64]     `json:"graves"`
	Kraal    rule.Number              `json:"kraalM"`
	Refuse   rule.Number              `json:"refuseM"`
	Fuel     rule.Number              `json:"fuelM"`
	Soakaway rule.Number              `json:"soakawayM"`
	River    rule.Number              `json:"riverM"`
	Building rule.Number              `json:"buildingM"`
	Tree     rule.Number              `json:"treeM"`
	Pit      rule.Number              `json:"pitM"` // depth of a pit latrine, where it is not known
	Travel   rule.Choice[float64]     `json:"travelDays"`
	Gradient rule.Number              `json:"gradient"`
	Porosity rule.Number              `json:"porosity"`
}

// LatrineRule is one source's rule for pit latrines.
type LatrineRule struct {
	LatrineM       float64 `json:"latrineM"`
	PitAboveWaterM float64 `json:"pitAboveWaterM"`
}

// AfterRules are those of closing, handing over and telling the authority.
type AfterRules struct {
	CloseTop rule.Number `json:"closeTopM"`
	Return   rule.Number `json:"returnDays"`
	Dummy    rule.Number `json:"dummyM"`
}

// DefaultRules returns the embedded rules.
func DefaultRules() (Rules, error) { return rulesOver(nil) }

// RulesFromFolder returns the rules of a programme: the embedded ones, changed by its
// well.json where the rules folder holds one.
//
// A wrong file is a [geo.Invalid] error whose message names the file, the field, the value
// and what to do.
func RulesFromFolder(rules fs.FS) (Rules, error) {
	edited, err := rule.Edited(rules, RulesFile)
	if err != nil {
		return Rules{}, err
	}
	return rulesOver(edited)
}

func rulesOver(edited []byte) (r Rules, err error) {
	at := rule.Fault{File: RulesFile, Entry: "well"}
	if err := rule.Fill(at, embeddedRules, &r); err != nil {
		return Rules{}, err
	}
	if edited != nil {
		at.File = rule.Named(RulesFile)
		if err := rule.Fill(at, edited, &r); err != nil {
			return Rules{}, err
		}
	}
	if err := r.check(at); err != nil {
		return Rules{}, err
	}
	return r, nil
}

// Told lists every rule with its source and mark.
func (r Rules) Told() []rule.Told { return rule.Tell(r) }
