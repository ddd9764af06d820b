package trust

import (
	"context"

	"waterstrike/advisor"
	"waterstrike/advisor/evidence"
	"waterstrike/advisor/strata"
	"waterstrike/geo"
	"waterstrike/geo/soil"

	"golang.org/x/sync/errgroup"
)

// witness is everybody who is asked, over a snapshot from which a fold is hidden.
type witness struct {
	run      *run
	advisor  *advisor.Advisor
	levels   *levelTellers
	layers   *layerTellers
	outcomes *outcomeTellers
}

// witness returns who knows everything but a fold, fitted anew. By bore the fits of the
// whole are kept: one bore among many moves them little, and a fit for each would take all
// night.
func (r *run) witness(ctx context.Context, f *fold) (*witness, error) {
	if f.witness != nil {
		return f.witness, nil
	}
	rest, err := r.snapshot.Without(f.hidden)
	if err != nil {
		return nil, err
	}
	if r.split == ByBore {
		return r.whole.over(rest), nil
	}
	f.witness, err = r.fitted(ctx, rest)
	return f.witness, err
}

// fitted fits everybody to a snapshot, side by side.
func (r *run) fitted(ctx context.Context, s *evidence.Snapshot) (*witness, error) {
	w := &witness{run: r, layers: newLayerTellers(s), outcomes: newOutcomeTellers(s)}
	parts, ctx := errgroup.WithContext(ctx)
	parts.Go(func() (err error) {
		w.advisor, err = advisor.New(ctx, s, r.rules, "")
		return err
	})
	parts.Go(func() (err error) {
		w.levels, err = newLevelTellers(s)
		return err
	})
	if err := parts.Wait(); err != nil {
		return nil, err
	}
	return w, nil
}

// over returns the same tellers with their fits over another snapshot.
func (w *witness) over(s *evidence.Snapshot) *witness {
	levels, layers, outcomes := *w.levels, *w.layers, *w.outcomes
	levels.snapshot, layers.snapshot, outcomes.snapshot = s, s, s
	return &witness{run: w.run, advisor: w.advisor.Over(s), levels: &levels, layers: &layers, outcomes: &outcomes}
}

func (w *witness) answer(ctx context.Context, b *evidence.Bore, block int) (a answer, err error) {
	a.asked = true
	p := w.advisor.At(b.Pos)
	c := Case{ID: b.ID, Label: b.Label, At: b.Pos, Block: block}
	if err = w.level(&a, p, b, c); err != nil {
		return a, err
	}
	if evidence.HasLayers(b) {
		a.layers = w.column(p, b, c)
	}
	if w.run.byHand(b) {
		a.outcome, err = w.outcome(ctx, p, b, c)
	}
	return a, err
}

func (w *witness) level(a *answer, p *advisor.Place, b *evidence.Bore, c Case) error {
	if !evidence.HasLevel(b) || b.Levels[0].State == geo.LevelFlowing {
		return nil
	}
	said, ok, err := p.Level()
	if err != nil || !ok {
		return err
	}
	l := b.Levels[0]
	reading := said.Reading(l.On(), l.Any)
	if l.State == geo.LevelDryTo {
		below := reading.Below(float64(l.DepthM))
		a.dry = &below
		return nil
	}
	others, ok, err := w.levels.say(b.Pos)
	if err != nil || !ok {
		return err
	}
	a.level = &LevelCase{
		Case: c, FoundM: float64(l.DepthM),
		Said: append([]Forecast{forecastOf(reading.Quantile)}, others...),
	}
	return nil
}

func (w *witness) column(p *advisor.Place, b *evidence.Bore, c Case) *LayerCase {
	odds, ok := p.Layers()
	if !ok {
		return nil
	}
	return w.compared(advisor.LogOf(b), odds, c)
}

// compared puts beside each cell of a log what everybody said of it.
func (w *witness) compared(log strata.Log, odds strata.Odds, c Case) *LayerCase {
	nearest, region, eightNearest := w.layers.say(c.At)
	out := &LayerCase{Case: c}
	for i, class := range log.Cells[:min(len(log.Cells), strata.Cells)] {
		if class == soil.Unknown {
			continue
		}
		cell := CellSaid{TopM: float64(i) * strata.CellM}
		for _, row := range [][soil.Count]float64{odds[i], nearest[i], region[i], eightNearest[i]} {
			cell.Odds = append(cell.Odds, row[class-1])
			cell.Hit = append(cell.Hit, likeliest(row) == class)
		}
		out.Cells = append(out.Cells, cell)
	}
	return out
}

// likeliest returns the class with the highest odds, the first where several are equal.
func likeliest(row [soil.Count]float64) soil.Class {
	best := 0
	for k, p := range row {
		if p > row[best] {
			best = k
		}
	}
	return soil.Class(best + 1)
}

// outcome asks for the chance by the method that drilled a bore, as if it were the only one
// at hand.
func (w *witness) outcome(ctx context.Context, p *advisor.Place, b *evidence.Bore, c Case) (*OutcomeCase, error) {
	q := advisor.Question{Method: b.Method, Seed: 1}
	m, enough, ok, err := p.Chance(ctx, q)
	if err != nil || !ok {
		return nil, err
	}
	reported, _, err := p.Reported(ctx, q, b.Completed)
	if err != nil {
		return nil, err
	}
	base, eightNearest, nearestM := w.outcomes.say(b.Pos, b.Method)
	return &OutcomeCase{
		Case: c, Method: b.Method, Works: b.Outcome == geo.Producing,
		Said: []float64{reported, base, eightNearest}, Lasts: m.Chance, Width: m.Hi - m.Lo, NearestM: nearestM,
		Enough: enough,
	}, nil
}
