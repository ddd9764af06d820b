package advisor

import (
	"waterstrike/advisor/method"
	"waterstrike/advisor/welldesign"
	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/soil"
)

// Question is what is asked: a point, the methods at hand and the seed of the draws.
type Question struct {
	At      coord.LonLat `json:"at"`
	Village string       `json:"village,omitempty"` // name, when asked by village
	Method  geo.Method   `json:"method,omitempty"`  // the only one at hand; every method of the rules when empty
	Seed    uint64       `json:"seed"`
}

// Advice is the whole answer at one point. Parts without evidence are missing, never
// filled in.
type Advice struct {
	Schema     string         `json:"schema"` // "waterstrike.advice.1"
	Question   Question       `json:"question"`
	Verdict    Verdict        `json:"verdict"`
	Methods    []MethodChance `json:"methods"`             // best first; empty without a level or layer statement
	Months     []MonthChance  `json:"months,omitempty"`    // of the verdict's method, by the month of drilling
	Execution  *Execution     `json:"execution,omitempty"` // of the method with the best chance
	Water      *Water         `json:"water,omitempty"`
	Layers     []Layer        `json:"layers,omitempty"`
	Odds       *OddsColumn    `json:"odds,omitempty"`
	Plan       *Plan          `json:"plan,omitempty"`
	Quality    Quality        `json:"quality"`
	Cautions   []geo.Message  `json:"cautions"`
	Evidence   Evidence       `json:"evidence"`
	Provenance Provenance     `json:"provenance"`
}

// Schema names the form of [Advice] that this version writes.
const Schema = "waterstrike.advice.1"

// Verdict is the advice in one word, with what it rests on.
type Verdict struct {
	Code    geo.Code      `json:"code"`
	Method  geo.Method    `json:"method,omitempty"` // the method it speaks of
	Because []geo.Message `json:"because,omitempty"`
}

// The verdicts.
const (
	Go        geo.Code = "verdict.go"
	WithCare  geo.Code = "verdict.try-with-care"
	Avoid     geo.Code = "verdict.avoid"
	Unsafe    geo.Code = "verdict.unsafe" // a sanitary seal does not fit
	NotEnough geo.Code = "verdict.not-enough-evidence"
)

// MethodChance is the chance that a bore by one method becomes a lasting water point.
type MethodChance struct {
	Method  geo.Method `json:"method"`
	Chance  float64    `json:"chance"`
	Lo      float64    `json:"lo"` // 80 % range of the chance
	Hi      float64    `json:"hi"`
	Reasons []Reason   `json:"reasons"` // largest first; with the chance they add up to 1
}

// Reason is the share of possible grounds in which this fails first.
type Reason struct {
	Code  geo.Code `json:"code"`
	Share float64  `json:"share"`
}

// Range is a middle value with its 80 % range, metres below ground.
type Range struct {
	P10 float64 `json:"p10"`
	P50 float64 `json:"p50"`
	P90 float64 `json:"p90"`
}

// Water is the statement about depth to water.
type Water struct {
	NormalLow        Range     `json:"normalLow"` // end of a normal dry season
	DesignLow        Range     `json:"designLow"` // the low of the worst year in ten
	WetHigh          Range     `json:"wetHigh"`
	SeasonIdentified bool      `json:"seasonIdentified"`
	SeasonRangeM     float64   `json:"seasonRangeM"` // yearly rise and fall that the levels were carried by
	Quantiles        Quantiles `json:"quantiles"`    // of the normal low
	Readings         int       `json:"readings"`     // how many the statement rests on
	NearestM         float64   `json:"nearestM"`     // distance to the nearest of them
}

// Quantiles are probability -> depth pairs of the normal low, in [QuantileSteps].
type Quantiles [7]float64

// QuantileSteps returns the probabilities of [Quantiles].
func QuantileSteps() [7]float64 { return [...]float64{0.05, 0.1, 0.25, 0.5, 0.75, 0.9, 0.95} }

// Layer is one interval of the most likely sequence.
type Layer struct {
	TopM         float64    `json:"topM"`
	BaseM        float64    `json:"baseM"`
	Class        soil.Class `json:"class"`
	Chance       float64    `json:"chance"`       // mean odds of the class over the interval
	Second       soil.Class `json:"second"`       // next likely class
	SecondChance float64    `json:"secondChance"` // its mean odds
}

// OddsColumn holds the odds of every known class by depth.
type OddsColumn struct {
	CellM   float64      `json:"cellM"`
	Classes []soil.Class `json:"classes"`
	Odds    [][]float64  `json:"odds"` // by cell from the surface, then by class
}

// Plan is how to drill and line the hole with the method of the verdict.
type Plan struct {
	Method   geo.Method          `json:"method"`
	BottomM  Range               `json:"bottomM"`         // depth of the hole
	Well     welldesign.Well     `json:"well"`            // into the most likely layers, or else into the ground whose hole is nearest to the middle depth
	Drawn    []welldesign.Layer  `json:"drawn,omitempty"` // the ground that the well is drawn for, down to its bottom, where it is not the most likely one
	Forecast welldesign.Forecast `json:"forecast"`        // over the grounds in which the method may succeed
	Tools    []ToolRange         `json:"tools"`
	Rules    []geo.Message       `json:"rules"`
	Building Building            `json:"building"`
}

// ToolRange says which tool to use over a range of depths.
type ToolRange struct {
	TopM  float64     `json:"topM"`
	BaseM float64     `json:"baseM"`
	Tool  method.Tool `json:"tool"`
}

// Evidence is what the advice rests on.
type Evidence struct {
	Effective int              `json:"effective"` // separate bores within the fitted range: the lesser of the next two
	ForLayers int              `json:"forLayers"` // those with a log
	ForWater  int              `json:"forWater"`  // those with a level
	NearestM  geo.Opt[float64] `json:"nearestM,omitzero"`
	Bores     []EvidenceBore   `json:"bores,omitempty"` // heaviest first
	Regional  RegionalRate     `json:"regional"`
	Doubts    []geo.Message    `json:"doubts,omitempty"` // what speaks against trusting it
	Logs      int              `json:"logs"`             // described logs in the base
	Levels    int              `json:"levels"`           // bores with a level in the base
}

// EvidenceBore is one bore with its part in the advice.
type EvidenceBore struct {
	ID        geo.BoreID        `json:"id"`
	Label     string            `json:"label"`
	At        coord.LonLat      `json:"at"`
	DistanceM float64           `json:"distanceM"`
	Outcome   geo.Outcome       `json:"outcome"`
	Method    geo.Method        `json:"method,omitempty"` // it was drilled with
	DepthM    geo.Opt[float64]  `json:"depthM,omitzero"`  // of the hole
	Completed geo.Opt[geo.Date] `json:"completed,omitzero"`
	LevelM    geo.Opt[float64]  `json:"levelM,omitzero"` // as read
	Flows     bool              `json:"flows,omitempty"` // its water stands at or above ground
	Layers    float64           `json:"layers"`          // share of the layer statement
	Level     float64           `json:"level"`           // share of the level statement
	Weight    float64           `json:"weight"`          // mean share of the statements that stand
}

// RegionalRate is how the region's bores came out.
type RegionalRate struct {
	Bores     int `json:"bores"` // with a position
	Known     int `json:"known"` // bores with a known outcome
	Producing int `json:"producing"`
}

// Provenance lets an advice be traced and repeated.
type Provenance struct {
	Snapshot string `json:"snapshot"`
	Bores    int    `json:"bores"`
	Version  string `json:"version"`
}
