package say

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"golang.org/x/text/feature/plural"
)

// ErrMissing marks a code that the catalogue does not hold, or an argument that
// a message needs and did not get.
var ErrMissing = errors.New("missing")

// Say returns a message in a language. What cannot be said stays visible:
// an unknown code as ⟨code⟩, a missing or wrong argument as ⟨name⟩.
func (c *Catalogue) Say(l Lang, m Message) string {
	s, _ := c.TrySay(l, m) // the marks in the text are the report
	return s
}

// TrySay is [Catalogue.Say] with a report of everything that could not be said.
// The text is returned in any case. The error is [ErrMissing] for an unknown code
// or an absent argument. Arguments that the text does not use are no fault: they
// still serve those who read the message as data.
func (c *Catalogue) TrySay(l Lang, m Message) (string, error) {
	if !l.known() {
		return mark(m.Code), fmt.Errorf("say: language %d is not known", uint8(l))
	}
	e, ok := c.entries[m.Code]
	if !ok {
		return mark(m.Code), fmt.Errorf("say: code %q: %w", m.Code, ErrMissing)
	}
	var b strings.Builder
	var faults []error
	for _, p := range e[l] {
		s, err := c.fill(l, p, m)
		if err != nil {
			err = fmt.Errorf("say: %s: {%s}: %w", m.Code, p.name, err)
		}
		if s == "" && err != nil { // a nested message brings its own mark
			s = mark(p.name)
		}
		b.WriteString(s)
		faults = append(faults, err)
	}
	return b.String(), errors.Join(faults...)
}

func mark(s string) string { return "⟨" + s + "⟩" }

// fill writes one part of a text.
func (c *Catalogue) fill(l Lang, p part, m Message) (string, error) {
	if p.name == "" {
		return p.text, nil
	}
	v, ok := m.arg(p.name)
	if !ok {
		return "", ErrMissing
	}
	want := c.kinds[p.name]
	if v.kind != want && want != KindAny {
		return "", fmt.Errorf("got a %s, want a %s", v.kind, want)
	}
	if err := v.check(); err != nil {
		return "", err
	}
	if p.forms != nil {
		return choose(l, p.forms, int(v.hi)), nil
	}
	if want == KindAny {
		return c.writeExact(l, v)
	}
	return c.write(l, v)
}

// writeExact is write for values that are compared: a difference of a centimetre shows.
func (c *Catalogue) writeExact(l Lang, v Value) (string, error) {
	switch v.kind {
	case KindMetres:
		return l.span(v.lo, v.hi, l.exact(1)) + nbsp + "m", nil
	case KindYield:
		return l.span(v.lo, v.hi, l.exact(0)) + nbsp + "L/s", nil
	case KindNumber:
		return l.span(v.lo, v.hi, l.exact(0)), nil
	}
	return c.write(l, v)
}

// choose picks the plural form of a count by the CLDR rules.
func choose(l Lang, forms map[string]string, n int) string {
	if s, ok := forms["zero"]; ok && n == 0 {
		return s
	}
	form := plural.Cardinal.MatchPlural(styles[l].tag, max(n, -n), 0, 0, 0, 0)
	name := map[plural.Form]string{plural.One: "one", plural.Many: "many"}[form]
	if s, ok := forms[name]; ok {
		return s
	}
	return forms["other"]
}

// write turns a checked value into text.
func (c *Catalogue) write(l Lang, v Value) (string, error) {
	switch v.kind {
	case KindMetres:
		return l.span(v.lo, v.hi, l.fixed(1)) + nbsp + "m", nil
	case KindDistance:
		return l.distance(v.lo), nil
	case KindYield:
		return l.yield(v.lo, v.hi), nil
	case KindChance:
		return l.chance(v.lo, v.hi), nil
	case KindShare:
		return l.number(100*v.lo, 0) + styles[l].percent, nil
	case KindCount:
		return l.span(v.lo, v.hi, l.fixed(0)), nil
	case KindNumber:
		decimals, err := strconv.Atoi(v.text)
		return l.span(v.lo, v.hi, l.fixed(decimals)), err
	case KindDegrees:
		return l.number(v.lo, 0) + "°", nil
	case KindPosition:
		return l.axis(v.lo, 0) + styles[l].pairSep + l.axis(v.hi, 2), nil
	case KindMoney:
		return l.money(v.lo, v.hi, v.text), nil
	case KindText:
		return v.text, nil
	case KindCode:
		return c.TrySay(l, *v.nested)
	case KindDate:
		return c.date(l, v)
	case KindMonth:
		return c.month(l, int(v.lo))
	}
	return "", fmt.Errorf("kind %q is not known", v.kind)
}
