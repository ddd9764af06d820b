package geo

import (
	"cmp"
	"fmt"
	"slices"
)

// NewBore checks b, puts its layers, strikes and levels in order and returns it; b's own
// lists stay as they were. A missing outcome or method becomes the unknown one.
//
// Every number must be finite and in range, every date real, every code one of its list,
// every interval have TopM < BaseM, every level the depth its state needs. A failure is
// an [Invalid] error that names the field, and the number of the part, counted from 1 in
// the order given. Plausibility across fields (overlaps, a level below the hole) is not
// judged here.
func NewBore(b Bore) (Bore, error) {
	if err := checkBore(b); err != nil {
		return Bore{}, Fail(Invalid, "geo.NewBore", Message{}, err)
	}
	b.Layers = inOrder(b.Layers, func(x, y Layer) int {
		return cmp.Or(cmp.Compare(x.TopM, y.TopM), cmp.Compare(x.BaseM, y.BaseM))
	})
	b.Strikes = inOrder(b.Strikes, func(x, y Strike) int { return cmp.Compare(x.DepthM, y.DepthM) })
	b.Levels = inOrder(b.Levels, func(x, y Level) int { return x.On.Or(Date{}).Compare(y.On.Or(Date{})) })
	b.Outcome = cmp.Or(b.Outcome, OutcomeUnknown)
	b.Method = cmp.Or(b.Method, MethodUnknown)
	return b, nil
}

// inOrder returns a sorted copy; equal parts keep the order they came in.
func inOrder[T any](list []T, order func(x, y T) int) []T {
	list = slices.Clone(list)
	slices.SortStableFunc(list, order)
	return list
}

func checkBore(b Bore) error {
	return cmp.Or(
		checkID("id", string(b.ID)),
		checkMaybe("position", b.Position, checkReading),
		checkMaybe("ground", b.Ground, checkElevation),
		checkMaybe("started", b.Started, checkDate),
		checkMaybe("completed", b.Completed, checkDate),
		checkCode("outcome", cmp.Or(b.Outcome, OutcomeUnknown), Outcomes()...),
		checkMaybe("depthM", b.DepthM, depth.check),
		checkMaybe("refusalM", b.RefusalM, depth.check),
		checkMaybe("yieldLps", b.YieldLPS, yield.check),
		checkMaybe("cost", b.Cost, checkMoney),
		checkEach("layer", b.Layers, checkLayer),
		checkEach("strike", b.Strikes, checkStrike),
		checkEach("level", b.Levels, checkLevel),
		checkEach("pipe", b.Pipes, checkPipe),
		checkEach("fill", b.Fills, checkFill),
		checkEach("test", b.Tests, checkTest),
		checkEach("sample", b.Samples, checkSample),
	)
}

// checkEach checks a list and names the first bad one by its place, from 1.
func checkEach[T any](name string, list []T, check func(T) error) error {
	for i, v := range list {
		if err := check(v); err != nil {
			return fmt.Errorf("%s %d: %w", name, i+1, err)
		}
	}
	return nil
}

// checkMaybe checks a value that may be missing.
func checkMaybe[T any](field string, o Opt[T], check func(T) error) error {
	v, known := o.Get()
	if !known {
		return nil
	}
	if err := check(v); err != nil {
		return fmt.Errorf("%s: %w", field, err)
	}
	return nil
}
