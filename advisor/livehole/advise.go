package livehole

import "waterstrike/geo"

// clearly is how much more another method must be worth to be changed for, as a share of
// what a success costs elsewhere: less is within what nobody knows.
const clearly = 0.05

// priced is the chance from which what a success costs in this hole is told.
const priced = 0.05

// advise turns the outlooks into one thing to do.
func (p *Pack) advise(l *Log, a *Answer) Advice {
	use := p.method(l.Method)
	now, m := &a.Methods[use], &p.Methods[use]
	other, gain := -1, 0.0
	for i := range a.Methods {
		if g := a.Methods[i].Gain - p.Methods[i].SetUpCost; i != use && g > gain {
			other, gain = i, g
		}
	}
	tested := now.Ready*(p.Costs.Next-m.LineCost+p.Costs.Close) - p.Costs.Try*m.HourCost
	out := Advice{Method: l.Method}
	switch {
	case now.Ready >= p.GoFrom, tested > 0 && tested >= max(now.Gain, gain):
		out.Code = Complete
		out.because("hole.because.ready", now.Ready)
		return out
	case other >= 0 && gain > now.Gain+clearly*p.Costs.Next:
		out.Code, out.Method = Change, a.Methods[other].Method
		if l.Refused {
			out.because("hole.because.refused", 1)
		}
		out.because("hole.because.other", a.Methods[other].Chance)
		out.because("hole.because.this", now.Chance)
		out.because("hole.because.over", gain-now.Gain)
		return out
	case now.Gain > 0:
		out.Code = GoOn
		if !a.Water.Met {
			out.because("hole.because.water", a.Water.Within[1])
		}
		out.because("hole.because.chance", now.Chance)
		out.because("hole.because.gain", now.Gain)
		return out
	}
	out.Code = Close
	if l.Refused {
		out.because("hole.because.refused", 1)
	}
	out.because("hole.because.chance", now.Chance)
	if now.Chance >= priced {
		out.because("hole.because.here", now.Cost/now.Chance+m.LineCost-p.Costs.Close)
	}
	out.because("hole.because.next", p.Costs.Next)
	return out
}

func (a *Advice) because(code geo.Code, value float64) {
	a.Because = append(a.Because, Reason{Code: code, Value: value})
}
