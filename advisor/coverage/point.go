package coverage

import (
	"time"

	"waterstrike/geo"
	"waterstrike/geo/coord"
)

// Village is where people need water.
type Village struct {
	ID       string
	District string // may be empty
	At       coord.LonLat
	People   geo.Opt[int]
}

// Point is a place where people take water.
type Point struct {
	ID        string
	Kind      geo.PointKind
	At        coord.LonLat
	Built     geo.Opt[geo.Date] // missing: it was always there
	Protected geo.Opt[bool]
	YieldLPS  geo.Opt[float64]
	DryMonths geo.Opt[geo.MonthSet] // known and empty: never dry; missing: taken as never dry, and named
	Visits    []Visit               // in any order
	Tests     []Test                // in any order
}

// Visit is what was found on one day; the zero date, where nobody wrote which, counts as
// before every other.
type Visit struct {
	On    geo.Date
	Works bool
}

// Test is one test of the water, on a day as in [Visit].
type Test struct {
	On     geo.Date
	Passed bool
}

// Why a point does not count.
const (
	NotBuilt          geo.Code = "coverage.not-built"          // built after the day asked about
	WrongKind         geo.Code = "coverage.wrong-kind"         // of no kind that the standard takes
	ProtectionUnknown geo.Code = "coverage.protection-unknown" // nobody wrote whether it is protected
	Unprotected       geo.Code = "coverage.unprotected"        // known to be open to dirt
	NotVisited        geo.Code = "coverage.not-visited"        // nobody looked by then
	Broken            geo.Code = "coverage.broken"             // found not working at the last visit
	DryThen           geo.Code = "coverage.dry-then"           // dry in that month
	NotTested         geo.Code = "coverage.not-tested"         // water not tested by then
	TestFailed        geo.Code = "coverage.test-failed"        // the last test found it unfit
)

// outReasons lists the codes in the order in which they are looked at.
func outReasons() []geo.Code {
	return []geo.Code{NotBuilt, WrongKind, ProtectionUnknown, Unprotected, NotVisited, Broken, DryThen, NotTested, TestFailed}
}

// Ask is one question: by which standard, on which day.
type Ask struct {
	Standard Standard
	On       geo.Date // its month decides which points are dry; without one, a point dry in any month is
	Tested   bool     // only points whose last test was passed
	// TakeUnvisited counts points that nobody has visited by then as working: beside the
	// plain answer it shows how far ignorance goes.
	TakeUnvisited bool
}

// out returns why a point does not count, or "" and how many people it can serve.
func (a *Ask) out(p *Point) (geo.Code, int) {
	kind, taken := a.Standard.kind(p.Kind)
	protected, told := p.Protected.Get()
	works, visited := p.worksOn(a.On)
	passed, tested := p.passedOn(a.On)
	switch {
	case p.Built.Or(a.On).Compare(a.On) > 0:
		return NotBuilt, 0
	case !taken:
		return WrongKind, 0
	case kind.Protected && !told:
		return ProtectionUnknown, 0
	case kind.Protected && !protected:
		return Unprotected, 0
	case !visited && !a.TakeUnvisited:
		return NotVisited, 0
	case visited && !works:
		return Broken, 0
	case p.dryOn(a.On):
		return DryThen, 0
	case a.Tested && !tested:
		return NotTested, 0
	case a.Tested && !passed:
		return TestFailed, 0
	}
	return "", a.Standard.capacity(kind, p.YieldLPS)
}

// worksOn is what the last visit up to a day found; of two on one day the later in the list.
func (p *Point) worksOn(day geo.Date) (works, known bool) {
	var last geo.Date
	for _, v := range p.Visits {
		if v.On.Compare(day) <= 0 && v.On.Compare(last) >= 0 {
			last, works, known = v.On, v.Works, true
		}
	}
	return works, known
}

func (p *Point) passedOn(day geo.Date) (passed, known bool) {
	var last geo.Date
	for _, t := range p.Tests {
		if t.On.Compare(day) <= 0 && t.On.Compare(last) >= 0 {
			last, passed, known = t.On, t.Passed, true
		}
	}
	return passed, known
}

// dryOn reports whether a point is known to be dry in the month of a day, or in any
// month where the day has none.
func (p *Point) dryOn(day geo.Date) bool {
	months := p.DryMonths.Or(0)
	if day.Month == 0 {
		return months != 0
	}
	return months.Has(time.Month(day.Month))
}
