package coverage

import (
	_ "embed"
	"io"
	"math"

	"waterstrike/advisor/rule"
	"waterstrike/geo"
)

// Standard is what it takes to have water: how near, shared by how many, from what.
type Standard struct {
	Code          string           `json:"code"`
	Country       string           `json:"country,omitempty"`      // ISO 3166-1, of a national norm
	WalkM         float64          `json:"walkM"`                  // farthest way to the point, as the crow flies
	LitresPerHead geo.Opt[float64] `json:"litresPerHead,omitzero"` // a day; missing: yield limits nobody
	HoursPerDay   geo.Opt[float64] `json:"hoursPerDay,omitzero"`   // of drawing; goes with litresPerHead
	Kinds         []Kind           `json:"kinds"`                  // of points that count
	Source        string           `json:"source"`
	Mark          string           `json:"mark"` // how well each number is founded
}

// Kind is one kind of point that counts under a standard.
type Kind struct {
	Kind      geo.PointKind `json:"kind"`
	People    geo.Opt[int]  `json:"people,omitzero"`     // most people a point; missing: no limit
	Protected bool          `json:"protected,omitempty"` // counts only where known to be protected
}

//go:embed standards.json
var defaults []byte

// Defaults returns the embedded standards in their fixed order.
func Defaults() ([]Standard, error) { return parse(defaults) }

// Load reads an edited list in the form of the embedded one.
//
// A wrong entry is a [geo.Invalid] error that names the standard and the field, and what it
// may be.
func Load(r io.Reader) ([]Standard, error) {
	data, err := io.ReadAll(io.LimitReader(r, 1<<20))
	if err != nil {
		return nil, err
	}
	return parse(data)
}

// Find returns the standard with this code.
func Find(list []Standard, code string) (Standard, bool) {
	for _, s := range list {
		if s.Code == code {
			return s, true
		}
	}
	return Standard{}, false
}

func parse(data []byte) ([]Standard, error) {
	file := rule.Named(FileName)
	list, err := rule.Lay(nil, file, data, func(s Standard) string { return s.Code }, func(s Standard, at rule.Fault) error { return s.check(at) })
	if err == nil && len(list) == 0 {
		err = rule.Fault{File: file}.Missing("code")
	}
	return list, err
}

// The bounds of a standard: nobody carries water over a day's walk, and a day has 24 hours.
const (
	leastWalkM, mostWalkM = 1, 30_000
	mostLitres            = 1000
	mostPeople            = 100_000
)

// check refuses a standard that is none. A kind that is misspelt would serve nobody.
func (s *Standard) check(at rule.Fault) error {
	switch {
	case s.Code == "": // of a standard that no list named
		return at.Missing("code")
	case len(s.Kinds) == 0:
		return at.Missing("kinds")
	case s.LitresPerHead.Known() && !s.HoursPerDay.Known():
		return at.Missing("hoursPerDay")
	case s.HoursPerDay.Known() && !s.LitresPerHead.Known():
		return at.Missing("litresPerHead")
	}
	if err := at.Within("walkM", s.WalkM, leastWalkM, mostWalkM); err != nil {
		return err
	}
	if err := at.Within("litresPerHead", s.LitresPerHead.Or(1), 0.1, mostLitres); err != nil {
		return err
	}
	if err := at.Within("hoursPerDay", s.HoursPerDay.Or(1), 0.1, 24); err != nil {
		return err
	}
	return s.checkKinds(at)
}

func (s *Standard) checkKinds(at rule.Fault) error {
	var kinds []string
	for _, k := range geo.PointKinds() {
		kinds = append(kinds, string(k))
	}
	seen := map[geo.PointKind]bool{}
	for _, k := range s.Kinds {
		if err := at.OneOf("kinds.kind", string(k.Kind), kinds...); err != nil {
			return err
		}
		if err := at.Within("kinds.people", float64(k.People.Or(1)), 1, mostPeople); err != nil {
			return err
		}
		if seen[k.Kind] {
			at.Kind, at.Entry = rule.Twice, s.Code+", "+string(k.Kind)
			return rule.Refuse(at)
		}
		seen[k.Kind] = true
	}
	return nil
}

// kind returns how the standard takes a kind of point.
func (s *Standard) kind(k geo.PointKind) (Kind, bool) {
	for _, taken := range s.Kinds {
		if taken.Kind == k {
			return taken, true
		}
	}
	return Kind{}, false
}

// unlimited is more people than live anywhere.
const unlimited = math.MaxInt32

// capacity is how many people a point of a kind that counts can serve,
//
//	min(people of the kind, ⌊yield · hours · 3600 / litres per head⌋),
//
// each only where it is known. Source: trade practice (common practice, no source).
func (s *Standard) capacity(k Kind, yieldLPS geo.Opt[float64]) int {
	most := k.People.Or(unlimited)
	litres, thirsty := s.LitresPerHead.Get()
	if yield, known := yieldLPS.Get(); known && thirsty {
		const slack = 1e-9 // rounding of the product, so that 0.25 · 8 · 3600 / 15 is 480
		most = int(min(float64(most), math.Floor(yield*s.HoursPerDay.Or(0)*3600/litres*(1+slack))))
	}
	return most
}
