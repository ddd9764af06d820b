package pumptest

import (
	"errors"
	"math"

	"waterstrike/advisor/hydraulics"
	"waterstrike/geo"
)

// Range is a number with the range that holds the truth in 95 cases of 100.
type Range struct {
	Value float64 `json:"value"`
	Lo    float64 `json:"lo"`
	Hi    float64 `json:"hi"`
}

func rangeOf(e hydraulics.Estimate, times float64) geo.Opt[Range] {
	return geo.Some(Range{e.Value * times, e.Lo * times, e.Hi * times})
}

// Way is what one way of reading the test says, or why it says nothing.
type Way struct {
	Code      geo.Code             `json:"code"`               // such as "way.theis"
	DistanceM geo.Opt[float64]     `json:"distanceM,omitzero"` // of the one piezometer it rests on
	T         geo.Opt[Range]       `json:"tM2D,omitzero"`      // m²/d
	S         geo.Opt[Range]       `json:"storage,omitzero"`
	K         geo.Opt[Range]       `json:"kMD,omitzero"` // m/d
	Used      int                  `json:"used"`         // readings
	Of        int                  `json:"of"`
	LeftM     float64              `json:"leftM"` // root mean square of what the fit leaves
	Signs     []hydraulics.Sign    `json:"signs,omitempty"`
	Failed    geo.Opt[geo.Message] `json:"failed,omitzero"`
	Curves    []hydraulics.Curve   `json:"-"`
	Over      Plot                 `json:"-"` // what the curves stand over
}

// Plot is what the curves of a way stand over.
type Plot string

// The plots. Times are in days.
const (
	OverTime      Plot = "time"
	OverSquare    Plot = "square"    // time by the square of the distance, d/m²: several piezometers on one curve
	OverRatio     Plot = "ratio"     // time since the start over time since the stop
	OverDistance  Plot = "distance"  // m
	OverShare     Plot = "share"     // time, of the share of a displacement that is left
	OverRise      Plot = "rise"      // time since bailing ended
	OverRates     Plot = "rates"     // time, under a discharge that changed
	OverDischarge Plot = "discharge" // m³/d, of drawdown by discharge
)

// Losses is what a test of steps says of the well.
type Losses struct {
	B         Range                `json:"bDM2"` // d/m²: the ground's part
	C         float64              `json:"c"`    // d^P/m^(3P-1): the well's
	CLo       float64              `json:"cLo"`  // in 95 cases of 100 from here
	CHi       float64              `json:"cHi"`  // to here
	Power     float64              `json:"power"`
	LeftM     float64              `json:"leftM"`
	Condition hydraulics.Condition `json:"condition,omitempty"` // empty where C is below 0 or discharges are small
	Steps     []StepShare          `json:"steps"`
	Signs     []hydraulics.Sign    `json:"signs,omitempty"`
	Curves    []hydraulics.Curve   `json:"-"`
}

// StepShare is how much of one step's drawdown the ground makes.
type StepShare struct {
	Discharge  float64 `json:"m3d"`
	DrawdownM  float64 `json:"drawdownM"`
	Efficiency float64 `json:"efficiency"`
}

// Answer is what a test says.
type Answer struct {
	Schema string          `json:"schema"`
	Kind   Kind            `json:"kind"`
	Ways   []Way           `json:"ways,omitempty"` // the one to take first
	Losses geo.Opt[Losses] `json:"losses,omitzero"`
	Yield  geo.Opt[Yield]  `json:"yield,omitzero"` // of tests by hand
	Notes  []geo.Message   `json:"notes,omitempty"`
}

// AnswerSchema names the form of the data.
const AnswerSchema = "waterstrike.pumping.1"

// usualStorage stands in where a way needs a storage and none was given: of a confined
// ground, common practice; it decides only which readings are late.
const usualStorage = 1e-3

// Answer fits the test by every way that its readings allow.
//
//   - Units: [Way] and [Losses].
//   - Errors: a [geo.Invalid] error for what is not written down and is needed, such as the
//     discharge, and for readings that contradict themselves. A way that fails on readings
//     that are in order is no error: it tells why.
//   - Source: the fits of advisor/hydraulics.
//   - Checked by: TestPublishedTests, TestReadAsPeopleWrite.
func (s Sheet) Answer() (Answer, error) {
	out := Answer{Schema: AnswerSchema, Kind: s.Kind}
	var err error
	switch s.Kind {
	case Steps:
		err = s.steps(&out)
	case Slug:
		err = s.slug(&out)
	case Distance:
		err = s.distances(&out)
	case Recovery:
		err = s.recovery(&out)
	case Bailer:
		err = s.bailer(&out)
	case Buckets:
		err = s.buckets(&out)
	default:
		err = s.drawdown(&out)
	}
	return out, err
}

// missing says that a value of the whole test must be stated.
func missing(name string) error {
	example := map[string]string{"bailed": "30 x 5 L in 10 min", "buckets": "12 x 20 L in 45 min"}[name]
	if example == "" {
		example = givens[name].example(name)
	}
	return refuse("pumping.missing", text("field", name), text("entry", name+": "+example))
}

// need returns a value or says that it is missing.
func need(v geo.Opt[float64], name string) (float64, error) {
	if x, ok := v.Get(); ok {
		return x, nil
	}
	return 0, missing(name)
}

// way puts a fit in words' reach, or the reason why there is none.
func (s Sheet) way(code geo.Code, f hydraulics.Fit, of int, err error) (Way, error) {
	w := Way{Code: code, Of: of, Used: of}
	if err != nil {
		why, ok := failed(err)
		if !ok {
			return w, err
		}
		w.Used, w.Failed = 0, geo.Some(why)
		return w, nil
	}
	e := widenedBy(f.T, code, lineDecades)
	w.T, w.LeftM, w.Signs = rangeOf(e, 1), f.RMSM, f.Signs
	if f.Used != nil {
		w.Used = len(f.Used)
	}
	if e, ok := f.Storage.Get(); ok {
		w.S = rangeOf(widenedBy(e, code, storageDecades), 1)
	}
	if b, ok := s.ThickM.Get(); ok {
		w.K = rangeOf(e, 1/b)
	}
	return w, nil
}

// What the choice of readings for a straight line over time adds to the standard errors of
// log10 T and of log10 S, so that a line through other readings by another hand is held too.
// S is read off where the line meets nothing, far from the readings: it is hardly known.
//
// Source: Kruseman and de Ridder's test Oude Korendijk at 30 m, from memory: by hand through
// the first half hour 385 m²/d and 1.7e-4, through all that is late 571 and 3.6e-5,
// recalculated.
const (
	lineDecades    = 0.06
	storageDecades = 0.35
)

// widenedBy is what a line tells with what the choice of its readings adds; what other ways
// tell stays as it is.
func widenedBy(e hydraulics.Estimate, code geo.Code, decades float64) hydraulics.Estimate {
	if code != "way.straight-line" && code != "way.recovery" {
		return e
	}
	const normal95 = 1.959963984540054
	e.Decades = math.Hypot(e.Decades, decades)
	wide := math.Pow(10, normal95*e.Decades)
	e.Lo, e.Hi = min(e.Lo, e.Value/wide), max(e.Hi, e.Value*wide)
	return e
}

// failed says why a way gives nothing; ok is false for what is no matter of the readings.
func failed(err error) (geo.Message, bool) {
	var early *hydraulics.EarlyError
	var input *hydraulics.InputError
	switch {
	case errors.As(err, &early):
		return geo.Say("pumping.fail.early"), true
	case errors.Is(err, hydraulics.ErrTooFew):
		return geo.Say("pumping.fail.too-few"), true
	case errors.Is(err, hydraulics.ErrOpen):
		return geo.Say("pumping.fail.open"), true
	case errors.Is(err, hydraulics.ErrNoAnswer), errors.Is(err, hydraulics.ErrDry):
		return geo.Say("pumping.fail.no-answer"), true
	case errors.As(err, &input):
		return geo.Say("pumping.fail.input", text("field", input.Name)), true
	}
	return geo.Message{}, false
}
