package intake

import (
	"context"
	"errors"
	"io"
	"io/fs"
	"slices"
	"strings"

	"waterstrike/geo"
)

// RowsAt reads rows of a table again by their number, 1 for the first, so that they can be
// shown beside what is wrong with them: the names of the columns, and the cells by number.
// A row that cannot be read is missing. [geo.Invalid] where the file cannot be opened.
func RowsAt(ctx context.Context, files fs.FS, t Table, numbers []int) (header []string, cells map[int][]string, err error) {
	rows, err := Open(files, t)
	if err != nil {
		return nil, nil, geo.Fail(geo.Invalid, "intake.RowsAt", geo.Message{}, err)
	}
	defer func() { err = errors.Join(err, rows.Close()) }()
	header, cells = slices.Clone(rows.Header()), map[int][]string{}
	last := slices.Max(append([]int{0}, numbers...))
	for n := 1; n <= last; n++ {
		row, err := rows.Next()
		var bad *RowError
		switch {
		case errors.Is(err, io.EOF):
			return header, cells, nil
		case err != nil && !errors.As(err, &bad):
			return header, cells, err
		}
		if err == nil && slices.Contains(numbers, n) {
			cells[n] = copied(row)
		}
		if n%every == 0 && ctx.Err() != nil {
			return header, cells, ctx.Err()
		}
	}
	return header, cells, nil
}

// copied keeps a row beyond the next one.
func copied(row []string) []string {
	out := make([]string, len(row))
	for i, cell := range row {
		out[i] = strings.Clone(cell)
	}
	return out
}
