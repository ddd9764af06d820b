// Package sheettest holds an invented plan that the tests of the faces show.
package sheettest

import (
	"errors"

	"waterstrike/advisor"
	"waterstrike/advisor/method"
	"waterstrike/advisor/welldesign"
	"waterstrike/geo"
	"waterstrike/geo/soil"
)

// Plan is the plan that the rules of the well make for a column, as an advisor puts it together.
func Plan() *advisor.Plan {
	methods, err := method.Defaults()
	m, ok := method.Find(methods, "auger")
	kit, kitErr := welldesign.NewKit(m)
	if err = errors.Join(err, kitErr); err != nil || !ok {
		panic(err)
	}
	site := welldesign.Site{
		Layers: []welldesign.Layer{
			{TopM: 0, BaseM: 5, Class: soil.Clay}, {TopM: 5, BaseM: 13.5, Class: soil.Sand, Grade: soil.Medium}, {TopM: 13.5, BaseM: 40, Class: soil.Rock},
		},
		Water: welldesign.Water{WetHighM: 3.1, NormalLowM: 7.4, DesignLowM: 8.6},
	}
	forecast, wells, err := welldesign.Foresee([]welldesign.Possible{{Site: site, Weight: 1}}, kit)
	if err != nil {
		panic(err)
	}
	w := wells[0]
	work := welldesign.Hours(w, kit, 0)
	protection := welldesign.Protect(site, w, geo.Opt[float64]{}, kit)
	closing, err := welldesign.Close(site, w.BottomM, w.Casing.HoleMM, kit.Rules)
	if err != nil {
		panic(err)
	}
	return &advisor.Plan{
		Method: "auger", BottomM: advisor.Range{P10: 11.5, P50: 13, P90: 14.5}, Well: w, Forecast: forecast,
		Tools: []advisor.ToolRange{
			{TopM: 0, BaseM: 5, Tool: "open-auger"}, {TopM: 5, BaseM: 7.5, Tool: "closed-auger"}, {TopM: 7.5, BaseM: 14.5, Tool: "bailer"},
		},
		Rules: welldesign.WorkingRules(&m, w, kit.Rules),
		Building: advisor.Building{
			Bring: welldesign.Kitbag(&m, w), Work: work, Steps: welldesign.Timetable(work, kit.Rules),
			Develop: welldesign.Development(w, kit.Rules), Disinfect: kit.Rules.Disinfection(w, &m),
			Apart: welldesign.Distances(protection, kit.Rules), Protection: protection, Close: closing,
			Before: []geo.Message{geo.Say("permit.land")}, After: []geo.Message{geo.Say("handover.clear")},
			Cautions: welldesign.Cautions(&m, w, kit.Rules),
			Sources: []advisor.Source{
				{Says: geo.Say("told.well.seal.least-m", geo.With("amount", geo.Number(3))), Mark: "mark.memory", From: "Code of practice"},
				{Says: geo.Say("told.well.apart.latrine"), Mark: "mark.published", From: "Manual A", Answers: []advisor.Answer{
					{Says: geo.Say("answer.apart.latrine.sphere"), Mark: "mark.published", From: "Manual A", InForce: true},
					{Says: geo.Say("answer.apart.latrine.least"), Mark: "mark.memory", From: "Manual B"},
				}},
			},
		},
	}
}
