package coord

import (
	"math"
	"strings"
)

// Axis says which coordinate an angle is.
type Axis int

// The two axes.
const (
	Latitude Axis = iota
	Longitude
)

func (a Axis) part() Part {
	if a == Latitude {
		return PartLatitude
	}
	return PartLongitude
}

func (a Axis) limitDeg() float64 {
	if a == Latitude {
		return 90
	}
	return 180
}

// ReadAngle reads one latitude or longitude: decimal degrees, degrees and
// minutes, or degrees, minutes and seconds, the last part with decimals after a
// dot or a comma; marks as usual (° º ' ′ " ″ d m s, colons, spaces) or none; a
// sign, or a hemisphere letter or word at either end: N, S; E, L (leste, este)
// for east; W, O (ouest, oeste) for west.
//
//   - Units: degrees out; precisionDeg is half a unit of the last digit written.
//   - Domain: texts up to 100 bytes.
//   - Errors: [ReadError]. A sign beside a letter contradicts. In a latitude with
//     d and m marks, a last capital S may be seconds or south: Ambiguous.
//   - Source: forms as in ISO 6709 annex D and field sheets (common practice).
//   - Checked by: TestReadAngle, FuzzReadAngle.
func ReadAngle(text string, axis Axis) (deg, precisionDeg float64, err error) {
	deg, precisionDeg, code := readAngle(text, axis)
	if code != "" {
		return 0, 0, &ReadError{Part: axis.part(), Text: clip(text), Code: code}
	}
	return deg, precisionDeg, nil
}

func readAngle(text string, axis Axis) (deg, precision float64, wrong Code) {
	if strings.TrimSpace(text) == "" {
		return 0, 0, Empty
	}
	if len(text) > maxText {
		return 0, 0, TooLong
	}
	tokens, ok := scanAngle(text)
	if !ok {
		return 0, 0, Unreadable
	}
	tokens, sign, wrong := takeSide(tokens, axis)
	if wrong != "" {
		return 0, 0, wrong
	}
	parts, wrong := takeParts(tokens)
	if wrong != "" {
		return 0, 0, wrong
	}
	deg, precision = combine(parts)
	if deg > axis.limitDeg() {
		return 0, 0, OutOfRange
	}
	return sign*deg + 0, precision, "" // + 0: no negative zero
}

// combine adds degrees, minutes and seconds; the last one sets the precision.
func combine(parts []number) (deg, precision float64) {
	unit := 1.0
	for _, p := range parts {
		deg += p.value / unit
		precision = p.halfUnit / unit
		unit *= 60
	}
	return deg, precision
}

// takeParts checks that the tokens are one to three numbers, each followed at
// most by its own mark, and returns the numbers.
func takeParts(tokens []token) ([]number, Code) {
	var parts []number
	for _, t := range tokens {
		switch {
		case t.kind == numberToken && len(parts) < 3:
			parts = append(parts, t.number)
		case t.kind == markToken && t.unit == len(parts):
		default:
			return nil, Unreadable
		}
	}
	if len(parts) == 0 || repeatedMark(tokens) {
		return nil, Unreadable
	}
	return parts, checkParts(parts)
}

func repeatedMark(tokens []token) bool {
	for i := 1; i < len(tokens); i++ {
		if tokens[i].kind == markToken && tokens[i-1].kind == markToken {
			return true
		}
	}
	return false
}

// checkParts allows decimals in the last part only, up to three digits of whole
// degrees, and sixtieths below 60.
func checkParts(parts []number) Code {
	if parts[0].wholeDigits > 3 {
		return Unreadable // packed forms such as 0530 are not told from degrees
	}
	for i, p := range parts {
		if i < len(parts)-1 && p.decimals > 0 {
			return Unreadable
		}
		if i > 0 && (p.value >= 60 || p.wholeDigits > 2) {
			return BadSixtieths
		}
	}
	return ""
}

// takeSide removes the sign or the hemisphere from the ends and returns +1 or -1.
func takeSide(tokens []token, axis Axis) (rest []token, sign float64, wrong Code) {
	sign = 1
	signed := len(tokens) > 0 && tokens[0].kind == signToken
	if signed {
		sign, tokens = tokens[0].sign, tokens[1:]
	}
	tokens, sides, wrong := takeLetters(tokens, axis)
	switch {
	case wrong != "":
		return nil, 0, wrong
	case len(sides) > 1:
		return nil, 0, Contradicts
	case len(sides) == 0:
		return tokens, sign, ""
	case sides[0].axis != axis:
		return nil, 0, WrongAxis
	case signed:
		return nil, 0, Contradicts
	}
	return tokens, sides[0].sign, ""
}

// takeLetters removes hemisphere words from both ends, and settles whether a
// last s is a mark or the south.
func takeLetters(tokens []token, axis Axis) (rest []token, sides []token, wrong Code) {
	if n := len(tokens); n > 0 && tokens[0].kind == sideToken {
		sides, tokens = append(sides, tokens[0]), tokens[1:]
	}
	tokens, wrong = settleSeconds(tokens, axis == Latitude && len(sides) == 0)
	if n := len(tokens); n > 0 && tokens[n-1].kind == sideToken {
		sides, tokens = append(sides, tokens[n-1]), tokens[:n-1]
	}
	return tokens, sides, wrong
}

// settleSeconds decides what a letter s after d and m marks means: seconds when
// it is small or not last; a last capital S can be either where south is possible.
func settleSeconds(tokens []token, canBeSouth bool) ([]token, Code) {
	letters := 0
	for i, t := range tokens {
		if t.kind == markToken && t.letter {
			letters++
		}
		if t.kind != sideToken || !strings.EqualFold(t.text, "s") || letters < 2 {
			continue
		}
		if t.text == "S" && i == len(tokens)-1 && canBeSouth {
			return nil, Ambiguous
		}
		tokens = append([]token(nil), tokens...)
		tokens[i] = token{kind: markToken, unit: 3, letter: true, text: t.text}
		return tokens, ""
	}
	return tokens, ""
}

// number is an unsigned decimal as written.
type number struct {
	value       float64
	halfUnit    float64 // half a unit of the last digit
	wholeDigits int
	decimals    int
}

func halfUnit(decimals int) float64 { return 0.5 * math.Pow(10, -float64(decimals)) }
