package strata

// reading is what a model reads in a log, wherever it is asked for.
type reading struct {
	by      *Model // nil where refusal was not read
	layers  []interval
	at      []uint8 // its leaves in the forest; nil where its land is not known
	refusal refusal
}

// refusal is what refused the bit at the end of a log.
type refusal struct {
	cell, above int  // the cell below the end, and the place of the class over it
	odds        *row // of the class; nil where nothing refused it within the model's depth
}

// Read returns a log as the model reads it, at distance 0: where it is near to many points,
// it is read once for all of them.
//
//   - Checked by: TestReadLogsSayTheSame.
func (m *Model) Read(log Log) Near {
	r := m.read(&Near{Log: log})
	r.by, r.refusal = m, m.region.refusedBy(log, m.region.step)
	return Near{Log: log, read: r}
}

// read returns the reading of a log; its refusal only where that was read before.
func (m *Model) read(n *Near) *reading {
	if n.read != nil && n.read.by == m {
		return n.read
	}
	return &reading{layers: n.Log.intervals(), at: m.follows.at(n.Log.Setting)}
}

// Described is that of the log.
func (n *Near) Described() bool {
	if n.read != nil {
		return len(n.read.layers) > 0
	}
	return n.Log.Described()
}
