package intake

import (
	"strings"

	"waterstrike/geo"
)

// likelyVillage is the least confidence with which a place is said to be a village.
const likelyVillage = 0.6

// MatchPlace finds the village that a place name means, and how sure that is, 0 to 1: 1
// for the name itself, whatever its capitals, accents and signs; a tenth less for each
// slip of spelling, of which a word of five letters bears one; divided by the number of
// villages that share the name. It is a rank for a person to confirm, not a chance. ""
// when no village is like it.
func MatchPlace(name string, villages []geo.Village) (geo.VillageID, float64) {
	v, confidence := newPlaces(villages).match(name)
	return v.ID, confidence
}

// places are the villages that place names are matched to.
type places struct {
	villages []geo.Village
	words    [][]string
	exact    map[string][]int // by folded name
	met      map[string]placed
}

// add makes a village known to the rows that follow.
func (p *places) add(v geo.Village) {
	words := wordsOf(v.Name)
	key := strings.Join(words, " ")
	p.exact[key] = append(p.exact[key], len(p.villages))
	p.villages, p.words = append(p.villages, v), append(p.words, words)
	clear(p.met)
}

type placed struct {
	village    geo.Village
	confidence float64
}

func newPlaces(villages []geo.Village) *places {
	p := &places{exact: map[string][]int{}, met: map[string]placed{}}
	for _, v := range villages {
		p.add(v)
	}
	return p
}

func (p *places) match(name string) (geo.Village, float64) {
	words := wordsOf(name)
	key := strings.Join(words, " ")
	if found, met := p.met[key]; met {
		return found.village, found.confidence
	}
	found := p.find(words, key)
	if len(p.met) < maxWords {
		p.met[key] = found
	}
	return found.village, found.confidence
}

func (p *places) find(words []string, key string) placed {
	if len(words) == 0 {
		return placed{}
	}
	if same := p.exact[key]; len(same) > 0 {
		return placed{p.villages[same[0]], 1 / float64(len(same))}
	}
	best, alikes, at := 0.0, 0, -1
	for i, other := range p.words {
		if len(other) != len(words) {
			continue
		}
		switch l := likeness(words, other); {
		case l > best:
			best, alikes, at = l, 1, i
		case l == best && l > 0:
			alikes++
		}
	}
	if at < 0 {
		return placed{}
	}
	return placed{p.villages[at], best / float64(alikes)}
}

// suggest says which village a bore without a position may belong to.
func (r *run) suggest(c *cells) {
	if v, confidence := r.places.match(c.text("place")); confidence >= likelyVillage {
		c.reportVillage(geo.Note, PlaceIsVillage, "place", v, confidence)
	}
}

// reportVillage says which village the text of a field is taken for, and how surely.
func (c *cells) reportVillage(severity geo.Severity, code geo.Code, field string, v geo.Village, confidence float64) {
	read := quote(c.text(field))
	c.issues = append(c.issues, geo.Issue{
		Severity: severity, File: c.table.File, Row: c.number, Column: c.table.fields[field].name, Read: read, Record: c.record,
		Message: geo.Say(code, geo.With("value", geo.Text(read)), geo.With("village", geo.Text(v.Name)),
			geo.With("n", geo.Count(int(100*confidence+0.5)))),
	})
}
