package season

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"waterstrike/advisor/coverage"
	"waterstrike/advisor/programme"
	"waterstrike/geo"
	"waterstrike/geo/coord"
)

// Wishes are what a planner asks of a season.
type Wishes struct {
	Standard  coverage.Standard     `json:"standard"` // of service
	On        geo.Date              `json:"on"`       // the day at which needs are counted
	Tested    bool                  `json:"tested"`   // only points whose last test of water was passed count
	Budget    float64               `json:"budget"`
	Windows   []programme.Window    `json:"windows"`
	Floors    []programme.Floor     `json:"floors,omitempty"`
	Must      []string              `json:"must,omitempty"`  // names or IDs of villages
	Never     []string              `json:"never,omitempty"` // likewise
	Caution   float64               `json:"caution"`
	PerBore   geo.Opt[float64]      `json:"perBore,omitzero"`  // money for each attempt
	PerMetre  geo.Opt[float64]      `json:"perMetre,omitzero"` // money for each metre drilled
	PerKM     float64               `json:"perKm"`             // money a kilometre of road
	Base      geo.Opt[coord.LonLat] `json:"base,omitzero"`     // where crews start; the middle of the villages when missing
	WeekDays  float64               `json:"weekDays"`          // days of work in a crew-week
	Least     float64               `json:"least"`             // chance from which a crew is sent
	MostRisk  geo.Opt[float64]      `json:"mostRisk,omitzero"` // spots whose water is likelier than this to be unfit are left
	SecondTry bool                  `json:"secondTry"`         // a failed attempt may be followed by another
	Twice     bool                  `json:"twice"`             // a village may get two points
	Reserve   bool                  `json:"reserve"`           // second attempts are paid for in full
	Seed      uint64                `json:"seed"`
}

// DefaultWishes are common practice, no source; budget, weeks and prices have no default.
func DefaultWishes() Wishes {
	return Wishes{PerKM: 1, WeekDays: 5, Least: 0.2, SecondTry: true, Twice: true, Seed: 1}
}

// How crews travel: common practice, no source.
const (
	roundM  = 4000.0 // villages so near the middle of a round are drilled on one trip
	kmAWeek = 300.0
	detour  = 1.4
)

// more is the sum whose worth is told.
const more = 1000.0

func fail(kind geo.Kind, code geo.Code, args ...geo.Arg) error {
	return geo.Fail(kind, "season.Choose", geo.Say(code, args...), nil)
}

// check refuses wishes that the programme does not look at itself.
func (w *Wishes) check() error {
	positive := func(v float64) bool { return v > 0 && !math.IsInf(v, 0) }
	switch {
	case !positive(w.Budget):
		return fail(geo.Invalid, "programme.no-budget", geo.With("sum", geo.Number(w.Budget)))
	case w.PerBore.Or(0) < 0 || w.PerMetre.Or(0) < 0 || math.IsNaN(w.PerBore.Or(0)+w.PerMetre.Or(0)) || !(w.PerKM >= 0):
		return fail(geo.Invalid, "season.bad-price")
	case (w.PerBore.Known() || w.PerMetre.Known()) && w.PerBore.Or(0)+w.PerMetre.Or(0) == 0:
		return fail(geo.Invalid, "season.free")
	case !(w.Caution >= 0 && w.Caution <= 1):
		return fail(geo.Invalid, "season.bad-care", geo.With("value", geo.Text(strconv.FormatFloat(w.Caution, 'g', 6, 64))), geo.With("most", geo.Number(100*w.Caution)))
	case !positive(w.WeekDays) || w.WeekDays > 7:
		return fail(geo.Invalid, "season.bad-week", geo.With("value", geo.Number(w.WeekDays)))
	}
	return nil
}

// meets refuses villages and districts that are not there, before anything is worked out.
func (w *Wishes) meets(r *Records, villages []Village) error {
	must, err := r.named(w.Must)
	if err != nil {
		return err
	}
	never, err := r.named(w.Never)
	if err != nil {
		return err
	}
	for i, id := range never {
		if slices.Contains(must, id) {
			return fail(geo.Invalid, "programme.must-and-never", geo.With("id", geo.Text(w.Never[i])))
		}
	}
	if err := w.needed(r, must, villages); err != nil {
		return err
	}
	return w.placeFloors(villages)
}

// placeFloors writes the districts of floors as the records do; one that is none is refused.
func (w *Wishes) placeFloors(villages []Village) error {
	w.Floors = slices.Clone(w.Floors)
	for i, f := range w.Floors {
		k := slices.IndexFunc(villages, func(v Village) bool { return geo.FoldName(v.District) == geo.FoldName(f.District) })
		if k < 0 {
			return nowhere(f.District, villages)
		}
		w.Floors[i].District = villages[k].District
	}
	return nil
}

// needed refuses villages that must be in and where nobody gains.
func (w *Wishes) needed(r *Records, must []string, villages []Village) error {
	for i, id := range must {
		if r.uncounted(id) {
			return fail(geo.Invalid, "season.must-uncounted", geo.With("value", geo.Text(w.Must[i])))
		}
		if slices.ContainsFunc(villages, func(v Village) bool { return v.ID == id && v.Unserved == 0 }) {
			return fail(geo.Invalid, "season.must-no-need", geo.With("value", geo.Text(w.Must[i])))
		}
	}
	return nil
}

// nowhere says which districts there are in place of one that is none.
func nowhere(district string, villages []Village) error {
	var there []string
	for _, v := range villages {
		if v.District != "" && !slices.Contains(there, v.District) {
			there = append(there, v.District)
		}
	}
	slices.Sort(there)
	if len(there) == 0 {
		return fail(geo.Invalid, "season.floor-no-districts", geo.With("district", geo.Text(district)))
	}
	return fail(geo.Invalid, "season.floor-nowhere", geo.With("district", geo.Text(district)), geo.With("value", geo.Text(strings.Join(there, ", "))))
}
