package intake

import "waterstrike/geo"

// Sink takes what an intake reads. Keys are the data set's own; the id of a bore is
// [BoreID] of its key. An error from any method ends the intake.
type Sink interface {
	// AddBore takes a new bore, before any of its parts.
	AddBore(key string, b geo.Bore) error
	// AddPart takes a part of the bore with that key, read in that row of that file: a
	// [geo.Layer], [geo.Level], [geo.Strike], [geo.Pipe], [geo.Fill], [geo.Sample] or
	// [geo.PumpTest].
	AddPart(key, file string, row int, part any) error
	// AddVillage takes a village.
	AddVillage(geo.Village) error
	// AddWaterPoint takes a water point with all its visits.
	AddWaterPoint(geo.WaterPoint) error
	// AddIssue takes one doubtful value or row.
	AddIssue(geo.Issue) error
	// CountRow counts one row of a file as read, whatever became of it.
	CountRow(file string)
}
