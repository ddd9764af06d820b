package livehole

import (
	"math"

	"waterstrike/advisor"
	"waterstrike/advisor/method"
	"waterstrike/advisor/strata"
	"waterstrike/advisor/welldesign"
	"waterstrike/geo/soil"
)

// hours of trying ground that then stops the bit, and the share of a working day that it
// takes to fill and leave a hole. Common practice, no source.
const (
	tryHours = 1.0
	closeDay = 0.25
)

// methodOf takes over a method. Ground that its list has no pace for takes what hand tools
// take.
func methodOf(d advisor.Drilling, cells int) Method {
	m, usual := d.Method, [classes]float64{}
	usual, _ = strata.UsualMinutes()
	out := Method{Code: m.Code, MaxDepthM: m.MaxDepthM, BelowWaterM: m.BelowWaterM, SlowerPerM: m.SlowerPerM}
	for k, class := range soil.Known() {
		cross, minutes := 0, usual[k]
		switch g := m.Ground[class]; g.Pace {
		case method.Free:
			cross = cells
		case method.Slow:
			cross = min(int(math.Floor(g.CrossableM/cellM+1e-9)), cells)
		}
		if rate, ok := d.Rates.Of(class, false); ok {
			minutes = math.Exp(rate.LnMinutes)
		}
		out.Cross, out.Minutes = append(out.Cross, cross), append(out.Minutes, digits(minutes))
	}
	for i, needed := range d.NeededT {
		if float64(i)*cellM <= m.MaxDepthM {
			out.Enough = append(out.Enough, digits(1/needed))
		}
	}
	return out
}

// price prices everything in the unit of the price list, where that has a wage, or else in
// hours of one person.
func (p *Pack) price(parts advisor.Parts, plan *advisor.Plan) {
	p.Costs.Unit, p.Costs.Try = "person-hours", tryHours
	for i, d := range parts.Drilling {
		work, hour, bought := d.Rules.Work, 1.0, 0.0
		if wage, ok := wageOf(d); ok {
			p.Costs.Unit, hour, bought = d.Prices.Currency, wage/work.HoursDay.Value, materials(d, plan)
		}
		crew := float64(d.Method.Crew) * hour
		day := crew * work.HoursDay.Value
		m := &p.Methods[i]
		m.HourCost, m.SetUpCost = digits(crew), digits(day*work.SetUp.Value)
		m.LineCost = digits(day*(work.Lining.Value+work.Apron.Value) + bought)
	}
	p.Costs.Close = digits(p.Methods[0].HourCost * parts.Drilling[0].Rules.Work.HoursDay.Value * closeDay)
}

// wageOf is what a person costs a day, where the price list tells.
func wageOf(d advisor.Drilling) (float64, bool) {
	if d.Prices == nil {
		return 0, false
	}
	wage, ok := d.Prices.PersonDay.Get()
	return wage, ok && wage > 0
}

// materials is what the well of the plan costs beyond work, as far as the list tells; 0
// where there is no plan.
func materials(d advisor.Drilling, plan *advisor.Plan) float64 {
	if plan == nil {
		return 0
	}
	wage, _ := wageOf(d)
	work := welldesign.Hours(plan.Well, d.Kit, 0)
	all := welldesign.CostOf(plan.Well, d.Kit, 0, 0.5).Known.Amount
	return max(0, all-wage*work.DaysOut*float64(work.People))
}
