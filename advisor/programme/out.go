package programme

import "waterstrike/geo"

// Why a spot and method were not looked at.
const (
	TooFar     geo.Code = "programme.option.too-far"
	TooRisky   geo.Code = "programme.option.too-risky"
	LowChance  geo.Code = "programme.option.low-chance"
	ServesNone geo.Code = "programme.option.serves-none"
)

// out says why the rules leave an option out, "" where they do not.
func (p *Problem) out(o *Option) geo.Code {
	switch {
	case o.WalkM > p.Rules.WalkM:
		return TooFar
	case o.Risk.Or(0) > p.Rules.MostRisk.Or(1):
		return TooRisky
	case o.Chance() < p.Rules.LeastChance:
		return LowChance
	case o.People == 0:
		return ServesNone
	}
	return ""
}
