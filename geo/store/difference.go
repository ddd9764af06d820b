package store

import "waterstrike/geo"

// Standing is how a record of a file stands to the base.
type Standing string

// The standings that are told; a record that is as it was is only counted.
const (
	StandsNew     Standing = "new"     // an earlier version of the file had it not
	StandsChanged Standing = "changed" // the file's values are taken, but for those told as kept
	StandsKept    Standing = "kept"    // only values that were changed by hand since differ: they stay
	StandsHidden  Standing = "hidden"  // deleted here, different in the file: it stays hidden
	StandsAbsent  Standing = "absent"  // an earlier version of the file had it; it stays
)

// Difference is what an import finds of one record that is not as it was.
type Difference struct {
	Record   string        `json:"record"`
	Layer    string        `json:"layer"` // bore, village, water_point, boundary or river
	Standing Standing      `json:"standing"`
	Message  geo.Message   `json:"message"`          // names the record and how it stands
	Fields   []geo.Message `json:"fields,omitempty"` // each value that differs, former and new
}

// differenceOf names a record. Its file and row are those of the file now, or for a
// record that is absent those of the file before.
func differenceOf[T any](r record[T], v *T, is Standing, fields []geo.Message) Difference {
	from := r.source(v)
	return Difference{
		Record: r.id(v), Layer: r.name, Standing: is, Fields: fields,
		Message: geo.Say(geo.Code("difference.record-"+is), geo.With("table", tableName(r.name)), geo.With("bore", geo.Text(r.label(v))),
			geo.With("file", geo.Text(from.File)), geo.With("row", geo.Count(from.Row))),
	}
}
