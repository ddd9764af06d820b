package pumptest

import (
	"regexp"
	"strings"

	"waterstrike/advisor/hydraulics"
	"waterstrike/geo"
)

// decimalComma tells that a text writes decimals with a comma.
var decimalComma = regexp.MustCompile(`[0-9],[0-9]{1,2}([^0-9]|$)|(^|[^0-9])0,[0-9]`)

// leading is a number at the head of a value whose thousands are parted by commas, or that has
// three decimals after a comma.
var leading = regexp.MustCompile(`^[1-9][0-9]{0,2}(,[0-9]{3})+(\.[0-9]+)?`)

// plain takes commas out of a value that parts thousands by them. Where nothing in the text
// tells what a comma is, it is asked: a thousand times too little would look like an answer.
func (t *table) plain(line int, value string, told bool) (string, error) {
	number := leading.FindString(value)
	switch {
	case number == "" || told && !t.pointed && strings.Count(number, ",") == 1:
		return value, nil
	case !told && strings.Count(number, ",") == 1 && !strings.Contains(number, "."):
		return "", refuse("pumping.which-comma", row(line), text("value", value), text("entry", strings.Replace(number, ",", "", 1)), text("why", strings.Replace(number, ",", ".", 1)))
	}
	return strings.ReplaceAll(number, ",", "") + value[len(number):], nil
}

// stated splits a line that states a value.
func stated(line string) (name, value string, ok bool) {
	at := strings.IndexAny(line, ":=")
	if at < 0 || line[0] >= '0' && line[0] <= '9' || line[0] == '.' { // a reading such as 1:30
		return "", "", false
	}
	return plain(strings.Trim(line[:at], " \t")), strings.Trim(line[at+1:], " \t;,"), true
}

// state takes a value of the whole test.
func (s *Sheet) state(line int, name, value string) error {
	switch name {
	case "kind", "essai", "ensaio", "test": // the columns tell it where nobody says
		for _, k := range Kinds() {
			if plain(value) == string(k) || kindWords[plain(value)] == k {
				s.Kind = k
				return nil
			}
		}
		return refuse("pumping.unknown-kind", row(line), text("value", value))
	case "water table", "nappe libre", "nivel livre":
		word := plain(value)
		s.WaterTable = word == "yes" || word == "oui" || word == "sim"
		if !s.WaterTable && word != "no" && word != "non" && word != "nao" {
			return refuse("pumping.yes-or-no", row(line), text("value", value))
		}
		return nil
	}
	if known, ok := otherWords[name]; ok {
		name = known
	}
	switch name {
	case "buckets", "bailed":
		return s.counted(line, name, value)
	case "discharge":
		if said, err := s.rate(line, value); said || err != nil {
			return err
		}
	}
	g, ok := givens[name]
	if !ok {
		return refuse("pumping.unknown-value", row(line), text("value", name), text("allowed", strings.Join(Names(), ", ")))
	}
	v, ok := g.of.quantity(value)
	if !ok || v < 0 || v == 0 && name != "rest" {
		return refuse("pumping.bad-value", row(line), text("field", name), text("value", value), text("entry", g.example(name)))
	}
	*g.set(s) = geo.Some(v)
	return nil
}

// counted takes what was measured by bucket and watch.
func (s *Sheet) counted(line int, name, value string) error {
	if name == "bailed" {
		c, err := hydraulics.ReadCount(value)
		if err != nil {
			return refuse("pumping.bad-bails", row(line), text("value", value))
		}
		s.Bailed = geo.Some(c)
		return nil
	}
	d, err := hydraulics.ReadBuckets(value)
	if err != nil {
		return refuse("pumping.bad-buckets", row(line), text("value", value))
	}
	s.ByHand, s.Discharge = geo.Some(d), geo.Some(d.M3D())
	return nil
}

// since are the words between a discharge and the time from which it ran.
var since = regexp.MustCompile(`(?i)^(.+?)[ ,;]+(?:from|after|since|depuis|à partir de|a partir de|après|desde|depois de|após) +(.+)$`)

// rate takes a discharge that ran from a time on: "18 m3/h from 60 min"; said is false for one
// without a time.
func (s *Sheet) rate(line int, value string) (said bool, err error) {
	m := since.FindStringSubmatch(value)
	if m == nil {
		return false, nil
	}
	q, ok1 := discharge.quantity(m[1])
	days, ok2 := duration.quantity(m[2])
	if !ok1 || !ok2 || q < 0 || days < 0 {
		return true, refuse("pumping.bad-value", row(line), text("field", "discharge"), text("value", value), text("entry", "788 m3/d from 60 min"))
	}
	if first, ok := s.Discharge.Get(); ok && len(s.Rates) == 0 {
		s.Rates = []hydraulics.Rate{{FromDays: 0, DischargeM3D: first}}
	}
	if n := len(s.Rates); n > 0 && days <= s.Rates[n-1].FromDays {
		return true, refuse("pumping.out-of-order", row(line))
	}
	s.Rates = append(s.Rates, hydraulics.Rate{FromDays: days, DischargeM3D: q})
	return true, nil
}
