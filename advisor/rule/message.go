package rule

import (
	"strconv"
	"strings"
	"unicode"

	"waterstrike/geo"
	"waterstrike/geo/soil"
)

// Message names the value for people, with its amount: the code is "told.", of, and the
// path in small letters; a soil class or a length in the path becomes an argument.
func (t Told) Message(of string) geo.Message {
	m := geo.Message{Code: geo.Code("told." + of)}
	for _, part := range t.Path {
		if _, err := soil.ParseClass(part); err == nil {
			m.Args = append(m.Args, geo.With("class", geo.Ref("class."+part)))
			continue
		}
		if number, err := strconv.ParseFloat(part, 64); err == nil { // a value by lift
			m.Args = append(m.Args, geo.With("length", geo.Metres(number)))
			continue
		}
		m.Code += geo.Code("." + dashed(part))
	}
	if !t.Plain {
		m.Args = append(m.Args, geo.With("amount", geo.Number(t.Lo)), geo.With("amount-to", geo.Number(t.Hi)))
	}
	return m
}

// dashed writes "maxDepthM" as "max-depth-m".
func dashed(name string) string {
	var b strings.Builder
	small := false
	for _, r := range name {
		if unicode.IsUpper(r) && small {
			b.WriteByte('-')
		}
		small = !unicode.IsUpper(r)
		b.WriteRune(unicode.ToLower(r))
	}
	return b.String()
}
