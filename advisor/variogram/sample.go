package variogram

// checkSample checks what every estimator asks of its data. errorVar may be nil.
func checkSample(points []XY, values, errorVar []float64, least int) error {
	if err := sameLength("values", len(values), len(points)); err != nil {
		return err
	}
	if errorVar != nil {
		if err := sameLength("error variances", len(errorVar), len(points)); err != nil {
			return err
		}
	}
	if len(points) < least {
		return ErrTooFewData
	}
	for i, p := range points {
		if !p.Finite() || !finite(values[i]) {
			return ErrNotFinite
		}
	}
	for _, e := range errorVar {
		if err := notNegative("error variance", e); err != nil {
			return err
		}
	}
	return nil
}

func sameLength(name string, got, want int) error {
	if got != want {
		return &ParameterError{Name: "number of " + name, Value: float64(got), Want: "one per point"}
	}
	return nil
}
