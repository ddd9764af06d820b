package geo

// Verdict is what a limit says of a result.
type Verdict string

// The verdicts on a result.
const (
	Within   Verdict = "within"
	Above    Verdict = "above"
	Below    Verdict = "below" // of an acceptance range with a lower end
	NotKnown Verdict = "not-known"
)

// countedNone is the detection limit, in colonies per 100 mL, of a test that found none in
// the usual bottle.
const countedNone = 1

// Judge holds a result against the guideline value for health; where an analyte has none,
// against what people accept: the limit says which. A result is [NotKnown] when it has no
// limit, cannot be put into the limit's unit, lies below a detection limit that is itself
// above the limit, or when the basis is not said and would decide.
func Judge(s Sample) (Verdict, Limit) {
	for _, kind := range []LimitKind{HealthLimit, AcceptLimit} {
		if verdict, limit := JudgeAs(kind, s); limit.Kind != "" {
			return verdict, limit
		}
	}
	return NotKnown, Limit{}
}

// JudgeAs holds a result against the analyte's limit of one kind.
func JudgeAs(kind LimitKind, s Sample) (Verdict, Limit) {
	a, named, ok := FindAnalyte(s.Analyte)
	if !ok {
		return NotKnown, Limit{}
	}
	if s.Basis == "" {
		s.Basis = named
	}
	for _, limit := range a.Limits {
		if limit.Kind == kind {
			return limit.judgeAnyBasis(a, s), limit
		}
	}
	return NotKnown, Limit{}
}

// judgeAnyBasis judges a result whose basis may not be said: then all bases must agree.
func (l Limit) judgeAnyBasis(a Analyte, s Sample) Verdict {
	verdict := l.judge(a, s)
	if s.Basis != "" {
		return verdict
	}
	for basis := range a.Bases {
		if s.Basis = basis; l.judge(a, s) != verdict {
			return NotKnown
		}
	}
	return verdict
}

func (l Limit) judge(a Analyte, s Sample) Verdict {
	if v, known := s.Value.Get(); known {
		if v, err := a.In(v, s.Unit, s.Basis); err == nil {
			return l.compare(v)
		}
		return NotKnown
	}
	below, known := s.DetectionLimit.Get()
	if !known {
		return NotKnown
	}
	v, err := a.In(below, s.Unit, s.Basis)
	high, bounded := l.High.Get()
	if none := bounded && high == 0 && v <= countedNone; err == nil && (none || bounded && v <= high && !l.Low.Known()) {
		return Within
	}
	return NotKnown
}

func (l Limit) compare(v float64) Verdict {
	if high, bounded := l.High.Get(); bounded && v > high {
		return Above
	}
	if low, bounded := l.Low.Get(); bounded && v < low {
		return Below
	}
	return Within
}
