package geo

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"github.com/google/uuid"
)

// The deepest and shallowest numbers that a record may hold: a shallow-well base meets
// deep bores too, but nothing beyond these is a depth.
const (
	maxDepthM = 5000
	maxRiseM  = 100 // metres above ground of a flowing level
)

// NewBore checks b, puts its parts in order and returns it.
//
// Every number must be finite and in range, every interval have TopM < BaseM, every
// level the fields its state needs. A failure is an [Invalid] error that names the field.
// Plausibility across fields (overlaps, a level below the hole) is not judged here.
func NewBore(b Bore) (Bore, error) {
	if err := checkBore(b); err != nil {
		return Bore{}, Fail(Invalid, "geo.NewBore", Message{}, err)
	}
	b.Layers = slices.Clone(b.Layers)
	slices.SortStableFunc(b.Layers, func(x, y Layer) int {
		return cmp.Or(cmp.Compare(x.TopM, y.TopM), cmp.Compare(x.BaseM, y.BaseM))
	})
	b.Strikes = slices.Clone(b.Strikes)
	slices.SortStableFunc(b.Strikes, func(x, y Strike) int { return cmp.Compare(x.DepthM, y.DepthM) })
	b.Levels = slices.Clone(b.Levels)
	slices.SortStableFunc(b.Levels, func(x, y Level) int {
		return cmp.Compare(x.On.Or(Date{}).String(), y.On.Or(Date{}).String())
	})
	if b.Outcome == "" {
		b.Outcome = OutcomeUnknown
	}
	if b.Method == "" {
		b.Method = MethodUnknown
	}
	return b, nil
}

func checkBore(b Bore) error {
	if err := uuid.Validate(string(b.ID)); err != nil {
		return fmt.Errorf("id %q: %w", b.ID, err)
	}
	if b.Outcome != "" && !slices.Contains(Outcomes(), b.Outcome) {
		return fmt.Errorf("outcome %q is not one of %v", b.Outcome, Outcomes())
	}
	for field, depth := range b.depths() {
		if err := checkDepth(field, depth); err != nil {
			return err
		}
	}
	if y, ok := b.YieldLPS.Get(); ok && !(y >= 0 && y < 1000) {
		return fmt.Errorf("yieldLps %v is not in [0, 1000)", y)
	}
	return checkParts(b)
}

// depths yields every single depth of the record with its field name.
func (b Bore) depths() func(yield func(string, float64) bool) {
	return func(yield func(string, float64) bool) {
		if d, ok := b.DepthM.Get(); ok && !yield("depthM", d) {
			return
		}
		if d, ok := b.RefusalM.Get(); ok && !yield("refusalM", d) {
			return
		}
		for _, s := range b.Strikes {
			if !yield("strikes", s.DepthM) {
				return
			}
		}
	}
}

func checkParts(b Bore) error {
	for i, l := range b.Layers {
		if err := checkLayer(l); err != nil {
			return fmt.Errorf("layer %d: %w", i+1, err)
		}
	}
	for i, l := range b.Levels {
		if err := checkLevel(l); err != nil {
			return fmt.Errorf("level %d: %w", i+1, err)
		}
	}
	for i, p := range b.Pipes {
		if err := checkInterval(p.TopM, p.BaseM); err != nil {
			return fmt.Errorf("pipe %d: %w", i+1, err)
		}
	}
	for i, f := range b.Fills {
		if err := checkInterval(f.TopM, f.BaseM); err != nil {
			return fmt.Errorf("fill %d: %w", i+1, err)
		}
	}
	return nil
}

func checkLayer(l Layer) error {
	if err := checkInterval(l.TopM, l.BaseM); err != nil {
		return err
	}
	if !(l.Confidence >= 0 && l.Confidence <= 1) {
		return fmt.Errorf("confidence %v is not in [0, 1]", l.Confidence)
	}
	if m, ok := l.MinutesPerM.Get(); ok && !(m > 0 && !math.IsInf(m, 0)) {
		return fmt.Errorf("minutesPerM %v is not positive", m)
	}
	return nil
}

func checkLevel(l Level) error {
	depth, known := l.DepthM.Get()
	switch l.State {
	case LevelRest, LevelDryTo:
		if !known {
			return fmt.Errorf("a %q level needs a depth", l.State)
		}
	case LevelFlowing:
	default:
		return fmt.Errorf("level state %q is not one of %q, %q, %q", l.State, LevelRest, LevelFlowing, LevelDryTo)
	}
	if known && !(depth >= -maxRiseM && depth <= maxDepthM) {
		return fmt.Errorf("level %v m is not in [%d, %d]", depth, -maxRiseM, maxDepthM)
	}
	return nil
}

func checkInterval(top, base float64) error {
	if err := checkDepth("topM", top); err != nil {
		return err
	}
	if err := checkDepth("baseM", base); err != nil {
		return err
	}
	if !(top < base) {
		return fmt.Errorf("top %v m is not above base %v m", top, base)
	}
	return nil
}

func checkDepth(field string, d float64) error {
	if !(d >= 0 && d <= maxDepthM) {
		return fmt.Errorf("%s %v m is not in [0, %d]", field, d, maxDepthM)
	}
	return nil
}

// NewVillage checks v: it needs an id, a name and a count of people that is not negative.
func NewVillage(v Village) (Village, error) {
	if err := uuid.Validate(string(v.ID)); err != nil {
		return Village{}, Fail(Invalid, "geo.NewVillage", Message{}, err)
	}
	if v.Name == "" || v.People.Or(0) < 0 {
		return Village{}, Fail(Invalid, "geo.NewVillage", Message{},
			fmt.Errorf("village %s needs a name and a count of people that is not negative", v.ID))
	}
	return v, nil
}

// NewWaterPoint checks w and puts its visits in order.
func NewWaterPoint(w WaterPoint) (WaterPoint, error) {
	if err := uuid.Validate(string(w.ID)); err != nil {
		return WaterPoint{}, Fail(Invalid, "geo.NewWaterPoint", Message{}, err)
	}
	if d, ok := w.DepthM.Get(); ok {
		if err := checkDepth("depthM", d); err != nil {
			return WaterPoint{}, Fail(Invalid, "geo.NewWaterPoint", Message{}, err)
		}
	}
	if w.Kind == "" {
		w.Kind = PointUnknown
	}
	w.Visits = slices.Clone(w.Visits)
	slices.SortStableFunc(w.Visits, func(x, y Visit) int { return cmp.Compare(x.On.String(), y.On.String()) })
	return w, nil
}
