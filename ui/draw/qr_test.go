package draw_test

import (
	"image"
	"image/color"
	"strings"
	"testing"

	"waterstrike/ui/draw"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode"
)

const dot = 8 // pixels of a module in the pictures that are read back

// readBack reads a picture with the ZXing library's port to Go: another hand's reading of
// ISO/IEC 18004.
func readBack(t *testing.T, picture image.Image) string {
	t.Helper()
	bits, err := gozxing.NewBinaryBitmapFromImage(picture)
	if err != nil {
		t.Fatal(err)
	}
	found, err := qrcode.NewQRCodeReader().Decode(bits, nil)
	if err != nil {
		t.Fatalf("nothing is read: %v", err)
	}
	return found.GetText()
}

func addresses() []string {
	return []string{
		"http://192.0.2.20:8421/", "https://[2001:db8::20]:8420/shared/" + strings.Repeat("aB3_-", 8) + "xyz", "x", strings.Repeat("é", 200),
	}
}

func TestQRIsReadBack(t *testing.T) {
	for _, text := range addresses() {
		scene, err := draw.QR(text, "sign")
		if err != nil {
			t.Fatal(err)
		}
		if got := readBack(t, painted(scene)); got != text {
			t.Errorf("read %q, want %q", got, text)
		}
		var svg strings.Builder
		if err := scene.WriteSVG(&svg); err != nil || !strings.Contains(svg.String(), "<title") {
			t.Errorf("%v", err)
		}
	}
}

// painted paints the rectangles of a scene.
func painted(s draw.Scene) image.Image {
	const perMM = dot / 0.8
	side := int(s.WidthMM*perMM + 0.5)
	picture := image.NewGray(image.Rect(0, 0, side, side))
	for _, item := range s.Items {
		r := item.(draw.Rect)
		shade := color.Gray{Y: 255}
		if r.Fill.Color == "#000000" {
			shade.Y = 0
		}
		for y := int(r.Y*perMM + 0.5); y < int((r.Y+r.HeightMM)*perMM+0.5); y++ {
			for x := int(r.X*perMM + 0.5); x < int((r.X+r.WidthMM)*perMM+0.5); x++ {
				picture.SetGray(x, y, shade)
			}
		}
	}
	return picture
}

func TestQRLinesAreReadBack(t *testing.T) {
	for _, text := range addresses() {
		lines, err := draw.QRLines(text)
		if err != nil {
			t.Fatal(err)
		}
		if got := readBack(t, terminal(lines)); got != text {
			t.Errorf("read %q, want %q", got, text)
		}
	}
}

// terminal paints lines as a terminal with a dark ground does.
func terminal(lines []string) image.Image {
	wide := len([]rune(lines[0]))
	picture := image.NewGray(image.Rect(0, 0, wide*dot, 2*len(lines)*dot))
	light := map[rune][2]bool{'█': {true, true}, '▀': {true, false}, '▄': {false, true}}
	for row, line := range lines {
		for x, sign := range []rune(line) {
			for half, lit := range light[sign] {
				for i := range dot * dot {
					if lit {
						picture.SetGray(x*dot+i%dot, (2*row+half)*dot+i/dot, color.Gray{Y: 255})
					}
				}
			}
		}
	}
	return picture
}

func TestQRRefuses(t *testing.T) {
	for _, text := range []string{"", strings.Repeat("x", 3000)} {
		if _, err := draw.QR(text, "sign"); err == nil {
			t.Errorf("%d signs are drawn", len(text))
		}
		if _, err := draw.QRLines(text); err == nil {
			t.Errorf("%d signs are written", len(text))
		}
	}
}
