package pumptest

import (
	"waterstrike/advisor/hydraulics"
	"waterstrike/geo"
)

// Kind is how the well was tested.
type Kind string

// The kinds.
const (
	Drawdown Kind = "drawdown" // pumped at one rate and read over time, there or in piezometers
	Recovery Kind = "recovery" // read while the water came back
	Distance Kind = "distance" // read in several piezometers at one moment, or when nothing moved any more
	Steps    Kind = "steps"    // pumped at one rate after another
	Slug     Kind = "slug"     // raised or lowered at a stroke and left alone
	Bailer   Kind = "bailer"   // bailed for some minutes, then read while the water came back
	Buckets  Kind = "buckets"  // measured by bucket and watch alone
)

// Kinds lists them in the order of forms.
func Kinds() []Kind {
	return []Kind{Drawdown, Recovery, Distance, Steps, Slug, Bailer, Buckets}
}

// Sheet is a test as it was written down, in metres, days and m³/d.
type Sheet struct {
	Kind       Kind
	Discharge  geo.Opt[float64]
	DistanceM  geo.Opt[float64]              // of the one piezometer; missing for the pumped well
	HoleM      geo.Opt[float64]              // diameter of the hole
	PipeM      geo.Opt[float64]              // inside diameter of the pipe
	RestM      geo.Opt[float64]              // level before the test
	PumpedDays geo.Opt[float64]              // before a recovery
	AfterDays  geo.Opt[float64]              // when piezometers were read at one moment
	ThickM     geo.Opt[float64]              // of the ground that gives water
	ScreenM    geo.Opt[float64]              // its wet length
	FootM      geo.Opt[float64]              // of the screen's foot below the water at rest
	StartM     geo.Opt[float64]              // displacement at once
	Storage    geo.Opt[float64]              // assumed where a way cannot tell it
	HalfDays   geo.Opt[float64]              // after bailing, until half of the drawdown was left
	QuartDays  geo.Opt[float64]              // and until a quarter was
	UsableM    geo.Opt[float64]              // by how much the water may fall in use
	Rates      []hydraulics.Rate             // where the discharge changed
	ByHand     geo.Opt[hydraulics.Discharge] // by bucket and watch
	Bailed     geo.Opt[hydraulics.Count]     // bails taken out
	WaterTable bool                          // the ground runs partly dry: drawdowns are corrected for it
	Rows       []Row
}

// Row is one line of the table.
type Row struct {
	Line      int // of the text, from 1
	Days      geo.Opt[float64]
	Ratio     geo.Opt[float64] // time since the start over time since the stop
	DrawdownM geo.Opt[float64]
	DistanceM geo.Opt[float64]
	Discharge geo.Opt[float64]
}
