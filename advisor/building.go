package advisor

import (
	"waterstrike/advisor/hydraulics"
	"waterstrike/advisor/method"
	"waterstrike/advisor/welldesign"
	"waterstrike/geo"
)

// Building is what a crew takes along and does besides drilling, for the well of a plan.
type Building struct {
	Bring      []geo.Code            `json:"bring"` // besides what the well takes
	Work       welldesign.Work       `json:"work"`  // at the middle pace
	Steps      []welldesign.Step     `json:"steps"`
	Develop    []geo.Message         `json:"develop"`
	Disinfect  []geo.Message         `json:"disinfect"`
	Apart      []welldesign.Distance `json:"apart"`
	Protection welldesign.Protection `json:"protection"`
	Close      welldesign.Closing    `json:"close"` // of this hole, if it fails at its bottom
	Before     []geo.Message         `json:"before"`
	After      []geo.Message         `json:"after"`
	Cautions   []geo.Message         `json:"cautions"`
	Sources    []Source              `json:"sources"`
}

// builder is a method with what its wells are built with, and what is said of all of them.
type builder struct {
	welldesign.Kit
	before, after []geo.Message
	sources       []Source
}

// builder puts together what wells by a method are built with.
func (r *Rules) builder(m *method.Method, ground *hydraulics.Conductivities) *builder {
	b := &builder{Kit: r.kit(m, ground), sources: append(sourcesOf("method", m.Told), sourcesOf("well", r.Well.Told())...)}
	for _, p := range r.Papers {
		if p.When == welldesign.Before {
			b.before = append(b.before, p.Message())
		} else {
			b.after = append(b.after, p.Message())
		}
	}
	return b
}

// on is the same on ground of its own.
func (b *builder) on(ground *hydraulics.Conductivities) *builder {
	here := *b
	here.Ground = ground
	return &here
}

// building tells what goes with a well that was designed for a site.
func (b *builder) building(site welldesign.Site, w welldesign.Well) (Building, error) {
	closing, err := welldesign.Close(site, w.BottomM, w.Casing.HoleMM, b.Rules)
	if err != nil {
		return Building{}, err
	}
	work := welldesign.Hours(w, b.Kit, 0)
	protection := welldesign.Protect(site, w, geo.Opt[float64]{}, b.Kit)
	return Building{
		Bring: welldesign.Kitbag(b.Method, w), Work: work, Steps: welldesign.Timetable(work, b.Rules),
		Develop: welldesign.Development(w, b.Rules), Disinfect: b.Rules.Disinfection(w, b.Method),
		Apart: welldesign.Distances(protection, b.Rules), Protection: protection, Close: closing,
		Before: b.before, After: b.after, Cautions: welldesign.Cautions(b.Method, w, b.Rules), Sources: b.sources,
	}, nil
}
