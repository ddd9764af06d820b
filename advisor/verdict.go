package advisor

import "waterstrike/geo"

// without is the verdict where one of the two statements that a chance needs is missing.
func without(water, layers bool) Verdict {
	v := Verdict{Code: NotEnough}
	if !layers {
		v.Because = append(v.Because, geo.Say("evidence.no-logs"))
	}
	if !water {
		v.Because = append(v.Because, geo.Say("evidence.no-levels"))
	}
	return v
}

// judge turns the best method's chance and the evidence behind it into a verdict.
func (t Thresholds) judge(best MethodChance, effective int) Verdict {
	v := Verdict{Method: best.Method}
	switch {
	case effective < t.Effective:
		v.Code = NotEnough
		v.Because = []geo.Message{geo.Say("evidence.weak")}
	case best.Lo < t.Go && best.Hi > t.Go && best.Hi-best.Lo > t.Width:
		v.Code = NotEnough
		v.Because = []geo.Message{geo.Say("verdict.range-too-wide",
			geo.With("chance-range", geo.ChanceRange{Lo: best.Lo, Hi: best.Hi}))}
	case best.Chance >= t.Go:
		v.Code = Go
	case best.Chance >= t.Care:
		v.Code = WithCare
	case best.mainReason() == noRoomToSeal.code():
		v.Code = Unsafe
	default:
		v.Code = Avoid
	}
	return v
}

// mainReason is what fails first in most of the grounds where the method fails.
func (m MethodChance) mainReason() geo.Code {
	if len(m.Reasons) == 0 {
		return ""
	}
	return m.Reasons[0].Code
}

// cautions are shown on every page, whatever the verdict.
func cautions() []geo.Message {
	codes := []geo.Code{
		"caution.local-code", "caution.not-a-promise", "caution.visit",
		"caution.never-enter", "caution.bad-air", "caution.open-holes",
		"caution.overhead-load", "caution.power-lines", "caution.lightning",
		"caution.lifting", "caution.chlorine", "caution.cement", "caution.dung",
	}
	out := make([]geo.Message, len(codes))
	for i, code := range codes {
		out[i] = geo.Say(code)
	}
	return out
}
