package intake

import (
	"regexp"
	"slices"
	"strings"

	"waterstrike/geo/coord"
)

// heading is what a column's name says.
type heading struct {
	name   string
	words  []string // without the unit
	length string   // unit, as a mapping writes it
	rate   string
	datum  string // such as "Minna"
	grid   string // such as "WGS 84 / UTM zone 37N"
}

var (
	bracketed = regexp.MustCompile(`[(\[]([^)\]]*)[)\]]`)
	utmName   = regexp.MustCompile(`(?i)(?:wgs ?84[ _-]*)?utm[ _-]*(?:zone[ _-]*)?(\d{1,2}) ?([ns])(?:$|[^a-z])`)
)

// headingOf reads a column's name: units stand in brackets or at its end ("Depth (ft)",
// "Profondeur_m"), the datum of a position in brackets or within.
func headingOf(name string) heading {
	h := heading{name: name}
	if m := utmName.FindStringSubmatch(name); m != nil {
		h.grid = "WGS 84 / UTM zone " + m[1] + strings.ToUpper(m[2])
	}
	rest := name
	for _, m := range bracketed.FindAllStringSubmatch(name, -1) {
		if _, err := coord.ParseDatum(m[1]); err == nil {
			h.datum = m[1]
		}
		if h.unit(m[1]) || h.datum != "" {
			rest = strings.Replace(rest, m[0], " ", 1)
		}
	}
	h.words = h.withoutUnit(wordsOf(utmName.ReplaceAllString(rest, " ")))
	return h
}

// unit takes a text as the unit: "m", "L/min", "m/sol" (metres below ground).
func (h *heading) unit(text string) bool {
	if _, known := rateUnits[unitName(text)]; known {
		h.rate = text
		return true
	}
	first, _, _ := strings.Cut(text, "/")
	if _, known := lengthUnits[unitName(first)]; known {
		h.length = strings.TrimSpace(first)
		return true
	}
	return false
}

// withoutUnit takes a unit off the end of a name's words.
func (h *heading) withoutUnit(words []string) []string {
	if h.length != "" || h.rate != "" {
		return words
	}
	for n := min(3, len(words)-1); n >= 1; n-- {
		tail := words[len(words)-n:]
		if n > 1 || len(tail[0]) > 2 || tail[0] == "m" || tail[0] == "ft" || tail[0] == "cm" || tail[0] == "mm" || tail[0] == "ls" {
			if h.unit(strings.Join(tail, "/")) && (n == 1 || h.rate != "") {
				return words[:len(words)-n]
			}
		}
		h.length = ""
	}
	return words
}

// match is what a column may be.
type match struct {
	meant     string
	likeness  float64
	languages []string // in which its name is that
}

// sure is the least likeness that names a column.
const sure = 0.82

// margin is how far behind the likeliest meaning of a name another may stay and still count.
const margin = 0.05

// matches lists what the words of a name may mean, the likeliest of each.
func (h heading) matches(list []names) []match {
	var out []match
	for _, n := range list {
		if n.value != "" {
			continue
		}
		best := match{meant: n.meant}
		for i, words := range n.words {
			switch l := likeness(h.words, words); {
			case l > best.likeness:
				best.likeness, best.languages = l, []string{n.language[i]}
			case l == best.likeness:
				best.languages = append(best.languages, n.language[i])
			}
		}
		if best.likeness >= sure {
			out = append(out, best)
		}
	}
	top := 0.0
	for _, m := range out {
		top = max(top, m.likeness)
	}
	return slices.DeleteFunc(out, func(m match) bool { return m.likeness < top-margin })
}
