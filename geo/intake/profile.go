package intake

import (
	"context"
	"errors"
	"io"
	"io/fs"
	"strings"
)

const (
	maxLooked = 100_000 // rows of a file that a proposal looks at
	maxTexts  = 20_000  // different texts of a column that are told apart
	maxSample = 2_000   // different texts that tell how a column is written
)

// profile is what stands in one column.
type profile struct {
	heading
	at     int
	filled int            // cells that hold anything but a mark for "not known"
	times  map[string]int // how often each text stands
	sample []string       // the first different texts
	full   bool           // more different texts than were told apart
}

// looked is a file as a proposal sees it.
type looked struct {
	file    string
	sheet   string
	rows    int
	columns []*profile
	missing []string // marks for "not known" that stand in it
	how     reading
	text    bool
}

// marks stand for "not known" wherever they are the whole cell; common practice.
var marks = []string{
	"NA", "N/A", "n/a", "na", "-", "--", "?", "NULL", "null", "None", "NaN", "nan", "nd", "ND", "n.d.", "s.d.", "s/d",
	"UNK", "#N/A",
}

func lookAt(ctx context.Context, files fs.FS, t Table) (l looked, err error) {
	rows, err := Open(files, t)
	if err != nil {
		return l, err
	}
	defer func() { err = errors.Join(err, rows.Close()) }()
	l = looked{file: t.File, sheet: t.Sheet}
	if text, is := rows.(interface{ howRead() reading }); is {
		l.how, l.text = text.howRead(), true
	}
	for i, name := range rows.Header() {
		l.columns = append(l.columns, &profile{heading: headingOf(name), at: i, times: map[string]int{}})
	}
	found := map[string]bool{}
	for l.rows < maxLooked {
		row, err := rows.Next()
		var bad *RowError
		switch {
		case errors.Is(err, io.EOF):
			l.settleMissing(found)
			return l, nil
		case errors.As(err, &bad):
			continue
		case err != nil:
			return l, err
		}
		if l.rows++; l.rows%every == 0 && ctx.Err() != nil {
			return l, ctx.Err()
		}
		l.take(row, found)
	}
	l.settleMissing(found)
	return l, nil
}

func (l *looked) take(row []string, found map[string]bool) {
	for i, cell := range row[:min(len(row), len(l.columns))] {
		cell = strings.TrimSpace(cell)
		if isMark(cell) {
			found[cell] = true
		} else if cell != "" {
			l.columns[i].take(cell)
		}
	}
}

func isMark(cell string) bool {
	for _, m := range marks {
		if cell == m {
			return true
		}
	}
	return false
}

func (p *profile) take(cell string) {
	p.filled++
	if p.times[cell]++; p.times[cell] > 1 {
		return
	}
	if len(p.sample) < maxSample {
		p.sample = append(p.sample, strings.Clone(cell))
	}
	if len(p.times) > maxTexts {
		delete(p.times, cell)
		p.full = true
	}
}

func (l *looked) settleMissing(found map[string]bool) {
	for _, m := range marks {
		if found[m] {
			l.missing = append(l.missing, m)
		}
	}
}

// share returns the share of a column's cells that a test accepts, among its sample.
func (p *profile) share(accepts func(string) bool) float64 {
	n, all := 0, 0
	for _, text := range p.sample {
		times := max(p.times[text], 1)
		all += times
		if accepts(text) {
			n += times
		}
	}
	if all == 0 {
		return 0
	}
	return float64(n) / float64(all)
}

// different returns the share of the filled cells that no other repeats.
func (p *profile) different() float64 {
	if p.filled == 0 {
		return 0
	}
	if p.full {
		return 1
	}
	return float64(len(p.times)) / float64(p.filled)
}

// within returns the share of the different texts of p that stand in other.
func (p *profile) within(other *profile) float64 {
	n := 0
	for text := range p.times {
		if other.times[text] > 0 {
			n++
		}
	}
	if len(p.times) == 0 {
		return 0
	}
	return float64(n) / float64(len(p.times))
}
