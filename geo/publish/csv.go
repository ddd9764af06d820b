package publish

import (
	"context"
	"encoding/csv"
	"io"
)

// CSVType is the media type of what the CSV writers write (RFC 4180, section 3).
const CSVType = "text/csv; charset=utf-8; header=present"

// CSVFiles are the tables of all records but boundaries and rivers, whose shapes no table
// holds: one row a record, and one row a part with the id of what it belongs to.
func CSVFiles() []File {
	all := tables()
	out := make([]File, len(all))
	for i, t := range all {
		out[i] = File{t.name + ".csv", t.csv}
	}
	return out
}

// csv writes a header and a row for everything that the table holds.
func (t table) csv(ctx context.Context, w io.Writer, src Source) error {
	out := csv.NewWriter(w)
	out.UseCRLF = true // RFC 4180, section 2, rule 1
	cells := make([]string, len(t.heads))
	for i, h := range t.heads {
		cells[i] = h.name
	}
	err := out.Write(cells)
	if err == nil {
		err = t.each(ctx, src, func(row []value) error {
			for i, v := range row {
				cells[i] = v.cell()
			}
			return out.Write(cells)
		})
	}
	if err != nil {
		return err
	}
	out.Flush()
	return out.Error()
}
