package geo

// TestKind is how water was taken in a test.
type TestKind string

// The kinds of test.
const (
	ConstantRate TestKind = "constant-rate"
	StepTest     TestKind = "step"
	Recovery     TestKind = "recovery"
	BailerTest   TestKind = "bailer"
)

// PumpTest is one pumping or bailing test.
type PumpTest struct {
	Kind      TestKind      `json:"kind"`
	On        Opt[Date]     `json:"on,omitzero"`
	RateLPS   Opt[float64]  `json:"rateLps,omitzero"`
	Hours     Opt[float64]  `json:"hours,omitzero"`
	RestM     Opt[float64]  `json:"restM,omitzero"`    // level before the test
	PumpingM  Opt[float64]  `json:"pumpingM,omitzero"` // level at its end
	Readings  []TestReading `json:"readings,omitempty"`
	Remarks   string        `json:"remarks,omitempty"`
	BailL     Opt[float64]  `json:"bailL,omitzero"`     // litres taken out in a bailer test
	HalfMin   Opt[float64]  `json:"halfMin,omitzero"`   // minutes to half recovery
	ThreeQMin Opt[float64]  `json:"threeQMin,omitzero"` // minutes to three-quarter recovery
}

// TestReading is one level during a test.
type TestReading struct {
	Minutes float64      `json:"minutes"`
	DepthM  float64      `json:"depthM"`
	RateLPS Opt[float64] `json:"rateLps,omitzero"`
}

// Sample is one water-quality result.
type Sample struct {
	Analyte        string       `json:"analyte"`                 // such as "arsenic", "nitrate", "e-coli", "ec"
	Basis          string       `json:"basis,omitempty"`         // such as "NO3" or "N"
	Unit           string       `json:"unit"`                    // as stored, UCUM where one exists
	Value          Opt[float64] `json:"value,omitzero"`          // missing when only a limit is known
	DetectionLimit Opt[float64] `json:"detectionLimit,omitzero"` // "below this much", same unit
	On             Opt[Date]    `json:"on,omitzero"`
	Laboratory     string       `json:"laboratory,omitempty"`

	// WaivedBy names who answers for doing without this test, and Reason says why; there is
	// no result then. Neither hides a result that there is.
	WaivedBy string `json:"waivedBy,omitempty"`
	Reason   string `json:"reason,omitempty"`
}

// Waived reports that somebody answers for doing without the test.
func (s Sample) Waived() bool { return s.WaivedBy != "" }
