package welldesign

import (
	"time"

	"waterstrike/geo"
)

// Return is what goes back to the authority after a bore, a failed one too.
type Return struct {
	Due     geo.Opt[geo.Date] `json:"due,omitzero"` // where the day of completion is known
	Present []geo.Code        `json:"present,omitempty"`
	Absent  []geo.Code        `json:"absent,omitempty"` // that the record does not hold yet
}

// ReturnOf tells which parts of a return a record already holds, and when it is due.
//
// Source: content of log returns (RWSN Code of Practice 2010, from memory); 30 days are
// usual and the country's rule comes first.
func ReturnOf(b geo.Bore, r *Rules) Return {
	var out Return
	if done, known := b.Completed.Get(); known && done.Day != 0 {
		day := time.Date(done.Year, time.Month(done.Month), done.Day, 0, 0, 0, 0, time.UTC)
		out.Due = geo.Some(geo.DateOf(day.AddDate(0, 0, int(r.After.Return.Value))))
	}
	for _, part := range []struct {
		code    geo.Code
		present bool
	}{
		{"return.position", b.Position.Known()},
		{"return.dates", b.Started.Known() && b.Completed.Known()},
		{"return.driller", b.Driller != ""},
		{"return.method", b.Method != geo.MethodUnknown && b.Method != ""},
		{"return.outcome", b.Outcome != geo.OutcomeUnknown && b.Outcome != ""},
		{"return.depth", b.DepthM.Known()},
		{"return.log", len(b.Layers) > 0},
		{"return.strikes", len(b.Strikes) > 0 || b.Outcome == geo.Dry},
		{"return.level", len(b.Levels) > 0},
		{"return.pipes", len(b.Pipes) > 0 || b.Outcome != geo.Producing},
		{"return.fills", len(b.Fills) > 0},
		{"return.test", len(b.Tests) > 0 || b.Outcome != geo.Producing},
		{"return.quality", len(b.Samples) > 0 || b.Outcome != geo.Producing},
	} {
		if part.present {
			out.Present = append(out.Present, part.code)
		} else {
			out.Absent = append(out.Absent, part.code)
		}
	}
	return out
}
