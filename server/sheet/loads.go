package sheet

import (
	"math"

	"waterstrike/advisor"
	"waterstrike/advisor/welldesign"
	"waterstrike/ui/say"
)

// loads is the packing list: what is enough in half and in four fifths of the wells, and
// what to load. Below it stand the money, where a price list is kept.
func (s speaker) loads(p *advisor.Plan) Table {
	t := Table{
		Heading: s.Say("building.heading.load"),
		Columns: []string{s.Say("building.item"), s.Say("building.half"), s.Say("building.most"), s.Say("building.carry")},
		Notes:   []string{s.Say("building.carry-note")},
	}
	for _, l := range p.Forecast.Loads {
		t.add(s.Say("item."+string(l.Item)), s.amount(l.P50, l.Unit), s.amount(l.P80, l.Unit), s.amount(l.Carry, l.Unit))
	}
	if bailed, cased := needsCasing(p); bailed && !cased {
		t.Notes = append(t.Notes, s.Say("building.no-casing"))
	}
	if money, ok := p.Forecast.Money.Get(); ok {
		if money.P80 > 0 { // nothing priced is not free
			t.Notes = append(t.Notes, s.Say("building.cost", say.With("money", say.MoneyRange(money.P50, money.P80, money.Currency))))
		} else {
			t.Notes = append(t.Notes, s.Say("building.nothing-priced"))
		}
		t.Notes = append(t.Notes, s.tellAll(money.Missing)...)
	} else {
		t.Notes = append(t.Notes, s.Say("building.no-prices"))
	}
	return t
}

// needsCasing reports a method that bails inside casing where the hole runs, and whether
// any is loaded.
func needsCasing(p *advisor.Plan) (bailed, cased bool) {
	for _, rule := range p.Rules {
		bailed = bailed || rule.Code == "plan.casing-rule"
	}
	for _, l := range p.Forecast.Loads {
		cased = cased || l.Item == welldesign.TemporaryCasing && l.Carry > 0
	}
	return bailed, cased
}

// amount writes an amount as exactly as anyone measures it.
func (s speaker) amount(v float64, unit welldesign.Unit) string {
	decimals := 0
	switch unit {
	case welldesign.Millilitre, welldesign.Litre:
		if v >= 100 {
			v = 10 * math.Ceil(v/10-1e-6)
		}
	case welldesign.Each:
		return s.Say("value.count", say.With("n", say.Count(int(v+0.5))))
	case welldesign.Lengths:
		return s.Say("building.lengths", say.With("n", say.Count(int(v+0.5))))
	case welldesign.Bag:
		return s.Say("building.bags", say.With("n", say.Count(int(v+0.5))))
	case welldesign.Metre, welldesign.SquareM:
		decimals = 1
	case welldesign.CubicMetre:
		decimals = 2
	}
	return s.Say("building.amount", say.With("effective", say.Number(v, decimals)), say.With("unit", say.Of("unit."+string(unit))))
}

// timetable lists the steps with the days they fall on, and the hours of the crew.
func (s speaker) timetable(p *advisor.Plan) Table {
	f, b := p.Forecast, p.Building
	t := Table{
		Heading: s.Say("building.heading.time"),
		Columns: []string{s.Say("building.step"), s.Say("building.begins"), s.Say("building.ends")},
	}
	for _, step := range b.Steps {
		name := s.Say(string(step.Code))
		if step.Wait {
			name = s.Say("building.wait", say.With("part", say.Text(name)))
		}
		t.add(name, s.day(step.FromH), s.day(step.ToH))
	}
	half := func(e welldesign.Enough) []say.Arg {
		return []say.Arg{say.With("lo", say.Number(e.P50, 0)), say.With("hi", say.Number(e.P80, 0))}
	}
	t.Notes = []string{
		s.Say("building.timetable-of", say.With("effective", say.Number(b.Work.DrillH, 0))),
		s.Say("building.drilling-hours", half(f.DrillH)...),
		s.Say("building.crew-hours", append(half(f.CrewH), say.With("n", say.Count(b.Work.People)))...),
	}
	return t
}

// day writes hours after arrival as a day of work.
func (s speaker) day(h float64) string {
	const hoursADay = 24
	return s.Say("building.day", say.With("n", say.Count(int(h/hoursADay)+1)))
}
