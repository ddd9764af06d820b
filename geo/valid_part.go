package geo

import (
	"cmp"
	"errors"
	"fmt"

	"waterstrike/geo/soil"
)

func checkLayer(l Layer) error {
	return cmp.Or(
		checkInterval(l.TopM, l.BaseM),
		checkClass(l),
		share.named("confidence", l.Confidence),
		checkMaybe("minutesPerM", l.MinutesPerM, pace.check),
	)
}

// checkClass refuses numbers that stand for no class or grade.
func checkClass(l Layer) error {
	switch {
	case l.Class > soil.Count:
		return fmt.Errorf("class: %d stands for none; the classes are 0, unknown, to %d", uint8(l.Class), soil.Count)
	case l.Grade > soil.Coarse:
		return fmt.Errorf("grade: %d stands for none; the grades are 0, unknown, to %d", uint8(l.Grade), soil.Coarse)
	}
	return nil
}

func checkStrike(s Strike) error { return depth.named("depthM", s.DepthM) }

// checkLevel lets a level at rest stand above ground, but no hole be dry down to there.
func checkLevel(l Level) error {
	in := level
	if l.State == LevelDryTo {
		in = depth
	}
	return cmp.Or(
		checkCode("state", l.State, LevelRest, LevelFlowing, LevelDryTo),
		checkStated(l),
		checkMaybe("depthM", l.DepthM, in.check),
		checkMaybe("on", l.On, checkDate),
		checkMaybe("referenceM", l.ReferenceM, reference.check),
	)
}

// checkStated refuses a level without a depth, unless the water flows out.
func checkStated(l Level) error {
	if l.State == LevelFlowing || l.DepthM.Known() {
		return nil
	}
	return fmt.Errorf("depthM: missing; a %q level needs it", l.State)
}

func checkPipe(p Pipe) error {
	return cmp.Or(
		checkCode("kind", p.Kind, Casing, Screen, Plug),
		checkInterval(p.TopM, p.BaseM),
		checkMaybe("diameterMm", p.DiameterMM, diameter.check),
		checkMaybe("slotMm", p.SlotMM, diameter.check),
	)
}

func checkFill(f Fill) error {
	return cmp.Or(
		checkCode("kind", f.Kind, Pack, ClaySeal, Grout, Backfill),
		checkInterval(f.TopM, f.BaseM),
	)
}

func checkTest(t PumpTest) error {
	return cmp.Or(
		checkCode("kind", t.Kind, ConstantRate, StepTest, Recovery, BailerTest),
		checkMaybe("on", t.On, checkDate),
		checkMaybe("rateLps", t.RateLPS, testRate.check),
		checkMaybe("hours", t.Hours, hours.check),
		checkMaybe("restM", t.RestM, level.check),
		checkMaybe("pumpingM", t.PumpingM, level.check),
		checkMaybe("bailL", t.BailL, litres.check),
		checkMaybe("halfMin", t.HalfMin, minutes.check),
		checkMaybe("threeQMin", t.ThreeQMin, minutes.check),
		checkEach("reading", t.Readings, checkTestReading),
	)
}

func checkTestReading(r TestReading) error {
	return cmp.Or(
		minutes.named("minutes", r.Minutes),
		level.named("depthM", r.DepthM),
		checkMaybe("rateLps", r.RateLPS, testRate.check),
	)
}

// checkSample refuses a result of nobody knows what.
func checkSample(s Sample) error {
	return cmp.Or(
		checkThere("analyte", s.Analyte),
		checkMaybe("value", s.Value, amount.check),
		checkMaybe("detectionLimit", s.DetectionLimit, limit.check),
		checkMaybe("on", s.On, checkDate),
		checkWaiver(s),
	)
}

// checkWaiver refuses a waiver without a name or a reason, and one beside a result.
func checkWaiver(s Sample) error {
	switch {
	case !s.Waived() && s.Reason != "":
		return errors.New("waivedBy: missing: a waiver needs the name of a person")
	case s.Waived() && s.Reason == "":
		return errors.New("reason: missing: a waiver needs one")
	case s.Waived() && (s.Value.Known() || s.DetectionLimit.Known()):
		return errors.New("waivedBy: there is a result, which nobody can waive")
	}
	return nil
}

func checkInterval(topM, baseM float64) error {
	err := cmp.Or(depth.named("topM", topM), depth.named("baseM", baseM))
	if err == nil && topM >= baseM {
		return fmt.Errorf("topM: %v m is not above baseM %v m", topM, baseM)
	}
	return err
}

func checkThere(field, text string) error {
	if text == "" {
		return fmt.Errorf("%s: missing", field)
	}
	return nil
}
