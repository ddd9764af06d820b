package variogram

// Family names a one-parameter family of correlation functions.
type Family string

// The families known. Smoothness at short distances rises from the first two
// (continuous surface, rough) over the third (differentiable once) to the last (twice).
const (
	FamilySpherical   Family = "spherical"
	FamilyExponential Family = "exponential"
	FamilyMatern32    Family = "matern32"
	FamilyMatern52    Family = "matern52"
)

// Families lists every family, in a fixed order.
func Families() []Family {
	return []Family{FamilySpherical, FamilyExponential, FamilyMatern32, FamilyMatern52}
}

// New returns the family's model with partial sill psill and range parameter a.
//
//   - Units: psill in squared value units, a in metres.
//   - Errors: [*ParameterError] for an unknown family and for parameters that are
//     not finite or not above 0.
//   - Source: see the family's own type.
func (f Family) New(psill, a float64) (Model, error) {
	switch f {
	case FamilySpherical:
		return NewSpherical(psill, a)
	case FamilyExponential:
		return NewExponential(psill, a)
	case FamilyMatern32:
		return NewMatern32(psill, a)
	case FamilyMatern52:
		return NewMatern52(psill, a)
	}
	return nil, &ParameterError{Name: "family " + string(f), Want: "one of Families()"}
}

// practical returns practical range / range parameter.
func (f Family) practical() (float64, error) {
	unit, err := f.New(1, 1)
	if err != nil {
		return 0, err
	}
	return unit.Range(), nil
}
