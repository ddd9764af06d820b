package intake

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"waterstrike/geo"
	"waterstrike/geo/soil"
)

// maxWords bounds the descriptions whose reading is remembered, and the unread words
// that are counted.
const maxWords = 20000

// mostUnread is how many unread words a summary lists.
const mostUnread = 20

// dittoFactor is what a class loses in certainty when the words only point to the layer
// above; judgement, no source.
const dittoFactor = 0.8

// described is the layer read last: what "as above" points to.
type described struct {
	key     string
	baseM   float64
	reading soil.Reading
}

// read reads a description, from memory when it was met before, and counts its unread
// words.
func (r *run) read(words string) soil.Reading {
	reading, met := r.known[words]
	if !met {
		reading = r.words.Read(words)
		if len(r.known) < maxWords {
			r.known[words] = reading
		}
	}
	for _, word := range reading.Unread {
		if _, counted := r.unread[word]; counted || len(r.unread) < maxWords {
			r.unread[word]++
		}
	}
	return reading
}

// resolve gives a description that points to the layer above that layer's reading, when
// it was read just before and ends where this one begins.
func (r *run) resolve(key string, top, base float64, reading soil.Reading) soil.Reading {
	above := r.above
	if reading.Ditto && reading.Class == soil.Unknown && above.key == key && math.Abs(above.baseM-top) <= closeEnoughM {
		reading.Class, reading.Grade, reading.Clayey = above.reading.Class, above.reading.Grade, above.reading.Clayey
		reading.Confidence = above.reading.Confidence * dittoFactor
		reading.Colour, reading.Hardness = cmp.Or(reading.Colour, above.reading.Colour), cmp.Or(reading.Hardness, above.reading.Hardness)
	}
	r.above = described{key, base, reading}
	return reading
}

// strikes returns where the words of a layer say that water came in; words of water alone
// ("water supply") say it of the layer's top. Nothing when the mapping names a source of
// strikes: those records must not stand there twice.
func (r *run) strikes(c *cells, l geo.Layer, reading soil.Reading) []any {
	if r.strikesMapped {
		return nil
	}
	var out []any
	for _, d := range reading.WaterAt {
		unit := cmp.Or(d.Unit, c.table.fields["top"].Unit)
		m := d.Value * lengthUnits[unitName(unit)]
		if m > 0 && l.TopM <= m && m <= l.BaseM && !r.struck(m) {
			out = append(out, geo.Strike{DepthM: m, Words: l.Words})
		}
	}
	if reading.Water && reading.Class == soil.Unknown && len(reading.WaterAt) == 0 && !r.struck(l.TopM) {
		out = append(out, geo.Strike{DepthM: l.TopM, Words: l.Words})
	}
	return out
}

// struck reports that the rows of this bore already hold a strike at a depth: a remark
// on the border of two layers may stand with both.
func (r *run) struck(m float64) bool {
	for _, h := range r.group.rows {
		for _, p := range h.parts {
			if s, ok := p.(geo.Strike); ok && math.Abs(s.DepthM-m) <= closeEnoughM {
				return true
			}
		}
	}
	return false
}

// hasStrikes reports that some table of a mapping reads strikes.
func hasStrikes(tables []Table) bool {
	return slices.ContainsFunc(tables, func(t Table) bool {
		_, field := t.Fields["strikes"]
		return t.Kind == "strikes" || field || hasStrikes(t.Parts)
	})
}

// judgeWords reports a description that names no material known: for words that the
// vocabulary lacks, or for want of any. Words of water alone are only noted: they are a strike.
func (c *cells) judgeWords(reading soil.Reading, words string) {
	name := c.table.fields["words"].name
	switch {
	case reading.Class != soil.Unknown:
	case len(reading.Unread) > 0:
		c.reportValue(geo.Doubt, UnknownSoilWord, name, strings.Join(reading.Unread, " "), words)
	case reading.Water:
		c.report(geo.Note, NoDescription, name, words)
	default:
		c.report(geo.Doubt, NoDescription, name, words)
	}
}

// WordCount counts the descriptions that hold a word the vocabulary lacks.
type WordCount struct {
	Word string `json:"word"`
	N    int    `json:"n"`
}

// mostFrequent lists the unread words met most, most first.
func mostFrequent(unread map[string]int) []WordCount {
	var out []WordCount
	for word, n := range unread {
		out = append(out, WordCount{word, n})
	}
	slices.SortFunc(out, func(a, b WordCount) int {
		return cmp.Or(cmp.Compare(b.N, a.N), cmp.Compare(a.Word, b.Word))
	})
	return out[:min(len(out), mostUnread)]
}
