package publish

import (
	"fmt"
	"path"
	"slices"
	"strings"

	"waterstrike/geo"
)

// taker takes a row of one kind of file. A [fault] is the row's, any other error the end.
type taker func(*reader, *row) error

// form is one kind of file that can be read back.
type form struct {
	columns []string
	mark    string // a column that tells it from other features, which is always filled
	take    taker
}

// forms are the kinds of files by name.
func forms() map[string]form {
	return map[string]form{
		"bores":         recordForm("outcome", append(boreColumns(), boreParts()...), (*reader).bore),
		"villages":      recordForm("name", villageColumns(), (*reader).village),
		"water_points":  recordForm("kind", append(waterPointColumns(), waterPointParts()...), (*reader).waterPoint),
		"layers":        partForm(layerColumns(), func(b *geo.Bore, l geo.Layer) { b.Layers = []geo.Layer{l} }),
		"strikes":       partForm(strikeColumns(), func(b *geo.Bore, s geo.Strike) { b.Strikes = []geo.Strike{s} }),
		"levels":        partForm(levelColumns(), func(b *geo.Bore, l geo.Level) { b.Levels = []geo.Level{l} }),
		"pipes":         partForm(pipeColumns(), func(b *geo.Bore, p geo.Pipe) { b.Pipes = []geo.Pipe{p} }),
		"fills":         partForm(fillColumns(), func(b *geo.Bore, f geo.Fill) { b.Fills = []geo.Fill{f} }),
		"samples":       partForm(sampleColumns(), func(b *geo.Bore, s geo.Sample) { b.Samples = []geo.Sample{s} }),
		"tests":         testForm(),
		"test_readings": childForm(ofTest[geo.TestReading], testReadingColumns(), testKey, func(in *reader) children[geo.TestReading] { return in.readings }),
		"visits":        childForm(ofPoint, visitColumns(), pointKey, func(in *reader) children[geo.Visit] { return in.visits }),
	}
}

// takerOf finds what a file holds by its name, or by its columns where somebody renamed a
// file of features.
func takerOf(name string, r *row) (taker, error) {
	all := forms()
	if f, named := all[strings.TrimSuffix(path.Base(name), path.Ext(name))]; named {
		return f.take, f.knows(r.columns)
	}
	if !r.table {
		for _, kind := range []string{"bores", "water_points", "villages"} {
			if f := all[kind]; f.knows(r.columns) == nil && slices.Contains(r.columns, f.mark) {
				return f.take, nil
			}
		}
	}
	return nil, ErrForeign
}

// knows refuses columns that no export writes, and files without ids.
func (f form) knows(columns []string) error {
	for _, c := range columns {
		if !slices.Contains(f.columns, c) {
			return fmt.Errorf("column %q: %w", c, ErrForeign)
		}
	}
	if !slices.Contains(columns, f.columns[0]) {
		return fmt.Errorf("no column %q: %w", f.columns[0], ErrForeign)
	}
	return nil
}
