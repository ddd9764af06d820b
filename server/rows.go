package server

import (
	"net/url"
	"slices"
	"strconv"
	"strings"

	"waterstrike/geo"
)

// rows is a list within a form, seen from the T that it fills.
type rows[T any] interface {
	view(p speaker, sent url.Values) listView
	write(t *T, into url.Values)
	read(p speaker, sent url.Values, old, t *T) []fault
}

// rowsOf is a list of values P. A row that came with a record keeps what the form does not
// ask: its field "was" says which row of the list it is.
type rowsOf[T, P any] struct {
	name   string
	cells  []cell[P]
	at     func(*T) *[]P
	begin  func(p *P, before []P)                       // fills in what a new row has without being asked
	follow func(p *P, get func(string) string) geo.Code // works out what follows from other fields
	blanks int                                          // rows that stand ready to be filled
}

// listView is a list of rows in a form, with an empty row to copy.
type listView struct {
	Name, Add string
	Rows      []rowView
	Blank     rowView
}

type rowView struct {
	Legend string
	Fields []fieldView
}

const copied = "#" // stands for the number of the row in the empty one

func (l rowsOf[T, P]) view(p speaker, sent url.Values) listView {
	out := listView{Name: l.name, Add: p.Say("entry." + l.name + ".add")}
	numbers := l.numbers(sent)
	numbers = numbers[:min(len(numbers), maxRows)] // more are refused and not written out again: nobody types them
	for next := 0; len(numbers) < l.blanks; next++ {
		if !slices.Contains(numbers, next) {
			numbers = append(numbers, next)
		}
	}
	for _, n := range numbers {
		out.Rows = append(out.Rows, l.row(p, strconv.Itoa(n), sent))
	}
	out.Blank = l.row(p, copied, url.Values{})
	return out
}

func (l rowsOf[T, P]) row(p speaker, n string, sent url.Values) rowView {
	prefix := l.name + "." + n + "."
	out := rowView{Legend: p.Say("entry." + l.name)}
	if was := sent.Get(prefix + "was"); was != "" {
		out.Fields = append(out.Fields, fieldView{Type: "hidden", Name: prefix + "was", Value: was})
	}
	for _, c := range l.cells {
		out.Fields = append(out.Fields, fieldOf(p, l.name, prefix, c, sent))
	}
	return out
}

// numbers lists the rows of a form in their order.
func (l rowsOf[T, P]) numbers(sent url.Values) []int {
	var out []int
	for name := range sent {
		rest, mine := strings.CutPrefix(name, l.name+".")
		digits, _, ok := strings.Cut(rest, ".")
		n, err := strconv.Atoi(digits)
		if mine && ok && err == nil && n >= 0 {
			out = append(out, n)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

func (l rowsOf[T, P]) write(t *T, into url.Values) {
	for i := range *l.at(t) {
		prefix := l.name + "." + strconv.Itoa(i) + "."
		into.Set(prefix+"was", strconv.Itoa(i))
		for _, c := range l.cells {
			into.Set(prefix+c.name, c.get(&(*l.at(t))[i]))
		}
	}
}

func (l rowsOf[T, P]) read(p speaker, sent url.Values, old, t *T) (out []fault) {
	numbers := l.numbers(sent)
	if len(numbers) > maxRows {
		return []fault{p.fault(l.name, "entry."+l.name, "entry.fault.rows", strconv.Itoa(len(numbers)))}
	}
	var list []P
	for _, n := range numbers {
		prefix := l.name + "." + strconv.Itoa(n) + "."
		if l.blank(sent, prefix) {
			continue
		}
		var row P
		if was, err := strconv.Atoi(sent.Get(prefix + "was")); err == nil && was >= 0 && was < len(*l.at(old)) {
			row = (*l.at(old))[was]
		} else if l.begin != nil {
			l.begin(&row, list)
		}
		get := func(name string) string { return strings.TrimSpace(sent.Get(prefix + name)) }
		out = append(out, l.readRow(p, prefix, sent, get, list, &row)...)
		list = append(list, row)
	}
	*l.at(t) = list
	return out
}

func (l rowsOf[T, P]) readRow(p speaker, prefix string, sent url.Values, get func(string) string, before []P, row *P) []fault {
	out := takeAll(p, l.name, prefix, l.cells, sent, row)
	if l.follow == nil || len(out) > 0 {
		return out
	}
	if wrong := l.follow(row, get); wrong != "" {
		last := l.cells[len(l.cells)-1]
		return append(out, p.fault(prefix+last.name, "entry."+l.name, wrong, get(last.name)))
	}
	return out
}

func (l rowsOf[T, P]) blank(sent url.Values, prefix string) bool {
	return !slices.ContainsFunc(l.cells, func(c cell[P]) bool { return c.typed() && strings.TrimSpace(sent.Get(prefix+c.name)) != "" })
}
