package hydraulics

// BailerVerdict is what a bailer test says of a well.
type BailerVerdict string

// The verdicts.
const (
	BailerPass   BailerVerdict = "pass"        // all three readings clearly better than needed
	BailerFail   BailerVerdict = "fail"        // all three clearly worse
	BailerUnsure BailerVerdict = "test-longer" // anything else
)

// clearly is the factor by which a reading must lie apart from what is needed: as much as
// the model and a published table of greatest drawdowns, recalled, lie apart.
const clearly = 1.25

// JudgeBailer compares a bailer test with what it would show in ground that just suffices.
//
//   - Units: as [Bail]; needed is the aquifer that just carries the duty, such as that of
//     [NeededT] with a storage of 0.001.
//   - Domain: as [Bail].
//   - Errors: as [Bail].
//   - Source: the three-way rule of MacDonald, Barker and Davies (2008), from memory;
//     limits by the model in place of their table.
//   - Checked by: TestJudgeBailer.
func JudgeBailer(b Bailed, found Rise, needed Aquifer) (BailerVerdict, error) {
	if err := positive(named{"greatest drawdown", found.MostM}, named{"half recovery", found.HalfMin},
		named{"three-quarter recovery", found.ThreeQMin}); err != nil {
		return "", err
	}
	limit, err := Bail(needed, b)
	if err != nil {
		return "", err
	}
	better, worse := 0, 0
	for _, pair := range [...][2]float64{{found.MostM, limit.MostM}, {found.HalfMin, limit.HalfMin}, {found.ThreeQMin, limit.ThreeQMin}} {
		switch {
		case pair[0]*clearly < pair[1]:
			better++
		case pair[0] > pair[1]*clearly:
			worse++
		}
	}
	switch {
	case better == 3:
		return BailerPass, nil
	case worse == 3:
		return BailerFail, nil
	}
	return BailerUnsure, nil
}
