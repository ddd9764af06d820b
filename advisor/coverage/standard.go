package coverage

import (
	"bytes"
	_ "embed"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"

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
// A wrong entry is a [geo.Invalid] error that names the standard and the field.
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
	fail := func(err error) ([]Standard, error) {
		return nil, geo.Fail(geo.Invalid, "coverage.Load", geo.Message{}, err)
	}
	var list []Standard
	read := json.NewDecoder(bytes.NewReader(data))
	read.DisallowUnknownFields() // a misspelt limit would be no limit
	if err := read.Decode(&list); err != nil {
		return fail(err)
	}
	if len(list) == 0 {
		return fail(errors.New("the list holds no standard"))
	}
	seen := map[string]bool{}
	for _, s := range list {
		if err := s.check(); err != nil {
			return fail(err)
		}
		if seen[s.Code] {
			return fail(fmt.Errorf("standard %q stands twice", s.Code))
		}
		seen[s.Code] = true
	}
	return list, nil
}

func (s *Standard) check() error {
	if s.Code == "" || !(s.WalkM > 0) || math.IsInf(s.WalkM, 0) || len(s.Kinds) == 0 {
		return fmt.Errorf("standard %q needs a code, walkM above 0 and kinds", s.Code)
	}
	litres, hours := s.LitresPerHead.Or(1), s.HoursPerDay.Or(1)
	if s.LitresPerHead.Known() != s.HoursPerDay.Known() || !(litres > 0) || !(hours > 0 && hours <= 24) {
		return fmt.Errorf("standard %q: litresPerHead above 0 and hoursPerDay in (0, 24] go together", s.Code)
	}
	seen := map[geo.PointKind]bool{}
	for _, k := range s.Kinds {
		if k.Kind == "" || k.Kind == geo.PointUnknown || seen[k.Kind] || k.People.Or(1) <= 0 {
			return fmt.Errorf("standard %q: kind %q needs a name of its own, and people above 0 or none", s.Code, k.Kind)
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
