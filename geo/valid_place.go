package geo

import (
	"cmp"
	"fmt"
)

// NewVillage checks v: it needs an id, a name, a position on the globe and a count of
// people that is not negative. A failure is an [Invalid] error that names the field.
func NewVillage(v Village) (Village, error) {
	err := cmp.Or(
		checkID("id", string(v.ID)),
		checkThere("name", v.Name),
		checkMaybe("position", Some(v.Position), checkReading),
		checkMaybe("people", v.People, checkCount),
	)
	if err != nil {
		return Village{}, Fail(Invalid, "geo.NewVillage", Message{}, err)
	}
	return v, nil
}

// NewWaterPoint checks w and puts its visits in order of their dates. A missing kind
// becomes [PointUnknown]. A failure is an [Invalid] error that names the field.
func NewWaterPoint(w WaterPoint) (WaterPoint, error) {
	w.Kind = cmp.Or(w.Kind, PointUnknown)
	err := cmp.Or(
		checkID("id", string(w.ID)),
		checkCode("kind", w.Kind, PointUnknown, TubeWell, DugWell, Spring, OpenWater, PipedPoint),
		checkMaybe("position", Some(w.Position), checkReading),
		checkMaybe("depthM", w.DepthM, depth.check),
		checkMaybe("users", w.Users, checkCount),
		checkEach("visit", w.Visits, checkVisit),
	)
	if err != nil {
		return WaterPoint{}, Fail(Invalid, "geo.NewWaterPoint", Message{}, err)
	}
	w.Visits = inOrder(w.Visits, func(x, y Visit) int { return x.On.Compare(y.On) })
	return w, nil
}

func checkVisit(v Visit) error {
	var on error
	if v.On != (Date{}) {
		on = checkMaybe("on", Some(v.On), checkDate)
	}
	return cmp.Or(on, checkMaybe("levelM", v.LevelM, level.check))
}

func checkCount(n int) error {
	if n < 0 {
		return fmt.Errorf("%d is negative", n)
	}
	return nil
}
