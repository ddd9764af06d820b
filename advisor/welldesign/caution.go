package welldesign

import (
	"waterstrike/advisor/method"
	"waterstrike/geo"
)

// Cautions lists what may hurt someone in drilling and building by a method: first what
// kills, then what maims, then what fouls the well. The country's rules come first of all.
//
// Source: OSHA, ILO, NIOSH, WHO and HSE notes, from memory, and common practice.
func Cautions(m *method.Method, w Well, r *Rules) []geo.Message {
	out := []geo.Message{
		geo.Say("caution.local-code"),
		geo.Say("caution.cleared-by-authority"),
		geo.Say("caution.never-enter"), geo.Say("caution.no-rescue"), geo.Say("caution.bad-air"),
		geo.Say("caution.power-lines"), geo.Say("caution.lightning"), geo.Say("caution.overhead-load"),
		geo.Say("caution.children"), geo.Say("caution.open-holes"),
		geo.Say("caution.never-hammer-casing"), geo.Say("caution.lifting"), geo.Say("caution.pinch"),
	}
	if m.Fluid {
		out = append(out, geo.Say("caution.pit-cover"), geo.Say("caution.no-fuel-at-hole"))
	} else {
		out = append(out, geo.Say("caution.falling-tool"))
	}
	if casedTo(w) > 0 {
		out = append(out, geo.Say("caution.pull-casing"))
	}
	if w.MayFlow {
		out = append(out, geo.Say("caution.flowing-water"))
	}
	out = append(out,
		geo.Say("caution.sawing"), geo.Say("caution.glue"), geo.Say("caution.cement"), geo.Say("caution.chlorine"),
		geo.Say("caution.dung"))
	if m.Thickener {
		out = append(out, geo.Say("chlorine.breaks-thickener"))
	}
	return append(out, geo.Say("caution.first-aid"), geo.Say("caution.not-a-promise"))
}

// flowsWithinM is how near to the ground water stands at its highest that may come to stand
// over it: what is said of a level is hardly ever better than half a metre. Common practice,
// no source.
const flowsWithinM = 0.5
