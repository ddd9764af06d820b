package draw

import (
	"errors"
	"strings"

	"rsc.io/qr"
)

// quiet is the clear border of a QR code in modules (ISO/IEC 18004).
const quiet = 4

// moduleMM is the side of one module: a phone reads it from a sheet held in the hand.
const moduleMM = 0.8

// QR draws a text as a QR code (ISO/IEC 18004), with a quarter of it to spare for dirt.
//
//   - Units: the sheet is as large as the text needs, in mm.
//   - Errors: no text, or one that is too long for a code.
func QR(text, title string) (Scene, error) {
	code, err := modules(text)
	if err != nil {
		return Scene{}, err
	}
	side := float64(code.Size+2*quiet) * moduleMM
	s := Scene{WidthMM: side, HeightMM: side, ID: "qr-", Title: title, Desc: text}
	s.Items = append(s.Items, Rect{WidthMM: side, HeightMM: side, Fill: Fill{Color: "#ffffff"}})
	for y := range code.Size {
		for x := 0; x < code.Size; x++ {
			long := 0
			for code.Black(x+long, y) {
				long++
			}
			if long == 0 {
				continue
			}
			s.Items = append(s.Items, Rect{
				X: float64(x+quiet) * moduleMM, Y: float64(y+quiet) * moduleMM,
				WidthMM: float64(long) * moduleMM, HeightMM: moduleMM, Fill: Fill{Color: "#000000"},
			})
			x += long
		}
	}
	return s, nil
}

// QRLines writes a text as a QR code for a terminal, two modules in a character. The light
// modules are the ones that are painted: it is meant for light letters on a dark ground.
func QRLines(text string) ([]string, error) {
	code, err := modules(text)
	if err != nil {
		return nil, err
	}
	var lines []string
	for y := -quiet; y < code.Size+quiet; y += 2 {
		var b strings.Builder
		for x := -quiet; x < code.Size+quiet; x++ {
			upper, lower := code.Black(x, y), code.Black(x, y+1) || y+1 >= code.Size+quiet
			switch {
			case upper && lower:
				b.WriteByte(' ')
			case upper:
				b.WriteRune('▄')
			case lower:
				b.WriteRune('▀')
			default:
				b.WriteRune('█')
			}
		}
		lines = append(lines, b.String())
	}
	return lines, nil
}

func modules(text string) (*qr.Code, error) {
	if text == "" {
		return nil, errors.New("draw: a QR code of nothing")
	}
	code, err := qr.Encode(text, qr.Q)
	if err != nil {
		return nil, errors.New("draw: the text is too long for a QR code")
	}
	return code, nil
}
