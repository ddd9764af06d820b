package advisor

import (
	"context"

	"waterstrike/advisor/level"
	"waterstrike/advisor/strata"
	"waterstrike/geo/coord"
)

// Place answers several questions about one point: what lies around it is gathered, and
// each statement made, when it is first asked for, and once. It is of one goroutine.
type Place struct {
	advisor *Advisor
	at      coord.LonLat
	near    gathered
	water   func() (*level.Statement, error)
	layers  func() *strata.Statement
	drawn   []weighed // the grounds of the question that was asked last
	asked   Question
}

// At is the place at a point.
func (a *Advisor) At(at coord.LonLat) *Place {
	p := &Place{advisor: a, at: at, near: gathered{land: a.snapshot.Setting(at)}}
	p.water = once(func() (*level.Statement, error) {
		p.near.readLevels(a.snapshot, at, coord.NewPlane(at), a)
		return a.water(p.near)
	})
	layers := once(func() (*strata.Statement, error) {
		p.near.readLogs(at, a)
		p.near.readYields(a.fits.k, at, a)
		return a.layers(p.near), nil
	})
	p.layers = func() *strata.Statement { x, _ := layers(); return x }
	return p
}

// once makes a statement when it is first asked for.
func once[T any](make func() (*T, error)) func() (*T, error) {
	var made bool
	var said *T
	var err error
	return func() (*T, error) {
		if !made {
			said, err = make()
			made = true
		}
		return said, err
	}
}

// Level states the level alone; ok is false where there is too little evidence for one.
func (p *Place) Level() (s level.Statement, ok bool, err error) {
	water, err := p.water()
	if water == nil {
		return s, false, err
	}
	return *water, true, nil
}

// Layers states the layers alone, as a crew would name them; ok is false where there is too
// little evidence for them.
func (p *Place) Layers() (odds strata.Odds, ok bool) {
	x := p.layers()
	if x == nil {
		return odds, false
	}
	return x.Named(), true
}

// Advise answers a question about this place, wherever the question says it is.
//
// Domain and errors are those of [Advisor.Advise].
func (p *Place) Advise(ctx context.Context, q Question) (Advice, error) {
	a := p.advisor
	q.At = p.at
	if err := a.answerable(ctx, q); err != nil {
		return Advice{}, err
	}
	water, err := p.water()
	if err != nil {
		return Advice{}, err
	}
	mixture := p.layers()
	p.near.nearest = a.snapshot.Nearest(p.at, 1)
	return a.advise(q, p.near, water, mixture)
}

// Chance states the best chance by one method, or by any where none is named, and whether
// the evidence is enough for it: the advice without its plan. ok is false where no chance
// can be stated.
//
// Domain and errors are those of [Advisor.Advise].
func (p *Place) Chance(ctx context.Context, q Question) (c MethodChance, enough, ok bool, err error) {
	q.At = p.at
	if err := p.advisor.answerable(ctx, q); err != nil {
		return c, false, false, err
	}
	water, err := p.water()
	mixture := p.layers()
	if err != nil || water == nil || mixture == nil {
		return c, false, false, err
	}
	out := Advice{Question: q}
	out.Evidence.Effective = p.advisor.boresNear(p.near, water, mixture).Effective()
	best := p.advisor.choose(&out, p.near, water, mixture)
	p.drawn, p.asked = best.grounds, q
	return best.best, out.Verdict.Code != NotEnough, true, nil
}
