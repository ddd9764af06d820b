package intake

// The cell readers, for their own tests.
var (
	ReadNumber    = readNumber
	ReadIntervals = readIntervals
	SplitList     = splitList
	CutPart       = cutPart
	ReadMonths    = readMonths
)

// ReadDate reads a date in the forms of a field.
func ReadDate(text string, f Field) (string, bool) {
	d, ok := readDate(text, f.dateSpec())
	return d.String(), ok
}

// LengthM and RateLPS return the size of a unit.
func LengthM(unit string) float64 { return lengthUnits[unitName(unit)] }

// RateLPS returns litres per second per unit.
func RateLPS(unit string) float64 { return rateUnits[unitName(unit)] }
