package hydraulics

import "waterstrike/geo"

// sumpM is plugged pipe below a screen whose place is not written down.
const sumpM = 0.5

// Reports returns what the yield of a bore that was never tested says of the ground behind
// its screen, or where no yield is written down whether it works; ok is false where neither
// says anything. The yield drew the water down by no more than the hole allows: T is no less
// than what that takes. A yield that was too little is all that there was.
//
//   - Units: restM, the depth to water on the day of completion, metres.
//   - Domain: a bore of known depth, with layers and water over its bottom. Without a screen
//     one of the usual length at the bottom is taken.
//   - Errors: none: a record that is wrong in itself is for the checks of records to tell.
//   - Source: [NeededT] for the whole depth of water but a cover over the bottom.
//   - Checked by: TestReports.
func Reports(b geo.Bore, restM float64, assumed Assumed) (t Tested, ok bool) {
	how, lps := AtLeast, assumed.LeastLPS
	given, known := b.YieldLPS.Get()
	switch {
	case known && given > 0 && b.Outcome == geo.LowYield:
		how, lps = Measured, given
	case known && given > 0:
		how, lps = Reported, given
	case b.Outcome == geo.LowYield:
		how = AtMost
	case b.Outcome != geo.Producing:
		return t, false
	}
	bottom, known := b.DepthM.Get()
	if !known || bottom-restM <= assumed.CoverM {
		return t, false
	}
	open, _ := opened(b, restM)
	if len(open) == 0 {
		foot := bottom - sumpM
		b.Pipes = []geo.Pipe{{Kind: geo.Screen, TopM: foot - assumed.ScreenM, BaseM: foot}}
		open, _ = opened(b, restM)
	}
	if len(open) == 0 {
		return t, false
	}
	duty := Duty{lps * secondsPerDay / 1000, assumed.Hours / 24, assumed.Storage, assumed.HoleMM / 2000, assumed.Efficiency}
	least, err := NeededT(duty, bottom-restM-assumed.CoverM)
	if err != nil {
		return t, false
	}
	e, err := judged(least, singleDecades)
	return Tested{T: e, How: how, Open: open}, err == nil
}
