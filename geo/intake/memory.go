package intake

import (
	"fmt"

	"waterstrike/geo"
)

// Memory is a [Sink] that keeps everything, for tests and small files. The zero value is
// ready.
type Memory struct {
	Bores       []geo.Bore
	Villages    []geo.Village
	WaterPoints []geo.WaterPoint
	Issues      []geo.Issue
	Rows        map[string]int // by file
	byKey       map[string]int
}

// AddBore keeps b.
func (m *Memory) AddBore(key string, b geo.Bore) error {
	if m.byKey == nil {
		m.byKey = map[string]int{}
	}
	if _, twice := m.byKey[key]; twice {
		return geo.Fail(geo.Conflict, "intake.Memory.AddBore", geo.Message{}, fmt.Errorf("bore %q stands there already", key))
	}
	m.byKey[key] = len(m.Bores)
	m.Bores = append(m.Bores, b)
	return nil
}

// Bore returns the bore with that key.
func (m *Memory) Bore(key string) (geo.Bore, bool) {
	at, known := m.byKey[key]
	if !known {
		return geo.Bore{}, false
	}
	return m.Bores[at], true
}

// AddPart keeps a part with its bore.
func (m *Memory) AddPart(key, file string, row int, part any) error {
	at, known := m.byKey[key]
	if !known {
		return geo.Fail(geo.NotFound, "intake.Memory.AddPart", geo.Message{}, fmt.Errorf("%s, row %d: no bore %q", file, row, key))
	}
	b := &m.Bores[at]
	switch p := part.(type) {
	case geo.Layer:
		b.Layers = append(b.Layers, p)
	case geo.Level:
		b.Levels = append(b.Levels, p)
	case geo.Strike:
		b.Strikes = append(b.Strikes, p)
	case geo.Pipe:
		b.Pipes = append(b.Pipes, p)
	case geo.Fill:
		b.Fills = append(b.Fills, p)
	case geo.Sample:
		b.Samples = append(b.Samples, p)
	case geo.PumpTest:
		b.Tests = append(b.Tests, p)
	default:
		return fmt.Errorf("intake: a %T is no part of a bore", part)
	}
	return nil
}

// AddVillage keeps v.
func (m *Memory) AddVillage(v geo.Village) error { m.Villages = append(m.Villages, v); return nil }

// AddWaterPoint keeps w.
func (m *Memory) AddWaterPoint(w geo.WaterPoint) error {
	m.WaterPoints = append(m.WaterPoints, w)
	return nil
}

// AddIssue keeps i.
func (m *Memory) AddIssue(i geo.Issue) error { m.Issues = append(m.Issues, i); return nil }

// CountRow counts one row.
func (m *Memory) CountRow(file string) {
	if m.Rows == nil {
		m.Rows = map[string]int{}
	}
	m.Rows[file]++
}
