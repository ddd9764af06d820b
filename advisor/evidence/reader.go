package evidence

import (
	"strings"

	"waterstrike/geo"
)

// reader turns records into evidence. Many bores share a block of memory for their parts,
// which takes less room and far less work from the garbage collector than a piece for
// each; and one copy of each code, for a million bores share a few.
type reader struct {
	block  int // how many bores share a block
	codes  map[string]string
	bores  []Bore
	layers []Layer
	levels []Level
	text   *strings.Builder
}

// perBore is what a bore usually takes of a block of layers and of text.
const (
	layersPerBore = 6
	bytesPerBore  = 48
)

func newReader(block int) *reader {
	return &reader{block: block, codes: map[string]string{}, text: new(strings.Builder)}
}

// take cuts n pieces from a block, or from a new one when it is used up; nil for none.
func take[T any](block *[]T, n, size int) []T {
	if n == 0 {
		return nil
	}
	if len(*block) < n {
		*block = make([]T, max(n, size))
	}
	out := (*block)[:n:n]
	*block = (*block)[n:]
	return out
}

// read returns what is kept of a record; nil when it has no position.
func (r *reader) read(b geo.Bore) *Bore {
	position, ok := b.Position.Get()
	if !ok {
		return nil
	}
	out := &take(&r.bores, 1, r.block)[0]
	*out = Bore{
		ID: geo.BoreID(r.copied(string(b.ID))), Label: r.copied(b.Label()), Pos: position.Pos,
		Method: geo.Method(r.code(string(b.Method))), Outcome: geo.Outcome(r.code(string(b.Outcome))),
		Completed: b.Completed.Or(geo.Date{}), DepthM: b.DepthM, RefusalM: b.RefusalM, YieldLPS: b.YieldLPS, Screen: screenOf(b),
		Layers: take(&r.layers, len(b.Layers), r.block*layersPerBore),
	}
	for i, l := range b.Layers {
		out.Layers[i] = Layer{float32(l.TopM), float32(l.BaseM), l.Class, l.Grade, l.Clayey}
	}
	if len(b.Tests) > 0 {
		out.Tested = testedOf(b)
	}
	if len(b.Samples) > 0 {
		out.Water = foundIn(b.Samples)
	}
	l, deep, ok := levelOf(b)
	out.Deep = deep
	if ok {
		l.State = geo.LevelState(r.code(string(l.State)))
		out.Levels = take(&r.levels, 1, r.block)
		out.Levels[0] = l
	}
	return out
}

// code returns the one copy of a code.
func (r *reader) code(s string) string {
	if known, ok := r.codes[s]; ok {
		return known
	}
	s = strings.Clone(s)
	r.codes[s] = s
	return s
}

// copied returns a copy in the block of text, so that nothing of the record is held.
func (r *reader) copied(s string) string {
	if r.text.Cap()-r.text.Len() < len(s) {
		r.text = new(strings.Builder)
		r.text.Grow(max(len(s), r.block*bytesPerBore))
	}
	start := r.text.Len()
	r.text.WriteString(s)
	return r.text.String()[start:]
}
