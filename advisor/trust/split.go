package trust

import (
	"errors"
	"fmt"
	"slices"

	"waterstrike/advisor/evidence"
	"waterstrike/geo"
)

// Split is how bores are hidden.
type Split string

// The splits.
const (
	ByBlock Split = "block" // whole blocks of land, wider than evidence reaches
	ByBore  Split = "bore"  // one spot at a time; the fits have seen it
	ByTime  Split = "time"  // the newest fifth, foretold from the older ones
)

// Splits lists them.
func Splits() []Split { return []Split{ByBlock, ByBore, ByTime} }

// fold is a set of bores that is hidden together, and those of them that are asked about.
type fold struct {
	hidden  []geo.BoreID
	asked   []int    // places in the list of bores
	witness *witness // kept for the misses, except by bore
}

// newest is the share of dated bores that the others foretell.
const newest = 0.2

// checkSplit refuses a split that is none.
func checkSplit(by Split) error {
	if slices.Contains(Splits(), by) {
		return nil
	}
	return geo.Fail(geo.Invalid, "trust.Run", geo.Say("trust.unknown-split", geo.With("value", geo.Text(string(by)))), fmt.Errorf("split %q", by))
}

// split cuts bores into folds by one of [Splits], each of which leaves some bores to foretell
// the hidden ones from.
func split(s *evidence.Snapshot, bores []*evidence.Bore, by Split, of []int, blocks, folds int) (out []*fold, err error) {
	switch by {
	case ByBlock:
		out = byBlock(bores, of, blocks, folds)
	case ByBore:
		out = byBore(s, bores)
	default:
		out, err = byTime(s, bores)
	}
	for _, f := range out {
		if len(bores) > 0 && f.hides() == len(bores) {
			return nil, geo.Fail(geo.TooFewData, "trust.Run", geo.Say("trust.none-left"), errors.New("a fold hides every bore"))
		}
	}
	return out, err
}

// hides counts the bores that the fold hides, each once.
func (f *fold) hides() int {
	ids := slices.Clone(f.hidden)
	slices.Sort(ids)
	return len(slices.Compact(ids))
}

func byBlock(bores []*evidence.Bore, of []int, blocks, folds int) []*fold {
	folds = min(max(folds, 2), max(blocks, 1))
	foldOf := dealt(of, blocks, folds)
	out := make([]*fold, folds)
	for i := range out {
		out[i] = new(fold)
	}
	for i, b := range bores {
		f := out[foldOf[of[i]]]
		f.hidden, f.asked = append(f.hidden, b.ID), append(f.asked, i)
	}
	return out
}

func byBore(s *evidence.Snapshot, bores []*evidence.Bore) []*fold {
	out := make([]*fold, len(bores))
	for i, b := range bores {
		out[i] = &fold{hidden: spot(s, b), asked: []int{i}}
	}
	return out
}

// One spot: bores nearer to each other than this are often one bore entered twice, and one
// of them would give the other away. Common practice, no source.
const (
	spotM    = 100
	spotMost = 32
)

// spot lists a bore and those on the same spot.
func spot(s *evidence.Snapshot, b *evidence.Bore) (ids []geo.BoreID) {
	ids = []geo.BoreID{b.ID}
	for _, n := range s.Nearest(b.Pos, spotMost) {
		if n.DistanceM < spotM {
			ids = append(ids, n.ID)
		}
	}
	return ids
}

// byTime hides the newest bores, those on their spots and those without a date, and asks
// about the newest.
func byTime(s *evidence.Snapshot, bores []*evidence.Bore) ([]*fold, error) {
	var dates []geo.Date
	for _, b := range bores {
		if b.Completed.Year != 0 {
			dates = append(dates, b.Completed)
		}
	}
	slices.SortFunc(dates, geo.Date.Compare)
	if len(dates) == 0 || dates[0] == dates[len(dates)-1] {
		return nil, geo.Fail(geo.TooFewData, "trust.Run", geo.Say("trust.no-dates"), errors.New("no two dates"))
	}
	from := dates[int((1-newest)*float64(len(dates)))]
	f := new(fold)
	for i, b := range bores {
		if b.Completed.Year != 0 && b.Completed.Compare(from) < 0 {
			continue
		}
		f.hidden = append(f.hidden, b.ID)
		if b.Completed.Year != 0 {
			f.hidden, f.asked = append(f.hidden, spot(s, b)...), append(f.asked, i)
		}
	}
	return []*fold{f}, nil
}
