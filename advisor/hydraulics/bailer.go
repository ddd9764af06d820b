package hydraulics

import (
	"math"

	"waterstrike/geo"
)

// Bailed is a bailer test: water taken out as evenly as hands can for some minutes, then
// the rise watched.
type Bailed struct {
	Well
	VolumeL float64 // all bails together
	Minutes float64 // of bailing
}

// Rise is what a bailer test shows.
type Rise struct {
	MostM     float64 // drawdown when bailing ends
	HalfMin   float64 // from then until half of it is left
	ThreeQMin float64 // and until a quarter is
}

func (b Bailed) check() error {
	if err := b.Well.check(); err != nil {
		return err
	}
	return positive(named{"volume", b.VolumeL}, named{"minutes of bailing", b.Minutes})
}

const minutesPerDay = 1440

// dischargeM3D is the bailing as a steady discharge.
func (b Bailed) dischargeM3D() float64 { return b.VolumeL / 1000 / b.Minutes * minutesPerDay }

// Bail returns what a bailer test would show in ground of that kind.
//
//   - Units: litres, minutes, m, m²/d.
//   - Domain: as [StoredWell]; T of 0.01 to 1000 m²/d, a recovery within 1000 days.
//   - Errors: [InputError]; [ErrNoAnswer] where nothing is left to time.
//   - Source: MacDonald, Barker and Davies (2008), Hydrogeology Journal 16, 1065, by the
//     well of Papadopulos and Cooper (1967).
//   - Checked by: TestBailAgainstGuideline, TestBailLaws.
func Bail(a Aquifer, b Bailed) (Rise, error) {
	if err := b.check(); err != nil {
		return Rise{}, err
	}
	if err := a.check(1, b.RadiusM, 1); err != nil {
		return Rise{}, err
	}
	most := b.most(a)
	half, okHalf := a.timeTo(b, most/2)
	quarter, okQuarter := a.timeTo(b, most/4)
	if !okHalf || !okQuarter || !(most > 0) {
		return Rise{}, ErrNoAnswer
	}
	return Rise{MostM: most, HalfMin: half, ThreeQMin: quarter}, nil
}

// most is the drawdown when bailing ends.
func (b Bailed) most(a Aquifer) float64 {
	return b.dischargeM3D() * a.stored(b.Well, b.Minutes/minutesPerDay)
}

// left is the drawdown some minutes after bailing ends.
func (a Aquifer) left(b Bailed, min float64) float64 {
	return b.dischargeM3D() * (a.stored(b.Well, (b.Minutes+min)/minutesPerDay) - a.stored(b.Well, min/minutesPerDay))
}

// timeTo returns after how many minutes that much drawdown is left.
func (a Aquifer) timeTo(b Bailed, leftM float64) (float64, bool) {
	return bisect(func(min float64) float64 { return a.left(b, min) - leftM }, 1e-4*b.Minutes, 1e6)
}

// Timed is what was read of a bailer test.
type Timed struct {
	MostM     geo.Opt[float64]
	HalfMin   geo.Opt[float64]
	ThreeQMin geo.Opt[float64]
}

// The storage of ground that is bailed: its middle, and a factor each way.
//
// Source: 0.001, the design curve of MacDonald, Barker and Davies (2008); the factor of
// ten is common practice, no source.
const (
	bailedStorage       = 1e-3
	bailedStorageFactor = 10
)

// bailedDecades is the standard error of a bailer test besides its own spread: its T was
// found to be like that of tests of five hours with r² = 0.9.
//
// Source: MacDonald, Barker and Davies (2008), abstract; turned into 0.2 decades for T
// spread over two decades, recalculated.
const bailedDecades = 0.2

// FitBailer returns the T that explains the times of half and three-quarter recovery. The
// greatest drawdown only is a check: it is mostly the well's own water.
//
//   - Units: minutes, m; result in m²/d.
//   - Domain: a T of 0.01 to 1000 m²/d; the method is meant for 0.1 to 10 and water
//     shallower than 20 m. The storage is not told: [bailedStorage] a factor of ten each
//     way is in the range.
//   - Errors: [InputError]; [ErrTooFew] without either time; [ErrNoAnswer] where no T
//     explains them, or where more water came out than the drawdown empties, by half.
//   - Source: MacDonald, Barker and Davies (2008).
//   - Checked by: TestFitBailerTurnsBailRound, TestFitBailerRefuses.
func FitBailer(b Bailed, read Timed) (Estimate, error) {
	if err := b.check(); err != nil {
		return Estimate{}, err
	}
	var found []float64 // log10 T by each time
	for _, one := range []struct {
		min  geo.Opt[float64]
		left float64
	}{{read.HalfMin, 0.5}, {read.ThreeQMin, 0.25}} {
		if min, known := one.min.Get(); known {
			logT, err := b.logT(min, one.left)
			if err != nil {
				return Estimate{}, err
			}
			found = append(found, logT...)
		}
	}
	if len(found) == 0 {
		return Estimate{}, ErrTooFew
	}
	middle := mean(found)
	apart := 0.0
	for _, v := range found {
		apart = max(apart, math.Abs(v-middle))
	}
	e, err := judged(math.Pow(10, middle), math.Hypot(apart, bailedDecades))
	if err != nil {
		return Estimate{}, err
	}
	return e, b.plausible(e.Value, read.MostM)
}

// logT returns log10 T by one time, for three storages.
func (b Bailed) logT(min, share float64) ([]float64, error) {
	if err := positive(named{"minutes of recovery", min}); err != nil {
		return nil, err
	}
	var all []float64
	for _, storage := range [...]float64{bailedStorage / bailedStorageFactor, bailedStorage, bailedStorage * bailedStorageFactor} {
		t, ok := bisect(func(t float64) float64 {
			a := Aquifer{t, storage}
			return a.left(b, min) - share*b.most(a)
		}, 0.01, 1000)
		if !ok {
			return nil, ErrNoAnswer
		}
		all = append(all, math.Log10(t))
	}
	return all, nil
}

// plausible refuses a drawdown that the volume taken out cannot have made.
func (b Bailed) plausible(t float64, most geo.Opt[float64]) error {
	read, known := most.Get()
	if !known {
		return nil
	}
	if err := positive(named{"greatest drawdown", read}); err != nil {
		return err
	}
	if said := b.most(Aquifer{t, bailedStorage}); read > 1.5*said || said > 3*read {
		return ErrNoAnswer
	}
	return nil
}
