package welldesign

import "math"

// Slots are the cuts of a hand-sawn screen and what they let through.
type Slots struct {
	Cuts       int     `json:"cuts"`       // in all; none in a factory screen
	EveryMM    float64 `json:"everyMM"`    // along the pipe
	LengthMM   float64 `json:"lengthMM"`   // of one, around the pipe
	OpenShare  float64 `json:"openShare"`  // of the screen's face
	EntranceMS float64 `json:"entranceMS"` // water's speed through what is left open
	TooFast    bool    `json:"tooFast"`
}

// slots counts the cuts of the screen,
//
//	cuts = rows · length / spacing,  open = cuts · slot · share · circumference,
//
// or takes the open share of a factory screen, and the speed of the wanted discharge through the share of it that stays open.
//
// Source: three rows of a fifth of the circumference (Lifewater manual, screen); 0.03 m/s
// (US Army TM 5-813-1); half clogged (common practice, no source).
func (r Rules) slots(w Well) Slots {
	s := r.Screen
	lengthM := w.ScreenM[1] - w.ScreenM[0]
	around := math.Pi * w.Casing.OutsideMM
	every := s.SlotEvery.Value
	perRow := math.Floor(lengthM*1000/every + slackM)
	out := Slots{OpenShare: s.Factory.Value}
	if w.Filter.ByHand {
		out = Slots{
			Cuts: int(perRow * s.Rows.Value), EveryMM: every, LengthMM: s.RowShare.Value * around,
			OpenShare: s.Rows.Value * s.RowShare.Value * w.Filter.SlotMM / every,
		}
	}
	openM2 := out.OpenShare * around / 1000 * lengthM * s.Open.Value
	out.EntranceMS = r.Yield.Wanted.Value / 1000 / openM2
	out.TooFast = out.EntranceMS > s.Entrance.Value
	return out
}
