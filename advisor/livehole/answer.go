package livehole

import (
	"sync"

	"waterstrike/geo"
)

// AnswerSchema names the form of [Answer].
const AnswerSchema = "waterstrike.holeanswer.1"

// Answer is what is thought of a hole once its log is read.
type Answer struct {
	Schema  string      `json:"schema"`
	DepthM  float64     `json:"depthM"`
	Odds    [][]float64 `json:"odds"`    // of each cell below the bottom, by class
	Water   Water       `json:"water"`   //
	Methods []Outlook   `json:"methods"` // in the pack's order
	Advice  Advice      `json:"advice"`
}

// Outlook is what one method may still bring in this hole.
type Outlook struct {
	Method  geo.Method `json:"method"`
	Chance  float64    `json:"chance"`  // that the hole becomes a lasting water point if it goes on as far as the method does
	Cost    float64    `json:"cost"`    // expected, of drilling as far
	Ready   float64    `json:"ready"`   // that it does as it stands
	Gain    float64    `json:"gain"`    // what going on as long as it pays is worth more than stopping now
	More    [3]More    `json:"more"`    // of 1, 2 and 5 m more
	StopAtM float64    `json:"stopAtM"` // how deep it pays to plan for
}

// Advice is what to do, with its reasons.
type Advice struct {
	Code    geo.Code   `json:"code"`
	Method  geo.Method `json:"method"` // to go on with
	Because []Reason   `json:"because"`
}

// Reason is a code with its number: a chance, or money of the pack's unit.
type Reason struct {
	Code  geo.Code `json:"code"`
	Value float64  `json:"value"`
}

// The advices.
const (
	GoOn     geo.Code = "hole.go-on"
	Close    geo.Code = "hole.close"    // stop, fill the hole, go to the next site
	Complete geo.Code = "hole.complete" // test the yield, and line the hole if it gives enough
	Change   geo.Code = "hole.change"   // go on with another method
)

// Answer reads a log and says what comes next.
//
//   - Domain: a log and a pack that [Log.Check] passes.
//   - Errors: [geo.Invalid] from there.
//   - Cost: see BenchmarkAnswer.
//   - Checked by: TestVectors, TestEnumeration, TestDraws.
func (p *Pack) Answer(l Log) (Answer, error) {
	if err := l.Check(p); err != nil {
		return Answer{}, err
	}
	h := l.cut()
	looks := p.looks(&l, &h)
	a := Answer{Schema: AnswerSchema, DepthM: float64(h.cells) * cellM, Water: p.waterAhead(&h, l.Month, looks)}
	for z := h.cells; z < p.Cells; z++ {
		odds := make([]float64, classes)
		for i := range looks {
			for k, q := range looks[i].odds[z] {
				odds[k] += looks[i].weight * q
			}
		}
		a.Odds = append(a.Odds, odds)
	}
	a.Methods = make([]Outlook, len(p.Methods))
	var working sync.WaitGroup // each method is worked out by itself
	for i := range p.Methods {
		working.Go(func() { a.Methods[i] = p.outlookOf(&p.Methods[i], &h, &l, looks) })
	}
	working.Wait()
	a.Advice = p.advise(&l, &a)
	return a, nil
}

// outlookOf works out what a method may bring; one that does not get on brings nothing.
func (p *Pack) outlookOf(m *Method, h *hole, l *Log, looks []outlook) Outlook {
	out := Outlook{Method: m.Code, Ready: p.readyNow(m, h, looks), StopAtM: float64(h.cells) * cellM}
	for i, cells := range ahead {
		out.More[i].Metres = float64(cells) * cellM
	}
	if l.Refused && m.Code == l.Method {
		return out
	}
	flows := p.drill(m, h, l.Month, looks)
	value := p.stopping(m, flows, h.cells)
	out.Chance, out.Gain = value.chance, value.best+p.Costs.Close
	out.Cost = p.more(m, flows, h.cells, p.Cells).Cost
	for i, cells := range ahead {
		out.More[i] = p.more(m, flows, h.cells, cells)
	}
	best := 0.0
	for cells := 1; h.cells+cells <= p.Cells; cells++ {
		if more := p.more(m, flows, h.cells, cells); more.Gain > best {
			best, out.StopAtM = more.Gain, float64(h.cells+cells)*cellM
		}
	}
	return out
}

// readyNow is the chance that the hole as it stands takes a screen that gives enough, with
// its last cell for the sump.
func (p *Pack) readyNow(m *Method, h *hole, looks []outlook) (ready float64) {
	foot := h.cells - 1
	if h.strike < 0 || foot < 0 {
		return 0
	}
	for band := range p.Yield.Cell {
		b := p.bodies(band)
		for i := range looks {
			t, cells := p.bodyAt(h, b, p.roof(p.Level.Design[i]), foot)
			enough := m.enough(float64(foot)*cellM - p.Screen.CoverM - p.Level.Design[i])
			if cells >= atLeastTwo && t*enough >= 1 {
				ready += looks[i].weight / float64(len(p.Yield.Cell))
			}
		}
	}
	return ready
}
