package index

// blockSize is how many entries are copied when one of them changes.
const blockSize = 256

type block [blockSize]Entry

// slots keeps entries under small integers in blocks that several indexes share.
type slots struct {
	blocks []*block
	used   int32 // slots ever given out
}

func newSlots(entries []Entry) slots {
	s := slots{used: int32(len(entries))}
	for len(entries) > 0 {
		b := new(block)
		entries = entries[copy(b[:], entries):]
		s.blocks = append(s.blocks, b)
	}
	return s
}

func (s *slots) at(slot int32) *Entry { return &s.blocks[slot/blockSize][slot%blockSize] }

// editor changes a copy of slots; a block is copied before its first change.
type editor struct {
	slots
	own map[int32]bool // blocks already copied
}

func edit(s slots) *editor {
	e := &editor{slots: s, own: map[int32]bool{}}
	e.blocks = append([]*block(nil), s.blocks...)
	return e
}

func (e *editor) set(slot int32, entry Entry) {
	i := slot / blockSize
	for int(i) >= len(e.blocks) {
		e.blocks = append(e.blocks, new(block))
		e.own[int32(len(e.blocks)-1)] = true
	}
	if !e.own[i] {
		copied := *e.blocks[i]
		e.blocks[i], e.own[i] = &copied, true
	}
	e.blocks[i][slot%blockSize] = entry
	e.used = max(e.used, slot+1)
}
