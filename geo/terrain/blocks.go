package terrain

import "sync"

// DefaultCacheBytes is how much of its files a [File] or [Mosaic] keeps in memory.
const DefaultCacheBytes = 64 << 20

// blocks keeps the blocks last asked for, of any number of files, up to a size; at least
// the very last one.
type blocks struct {
	mu     sync.Mutex
	limit  int
	bytes  int
	clock  uint64
	kept   map[blockKey]*block
	faults map[*File]error
}

type blockKey struct {
	file     *File
	row, col int
}

// block is what was read; z is nil where that failed.
type block struct {
	key  blockKey
	z    []float32
	used uint64
}

func newBlocks(limit int) *blocks {
	return &blocks{limit: limit, kept: map[blockKey]*block{}, faults: map[*File]error{}}
}

// get returns a block, reading it if it is not kept. One block is read at a time, so that
// no two readers hold a large one twice.
func (c *blocks) get(key blockKey) *block {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.clock++
	if b := c.kept[key]; b != nil {
		b.used = c.clock
		return b
	}
	z, err := key.file.src.block(key.row, key.col)
	if err != nil && c.faults[key.file] == nil {
		c.faults[key.file] = refuse(key.file.name, err)
	}
	b := &block{key, z, c.clock}
	c.kept[key] = b
	c.bytes += 4 * len(z)
	for c.bytes > c.limit && len(c.kept) > 1 {
		c.drop()
	}
	return b
}

// drop forgets the block not asked for the longest; each has its own time, so the order
// of the map does not matter.
func (c *blocks) drop() {
	var oldest *block
	for _, b := range c.kept {
		if oldest == nil || b.used < oldest.used {
			oldest = b
		}
	}
	c.bytes -= 4 * len(oldest.z)
	delete(c.kept, oldest.key)
}

func (c *blocks) fault(f *File) error {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.faults[f]
}
