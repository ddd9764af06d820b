package hydraulics

// storageEnds is how many r²/T a well must be pumped before its own water no longer counts:
// strictly, and as some take it.
//
// Source: Papadopulos and Cooper (1967), from memory; the looser form is found in print
// as well and errs by several per cent.
const (
	storageEnds      = 250
	storageEndsLoose = 25
)

// StorageEnds returns how long a pumped well gives of its own water,
//
//	t = 250 r²/T.
//
// Readings before are of the well, not of the ground.
//
//   - Units: openRadiusM the radius of the water surface that falls, m; m²/d; result in d.
//   - Domain: both above 0.
//   - Errors: [InputError], [ErrNoAnswer].
//   - Source: Papadopulos and Cooper (1967), from memory.
//   - Checked by: TestStoredWellEndsAsTheis.
func StorageEnds(openRadiusM, tM2D float64) (float64, error) {
	if err := positive(named{"open radius", openRadiusM}, named{"transmissivity", tM2D}); err != nil {
		return 0, err
	}
	return finite(storageEnds * openRadiusM * openRadiusM / tM2D)
}

// rule says which readings are late enough.
type rule struct {
	u       float64
	storage float64
	sign    []Sign
}

// rules are tried in turn: a straight line is first looked for where it is one.
var rules = [2]rule{
	{u: StrictU, storage: storageEnds},
	{u: LooseU, storage: storageEndsLoose, sign: []Sign{EarlyTime}},
}

// late reports that a rule lets a time pass.
func (p Pumping) late(a Aquifer, days float64, r rule) bool {
	return a.u(p.DistanceM, days) < r.u && days > r.storage*p.OpenRadiusM*p.OpenRadiusM/a.TM2D
}

// signs are those of readings taken by a rule.
func (p Pumping) signs(r rule) []Sign {
	var all []Sign
	all = append(all, r.sign...)
	if p.OpenRadiusM > 0 && len(r.sign) > 0 {
		all = append(all, WellStorage)
	}
	return all
}

// window is the factor of time over which a line is drawn to judge whether its first
// reading is late; common practice, no source.
const window = 5

// drawn is a line with the readings that it was drawn through.
type drawn struct {
	line
	Aquifer
	used  []int
	signs []Sign
}

// draw returns the line through all readings from the first that is late by the line
// through its own neighbours in time: a bend far behind it cannot make it early. Where the
// readings bend, the line is that of their first third: what comes later is farther away.
func (p Pumping) draw(x, y []float64, readings []Reading, aquiferOf func(line) Aquifer) (drawn, error) {
	first, r, err := p.firstLate(x, y, readings, aquiferOf)
	if err != nil {
		return drawn{}, err
	}
	d := drawn{signs: p.signs(r)}
	end := len(x)
	if sign, at := bend(x[first:], y[first:], readings[first:]); sign != "" {
		d.signs, end = append(d.signs, sign), first+at
	}
	if d.line, err = fitLine(x[first:end], y[first:end]); err != nil {
		return drawn{}, err
	}
	if end == len(x) && readings[end-1].Days < shortCycle*readings[first].Days {
		d.signs = append(d.signs, ShortTest)
	}
	d.signs = append(d.signs, doubts(d.rest, y[first:end])...)
	d.Aquifer, d.used = aquiferOf(d.line), from(first, end)
	if positive(named{"", d.TM2D}, named{"", d.Storage}) != nil {
		return drawn{}, ErrNoAnswer
	}
	return d, nil
}

func (p Pumping) firstLate(x, y []float64, readings []Reading, aquiferOf func(line) Aquifer) (int, rule, error) {
	err := ErrNoAnswer
	for _, r := range rules {
		for first := range len(x) - 2 {
			end := first + 3
			for end < len(x) && readings[end].Days <= window*readings[first].Days {
				end++
			}
			l, failed := fitLine(x[first:end], y[first:end])
			if failed != nil {
				return 0, r, failed
			}
			a := aquiferOf(l)
			if positive(named{"", a.TM2D}, named{"", a.Storage}) != nil {
				continue
			}
			if p.late(a, readings[first].Days, r) {
				return first, r, nil
			}
			err = &EarlyError{a.u(p.DistanceM, readings[first].Days)}
		}
	}
	return 0, rule{}, err
}

func from(first, end int) []int {
	var all []int
	for i := first; i < end; i++ {
		all = append(all, i)
	}
	return all
}
