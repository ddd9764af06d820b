package intake

import (
	"strings"

	"waterstrike/geo"
)

// point is a water point whose visits may go on in the next row.
type point struct {
	geo.WaterPoint
	key, head string
	rows      map[string]bool // whole rows, to find repeats
}

// waterPoint reads one row of a table of water points: a point, or one more visit to the
// point of the row before.
func (r *run) waterPoint(c *cells) (bool, error) {
	c.record = string(WaterPointID(r.mapping.Dataset, c.key))
	text := strings.Join(c.row, "\x1f")
	if p := r.point; p != nil && p.key == c.key {
		if p.head == c.head() && !p.rows[text] && c.text("visited") != "" {
			p.rows[text] = true
			return p.visit(c), nil
		}
		twice := PointTwice
		if p.rows[text] {
			twice = VisitTwice
		}
		c.reject(twice, c.keyName(), c.key)
		return false, nil
	}
	if err := r.flushPoint(); err != nil {
		return false, err
	}
	at, ok := r.pointPosition(c)
	if !ok {
		return false, nil
	}
	if r.repeated(c, PointTwice) {
		return false, nil
	}
	w, err := geo.NewWaterPoint(geo.WaterPoint{
		ID: geo.WaterPointID(c.record), Name: c.pointName(), Kind: geo.PointKind(c.choice("kind")), Position: at,
		DepthM: c.depth("depth"), Works: c.yesNo("works"), Users: c.count("users"),
		DryMonths: c.months("dryMonths"), Source: r.source(c),
	})
	if err != nil {
		c.reject(InvalidRecord, c.keyName(), err.Error())
		return false, nil
	}
	r.point = &point{w, c.key, c.head(), map[string]bool{text: true}}
	r.point.visit(c)
	return true, nil
}

// visit adds the visit of a row and reports whether there is one: a day, or a level that
// nobody wrote the day of.
func (p *point) visit(c *cells) bool {
	on, dated := c.date("visited").Get()
	v := geo.Visit{On: on, Works: c.yesNo("works"), LevelM: c.depth("level"), Words: c.text("remarks")}
	if !dated && !v.LevelM.Known() {
		return false
	}
	p.Visits = append(p.Visits, v)
	return true
}

// flushPoint hands on the point whose rows have ended; it works if it did at the last
// visit that says so.
func (r *run) flushPoint() error {
	if r.point == nil {
		return nil
	}
	w, err := geo.NewWaterPoint(r.point.WaterPoint)
	r.point = nil
	if err != nil {
		return err
	}
	for _, v := range w.Visits {
		if v.Works.Known() {
			w.Works = v.Works
		}
	}
	r.count.WaterPoints++
	return r.sink.AddWaterPoint(w)
}
