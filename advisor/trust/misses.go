package trust

import (
	"cmp"
	"context"
	"math"
	"slices"

	"waterstrike/advisor"
	"waterstrike/geo"
	"waterstrike/geo/coord"
)

// Miss is a statement that was far from what was found, with the evidence that misled.
type Miss struct {
	Kind     geo.Code               `json:"kind"` // "miss.level", "miss.layers" or "miss.outcome"
	ID       geo.BoreID             `json:"id"`
	Label    string                 `json:"label"`
	At       coord.LonLat           `json:"at"`
	Loss     float64                `json:"loss"` // metres, nats per half-metre, or squared chance
	FoundM   geo.Opt[float64]       `json:"foundM,omitzero"`
	SaidM    geo.Opt[advisor.Range] `json:"saidM,omitzero"`
	Works    geo.Opt[bool]          `json:"works,omitzero"`
	Chance   geo.Opt[float64]       `json:"chance,omitzero"`
	Method   geo.Method             `json:"method,omitempty"`
	Evidence []advisor.EvidenceBore `json:"evidence"` // heaviest first
	bore     int
}

// missesShown is how many of each kind are named, and misledBy how many bores of each.
const (
	missesShown = 10
	misledBy    = 3
)

// misses names the worst cases of each kind and asks again for what they rested on.
func (r *run) misses(ctx context.Context, c Cases, folds []*fold) ([]Miss, error) {
	out := slices.Concat(worst(levelMisses(c.Levels)), worst(layerMisses(c.Layers)), worst(outcomeMisses(c.Outcomes)))
	place := map[geo.BoreID]int{}
	for i, b := range r.bores {
		place[b.ID] = i
	}
	for i := range out {
		out[i].bore = place[out[i].ID]
	}
	for _, f := range folds {
		if err := r.explain(ctx, out, f); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// explain asks about the misses of one fold.
func (r *run) explain(ctx context.Context, misses []Miss, f *fold) error {
	var w *witness
	for i := range misses {
		m := &misses[i]
		if !slices.Contains(f.asked, m.bore) {
			continue
		}
		if w == nil {
			var err error
			if w, err = r.witness(ctx, f); err != nil {
				return err
			}
		}
		said, err := w.advisor.Advise(ctx, advisor.Question{At: m.At, Seed: 1})
		if err != nil {
			return err
		}
		m.Evidence = said.Evidence.Bores[:min(misledBy, len(said.Evidence.Bores))]
	}
	return nil
}

func worst(all []Miss) []Miss {
	slices.SortStableFunc(all, func(a, b Miss) int { return cmp.Compare(b.Loss, a.Loss) })
	return all[:min(missesShown, len(all))]
}

func (c Case) miss(kind geo.Code, loss float64) Miss {
	return Miss{Kind: kind, ID: c.ID, Label: c.Label, At: c.At, Loss: loss}
}

func levelMisses(cases []LevelCase) (out []Miss) {
	for _, c := range cases {
		m := c.miss("miss.level", c.Said[0].CRPS(c.FoundM))
		m.FoundM = geo.Some(c.FoundM)
		m.SaidM = geo.Some(advisor.Range{P10: c.Said[0].Quantile(0.1), P50: c.Said[0].Quantile(0.5), P90: c.Said[0].Quantile(0.9)})
		out = append(out, m)
	}
	return out
}

func layerMisses(cases []LayerCase) (out []Miss) {
	for _, c := range cases {
		lost := 0.0
		for _, cell := range c.Cells {
			lost -= math.Log(max(cell.Odds[0], leastOdds)) / float64(len(c.Cells))
		}
		out = append(out, c.miss("miss.layers", lost))
	}
	return out
}

func outcomeMisses(cases []OutcomeCase) (out []Miss) {
	for _, c := range cases {
		m := c.miss("miss.outcome", c.brier())
		m.Works, m.Chance, m.Method = geo.Some(c.Works), geo.Some(c.Said[0]), c.Method
		out = append(out, m)
	}
	return out
}
