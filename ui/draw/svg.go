package draw

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
)

// WriteSVG writes the scene as an SVG 1.1 document with sizes in millimetres. The same
// scene gives the same bytes. It returns an error, and writes nothing, when a number
// is not finite or a pattern is not known.
func (s Scene) WriteSVG(w io.Writer) error {
	v := &svgWriter{id: s.ID, tiles: map[string]bool{}}
	v.scene(s)
	if v.err != nil {
		return v.err
	}
	_, err := w.Write(v.buf.Bytes())
	return err
}

// svgWriter collects the document; the first fault stays in err.
type svgWriter struct {
	buf   bytes.Buffer
	id    string
	tiles map[string]bool
	clips int
	err   error
}

func (v *svgWriter) fail(format string, args ...any) {
	if v.err == nil {
		v.err = fmt.Errorf("draw: "+format, args...)
	}
}

// attr writes one attribute; a float64 is rounded to 1/1000 mm.
func (v *svgWriter) attr(name string, value any) {
	v.buf.WriteString(" " + name + `="`)
	switch x := value.(type) {
	case float64:
		v.buf.WriteString(v.num(x))
	case string:
		v.escape(x)
	}
	v.buf.WriteByte('"')
}

func (v *svgWriter) num(x float64) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		v.fail("a coordinate or size is not a finite number")
		return "0"
	}
	r := math.Round(x*1000) / 1000
	if r == 0 {
		return "0" // never "-0"
	}
	return strconv.FormatFloat(r, 'f', -1, 64)
}

func (v *svgWriter) escape(s string) {
	if err := xml.EscapeText(&v.buf, []byte(s)); err != nil {
		v.fail("%v", err)
	}
}

func (v *svgWriter) scene(s Scene) {
	if !(s.WidthMM > 0) || !(s.HeightMM > 0) {
		v.fail("the sheet is %v by %v mm; both must be above 0", s.WidthMM, s.HeightMM)
		return
	}
	if strings.Trim(s.ID, "abcdefghijklmnopqrstuvwxyz0123456789-") != "" {
		v.fail("the id %q must be lower-case letters, digits and hyphens", s.ID)
		return
	}
	v.buf.WriteString(`<svg xmlns="http://www.w3.org/2000/svg"`)
	v.attr("width", v.num(s.WidthMM)+"mm")
	v.attr("height", v.num(s.HeightMM)+"mm")
	v.attr("viewBox", "0 0 "+v.num(s.WidthMM)+" "+v.num(s.HeightMM))
	v.attr("role", "img")
	v.attr("aria-labelledby", v.id+"title "+v.id+"desc")
	v.attr("font-family", "sans-serif")
	v.buf.WriteString(">\n")
	v.element("title", v.id+"title", s.Title)
	v.element("desc", v.id+"desc", s.Desc)
	v.items(s.Items)
	v.buf.WriteString("</svg>\n")
}

func (v *svgWriter) element(name, id, words string) {
	v.buf.WriteString("<" + name)
	if id != "" {
		v.attr("id", id)
	}
	v.buf.WriteByte('>')
	v.escape(words)
	v.buf.WriteString("</" + name + ">\n")
}

func (v *svgWriter) items(items []Item) {
	for i := 0; i < len(items); i++ {
		if together := clearOfEachOther(items[i:]); len(together) > 1 {
			v.run(together)
			i += len(together) - 1
			continue
		}
		switch it := items[i].(type) {
		case Path:
			v.painted(it.Fill, func() { v.path(it) }, it.Stroke)
		case Circle:
			v.painted(it.Fill, func() { v.circle(it) }, it.Stroke)
		case Rect:
			v.painted(it.Fill, func() { v.rect(it) }, it.Stroke)
		case Text:
			v.text(it)
		case Group:
			v.group(it)
		}
	}
}
