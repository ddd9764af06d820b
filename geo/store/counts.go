package store

import "context"

// Counts is how much a base holds, hidden records apart.
type Counts struct {
	Bores       int `json:"bores"`
	Layers      int `json:"layers"`
	Levels      int `json:"levels"`
	Villages    int `json:"villages"`
	WaterPoints int `json:"waterPoints"`
	Boundaries  int `json:"boundaries"`
	Rivers      int `json:"rivers"`
	Hidden      int `json:"hidden"`
}

// Counts counts the records.
func (b *Base) Counts(ctx context.Context) (Counts, error) {
	var c Counts
	err := b.readers.QueryRowContext(ctx, `SELECT (SELECT count(*) FROM bore), (SELECT count(*) FROM layer),
		(SELECT count(*) FROM level), (SELECT count(*) FROM village), (SELECT count(*) FROM water_point),
		(SELECT count(*) FROM boundary), (SELECT count(*) FROM river), (SELECT count(*) FROM hidden)`).
		Scan(&c.Bores, &c.Layers, &c.Levels, &c.Villages, &c.WaterPoints, &c.Boundaries, &c.Rivers, &c.Hidden)
	return c, fail("store.Counts", err)
}
