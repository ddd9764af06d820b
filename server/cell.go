package server

import (
	"math"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"waterstrike/geo"
)

// cell is one thing that a form asks of a T: how it is asked, and how it gets into a T and
// out of it. Its label is the code "entry.LIST.NAME" of the catalogue.
type cell[T any] struct {
	name    string
	kind    string   // "metres", "number", "text", "long", "date", "choice", "tick" or "months"
	choices []string // of a choice; a blank one comes first where nothing need be chosen
	words   string   // what codes of the choices begin with
	get     func(*T) string
	set     func(*T, string) geo.Code // takes what was written, trimmed; answers with what is wrong
}

// The faults of one cell.
const (
	faultNumber geo.Code = "entry.fault.number"
	faultDate   geo.Code = "entry.fault.date"
	faultChoice geo.Code = "entry.fault.choice"
	faultNeeded geo.Code = "entry.fault.needed"
	faultLong   geo.Code = "entry.fault.long"
	faultUnit   geo.Code = "entry.fault.unit"
)

const (
	maxWords = 400 // characters of one cell; a long one holds ten times as many
	maxRows  = 200 // of one list
)

// fault is what is wrong with one field of a form.
type fault struct {
	Name  string `json:"name"`
	Label string `json:"label"`
	Words string `json:"words"`
}

// typed tells whether what stands in a cell was put there by somebody: a choice that is
// never open is made by the browser.
func (c cell[T]) typed() bool { return c.kind != "choice" || slices.Contains(c.choices, "") }

// take reads a cell of a form into a T.
func (c cell[T]) take(t *T, text string) geo.Code {
	text = strings.TrimSpace(strings.ToValidUTF8(text, "\ufffd"))
	most := maxWords
	if c.kind == "long" {
		most *= 10
	}
	switch {
	case len([]rune(text)) > most:
		return faultLong
	case (c.kind == "metres" || c.kind == "number") && text != "" && text == c.get(t): // as it was shown: more may be known
		return ""
	case c.kind == "choice" && !slices.Contains(c.choices, text) && text != c.get(t): // what a record has from elsewhere stays
		return faultChoice
	}
	return c.set(t, text)
}

// words is a cell of free text.
func words[T any, S ~string](name, kind string, at func(*T) *S) cell[T] {
	return cell[T]{
		name: name, kind: kind,
		get: func(t *T) string { return string(*at(t)) },
		set: func(t *T, text string) geo.Code { *at(t) = S(text); return "" },
	}
}

// choice is a cell in which one of a list is chosen.
func choice[T any, S ~string](name, codes string, list []S, at func(*T) *S) cell[T] {
	c := words(name, "choice", at)
	c.words = codes
	for _, s := range list {
		c.choices = append(c.choices, string(s))
	}
	return c
}

// openChoice is a choice that may stay open: nothing is chosen before somebody chooses, and
// the record then says that it is not known.
func openChoice[T any, S ~string](name, codes string, list []S, unknown S, at func(*T) *S) cell[T] {
	c := choice(name, codes, list, at)
	c.choices = slices.DeleteFunc(append([]string{""}, c.choices...), func(code string) bool { return code == string(unknown) && code != "" })
	c.get = func(t *T) string {
		if *at(t) == unknown {
			return ""
		}
		return string(*at(t))
	}
	c.set = func(t *T, text string) geo.Code {
		if *at(t) = S(text); text == "" {
			*at(t) = unknown
		}
		return ""
	}
	return c
}

// neededChoice is a choice that somebody has to make.
func neededChoice[T any, S ~string](name, codes string, list []S, at func(*T) *S) cell[T] {
	c := openChoice(name, codes, list, "", at)
	set := c.set
	c.set = func(t *T, text string) geo.Code {
		if text == "" {
			return faultNeeded
		}
		return set(t, text)
	}
	return c
}

// maybeNumber is a cell of a number that may be missing.
func maybeNumber[T any](name, kind string, at func(*T) *geo.Opt[float64]) cell[T] {
	return cell[T]{
		name: name, kind: kind,
		get: func(t *T) string { return writtenNumber(*at(t)) },
		set: func(t *T, text string) geo.Code {
			v, wrong := readNumber(text)
			*at(t) = v
			return wrong
		},
	}
}

// mustNumber is a cell of a number that has to be there.
func mustNumber[T any](name, kind string, at func(*T) *float64) cell[T] {
	return cell[T]{
		name: name, kind: kind,
		get: func(t *T) string { return writtenNumber(geo.Some(*at(t))) },
		set: func(t *T, text string) geo.Code {
			v, wrong := readNumber(text)
			if wrong == "" && !v.Known() {
				wrong = faultNeeded
			}
			*at(t) = v.Or(0)
			return wrong
		},
	}
}

// writtenNumber writes a number for a form, to six digits behind the point: what feet or
// gallons were turned into has no more.
func writtenNumber(o geo.Opt[float64]) string {
	v, ok := o.Get()
	if !ok {
		return ""
	}
	if rounded := math.Round(v*1e6) / 1e6; rounded != 0 || v == 0 {
		v = rounded
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

// readNumber reads a number with a decimal point or comma; blank is missing.
func readNumber(text string) (geo.Opt[float64], geo.Code) {
	if text == "" {
		return geo.Opt[float64]{}, ""
	}
	v, err := strconv.ParseFloat(strings.Replace(strings.ReplaceAll(text, "−", "-"), ",", ".", 1), 64)
	if err != nil || v != v || v > 1e15 || v < -1e15 {
		return geo.Opt[float64]{}, faultNumber
	}
	return geo.Some(v), ""
}

// maybeDate is a cell of a date, as precisely as it is known.
func maybeDate[T any](name string, at func(*T) *geo.Opt[geo.Date]) cell[T] {
	return cell[T]{
		name: name, kind: "date",
		get: func(t *T) string { return at(t).Or(geo.Date{}).String() },
		set: func(t *T, text string) geo.Code {
			*at(t) = geo.Opt[geo.Date]{}
			if text == "" {
				return ""
			}
			d, err := geo.ParseDate(text)
			if err != nil {
				return faultDate
			}
			*at(t) = geo.Some(d)
			return ""
		},
	}
}

// tick is a cell that is ticked or not.
func tick[T any](name string, at func(*T) *bool) cell[T] {
	return cell[T]{
		name: name, kind: "tick",
		get: func(t *T) string {
			if *at(t) {
				return "on"
			}
			return ""
		},
		set: func(t *T, text string) geo.Code { *at(t) = text == "on"; return "" },
	}
}

// takeAll reads the cells of one row, whose names in the form begin in the same way.
func takeAll[T any](p speaker, list, prefix string, cells []cell[T], sent url.Values, t *T) []fault {
	var out []fault
	for _, c := range cells {
		if wrong := c.take(t, sent.Get(prefix+c.name)); wrong != "" {
			out = append(out, p.fault(prefix+c.name, "entry."+list+"."+c.name, wrong, sent.Get(prefix+c.name)))
		}
	}
	return out
}

// fault says what is wrong with a field.
func (s speaker) fault(name, label string, wrong geo.Code, text string) fault {
	words := s.Say(label)
	return fault{name, words, s.tell(geo.Say(wrong, geo.With("field", geo.Text(words)), geo.With("value", geo.Text(clip(text)))))}
}
