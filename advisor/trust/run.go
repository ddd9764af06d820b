package trust

import (
	"context"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"waterstrike/advisor"
	"waterstrike/advisor/evidence"
	"waterstrike/geo"
)

// Options steer [Run].
type Options struct {
	Split Split `json:"split"`
	Folds int   `json:"folds"` // how many times bores are hidden, by block
	Most  int   `json:"most"`  // bores asked about at most, the first in the order of their random ids
}

// DefaultOptions hides ten sets of blocks and asks about 10,000 bores.
func DefaultOptions() Options { return Options{Split: ByBlock, Folds: 10, Most: 10_000} }

// Report is an account with how it was taken.
type Report struct {
	Schema   string   `json:"schema"`
	Snapshot string   `json:"snapshot"`
	Bores    int      `json:"bores"` // with a position
	Asked    int      `json:"asked"` // those hidden and asked about
	Options  Options  `json:"options"`
	Rounds   int      `json:"rounds"` // how many times bores were hidden
	Blocks   Blocks   `json:"blocks"`
	DryHoles DryHoles `json:"dryHoles"`
	Unsaid   Unsaid   `json:"unsaid"`
	Account  Account  `json:"account"`
	Misses   []Miss   `json:"misses"`
	Cases    Cases    `json:"-"`
}

// DryHoles are the bores that were dry to their depth: they have no level to be scored by,
// but a good account gives them a high chance of water below that depth.
type DryHoles struct {
	Count int     `json:"count"`
	Below float64 `json:"below"` // mean stated chance that the water lies deeper
}

// Unsaid are the bores of known outcome that no chance is said for: drilled by machine or
// nobody knows how, or where the evidence bears no chance. They are counted, not scored.
type Unsaid struct {
	Count  int `json:"count"`
	Worked int `json:"worked"`
}

// Schema names the form of [Report] that this version writes.
const Schema = "waterstrike.trust.1"

// Progress is told how many bores of how many have been asked about.
type Progress func(done, total int)

// Run hides bores in turn, asks what stands where they stood, and scores the answers.
//
//   - Domain: a snapshot with bores. Hidden bores are in no fit and no neighbourhood,
//     except by bore, where the fits have seen them.
//   - Errors: a [geo.Invalid] error for an unknown split; [geo.TooFewData] where the split
//     cannot be made; the context's error when it ends.
//   - Cost: a fit for each fold and an answer for each bore.
//   - Source: Roberts et al. (2017) for blocks as the unit that is hidden.
func Run(ctx context.Context, s *evidence.Snapshot, rules advisor.Rules, o Options, progress Progress) (Report, error) {
	if err := checkSplit(o.Split); err != nil {
		return Report{}, err
	}
	r := &run{snapshot: s, rules: rules, bores: s.Bores(), split: o.Split, progress: progress}
	var err error
	if r.whole, err = r.fitted(ctx, s); err != nil {
		return Report{}, err
	}
	var blocks Blocks
	r.of, blocks = blocksOf(r.bores, r.whole.advisor.ReachM())
	folds, err := split(s, r.bores, o.Split, r.of, blocks.Count, o.Folds)
	if err != nil {
		return Report{}, err
	}
	r.choose(folds, o.Most)
	if err := r.ask(ctx, folds); err != nil {
		return Report{}, err
	}
	out := Report{Schema: Schema, Snapshot: s.ID(), Bores: len(r.bores), Asked: r.total, Options: o, Rounds: len(folds), Blocks: blocks}
	out.Cases, out.DryHoles = r.gathered()
	out.Unsaid = r.unsaid()
	out.Account = Judge(out.Cases)
	out.Misses, err = r.misses(ctx, out.Cases, folds)
	return out, err
}

// run is an account being taken.
type run struct {
	whole    *witness // who has seen every bore
	snapshot *evidence.Snapshot
	rules    advisor.Rules
	bores    []*evidence.Bore
	of       []int // block of each bore
	split    Split
	answers  []answer // by bore
	total    int
	done     atomic.Int64
	telling  sync.Mutex
	progress Progress
}

// answer is what became of asking about one bore.
type answer struct {
	level   *LevelCase
	layers  *LayerCase
	outcome *OutcomeCase
	dry     *float64 // stated chance that the water lies below a dry hole
	asked   bool
}

// choose leaves at most so many bores to be asked about: the first by id, which are random.
func (r *run) choose(folds []*fold, most int) {
	var askable []int
	for _, f := range folds {
		for _, i := range f.asked {
			if r.worthAsking(r.bores[i]) {
				askable = append(askable, i)
			}
		}
	}
	slices.Sort(askable)
	last := -1
	if len(askable) > 0 {
		askable = askable[:min(most, len(askable))]
		last = askable[len(askable)-1]
	}
	for _, f := range folds {
		f.asked = slices.DeleteFunc(f.asked, func(i int) bool { return i > last || !r.worthAsking(r.bores[i]) })
	}
	r.total = len(askable)
	r.answers = make([]answer, len(r.bores))
}

// worthAsking reports that a bore has anything to compare an answer with.
func (r *run) worthAsking(b *evidence.Bore) bool {
	return evidence.HasLevel(b) || evidence.HasLayers(b) || r.byHand(b)
}

// byHand reports that a bore has an outcome that the advisor states the chance of.
func (r *run) byHand(b *evidence.Bore) bool {
	if b.Outcome == geo.OutcomeUnknown {
		return false
	}
	for _, m := range r.whole.advisor.Methods() {
		if m.Code == b.Method {
			return true
		}
	}
	return false
}

// ask works through the folds on every processor; each bore's answer has its own place, so
// that the account does not depend on who was first.
func (r *run) ask(ctx context.Context, folds []*fold) error {
	ctx, stop := context.WithCancelCause(ctx)
	defer stop(nil)
	queue := make(chan *fold)
	var working sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		working.Go(func() {
			for f := range queue {
				if err := r.askFold(ctx, f); err != nil {
					stop(err)
				}
			}
		})
	}
	for _, f := range folds {
		if len(f.asked) > 0 && ctx.Err() == nil {
			queue <- f
		}
	}
	close(queue)
	working.Wait()
	return context.Cause(ctx)
}

func (r *run) askFold(ctx context.Context, f *fold) error {
	w, err := r.witness(ctx, f)
	if err != nil {
		return err
	}
	for _, i := range f.asked {
		if err := ctx.Err(); err != nil {
			return err
		}
		if r.answers[i], err = w.answer(ctx, r.bores[i], r.of[i]); err != nil {
			return err
		}
		r.tell()
	}
	return nil
}

func (r *run) tell() {
	if r.progress == nil {
		r.done.Add(1)
		return
	}
	r.telling.Lock()
	defer r.telling.Unlock()
	r.progress(int(r.done.Add(1)), r.total)
}

// unsaid counts the outcomes that nobody foretold; those of hand-drilled bores that were not
// asked about are left out, for a chance might have been said.
func (r *run) unsaid() (u Unsaid) {
	for i, b := range r.bores {
		if a := &r.answers[i]; b.Outcome == geo.OutcomeUnknown || r.byHand(b) && (!a.asked || a.outcome != nil) {
			continue
		}
		u.Count++
		if b.Outcome == geo.Producing {
			u.Worked++
		}
	}
	return u
}

// gathered lists the cases in the order of the bores.
func (r *run) gathered() (c Cases, dry DryHoles) {
	for _, a := range r.answers {
		if a.level != nil {
			c.Levels = append(c.Levels, *a.level)
		}
		if a.layers != nil {
			c.Layers = append(c.Layers, *a.layers)
		}
		if a.outcome != nil {
			c.Outcomes = append(c.Outcomes, *a.outcome)
		}
		if a.dry != nil {
			dry.Count++
			dry.Below += *a.dry
		}
	}
	if dry.Count > 0 {
		dry.Below /= float64(dry.Count)
	}
	return c, dry
}
