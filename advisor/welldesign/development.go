package welldesign

import (
	"math"

	"waterstrike/geo"
)

// Development tells how a design that fits is washed, and what it must give before it is
// taken over.
//
// Source: 2-6 h of surging and bailing until 5 NTU and 1 mL of sand in 20 L, pumping at
// 1.5-2 times the duty (common practice, no source); test at 1.25 times the wanted rate (an
// article on bore wells, read); acceptance by the rule in force; cement through a pipe from the bottom up
// (ASTM D5092, Driscoll 1986, from memory).
func Development(w Well, r *Rules) []geo.Message {
	if w.Verdict != Fits {
		return nil
	}
	work, y := r.Work, r.Yield
	wanted := y.Wanted.Value
	return []geo.Message{
		geo.Say("develop.before-sealing"),
		geo.Say("develop.surge", geo.With("amount", geo.Number(work.Develop.Lo)), geo.With("amount-to", geo.Number(work.Develop.Hi))),
		geo.Say("develop.until", geo.With("amount", geo.Number(work.Clear.Value)), geo.With("amount-to", geo.Number(work.Sand.Value)),
			geo.With("n", geo.Count(int(work.Bucket.Value+0.5)))),
		geo.Say("develop.over-pump", geo.With("yield", geo.LPS(wanted*(work.OverPump.Lo+work.OverPump.Hi)/2))),
		geo.Say("develop.top-up"),
		geo.Say("develop.place-seal"),
		geo.Say("develop.dummy", metres("length", r.After.Dummy.Value), geo.With("n", geo.Count(int(w.Casing.InsideMM-3)))),
		geo.Say("develop.test", geo.With("yield", geo.LPS(wanted*y.TestFactor.Value)), geo.With("amount", geo.Number(y.TestHours.Value))),
		geo.Say("develop.accept", geo.With("yield", geo.LPS(y.Acceptance.Value()/60)), geo.With("amount", geo.Number(y.TestHours.Value)),
			geo.With("n", geo.Count(int(math.Round(y.Acceptance.Value()*60/work.Bucket.Value)))), geo.With("total", geo.Count(int(work.Bucket.Value+0.5)))),
		geo.Say("develop.driest-month"),
	}
}
