package server

import (
	"net/url"
	"slices"
	"strconv"
	"strings"

	"waterstrike/geo/arrival"
	"waterstrike/geo/intake"
)

// decidedBy reads what a person decided from the form of a matching. What the form does not
// name stays as it was proposed.
func decidedBy(a arrival.Arrival, sent url.Values) arrival.Decided {
	d := arrival.Decided{Dataset: strings.TrimSpace(clip(sent.Get("dataset"))), Office: strings.TrimSpace(clip(sent.Get("office")))}
	if d.Dataset == "" {
		d.Dataset = a.Decided.Dataset
	}
	if a.Given != "" {
		return arrival.Decided{Dataset: a.Decided.Dataset, Office: a.Decided.Office}
	}
	d.Chosen = intake.Chosen{}
	for i, f := range a.Report.Files {
		id := strconv.Itoa(i)
		if !sent.Has("kind." + id) {
			if was, decided := a.Decided.Chosen[f.File]; decided {
				d.Chosen[f.File] = was
			}
			continue
		}
		d.Chosen[f.File] = tableDecided(id, f, sent)
	}
	return d
}

func tableDecided(id string, f intake.ProposedFile, sent url.Values) intake.ChosenTable {
	t := intake.ChosenTable{
		Kind: known(sent.Get("kind."+id), intake.Kinds()), Encoding: known(sent.Get("encoding."+id), intake.Encodings()),
		Decimal: known(sent.Get("decimal."+id), []string{".", ","}),
		Grid:    strings.TrimSpace(clip(sent.Get("grid." + id))), Datum: strings.TrimSpace(clip(sent.Get("datum." + id))),
	}
	if f.Kind == "" || t.Kind != f.Kind || sent.Get("was."+id) != f.Kind || readOtherwise(f, t) {
		return t // columns of another kind, or whose cells read otherwise, are looked at anew
	}
	for i, c := range f.Columns {
		t.Columns = append(t.Columns, columnDecided(id+"."+strconv.Itoa(i), f.Kind, c, sent))
	}
	return t
}

// readOtherwise tells that a person wants a text read in another way than it was.
func readOtherwise(f intake.ProposedFile, t intake.ChosenTable) bool {
	return f.Text && (t.Encoding != f.Encoding || t.Decimal != decimalOf(f))
}

func columnDecided(id, kind string, c intake.ProposedColumn, sent url.Values) intake.ChosenColumn {
	out := intake.ChosenColumn{
		Means:   known(sent.Get("means."+id), intake.Meanings(kind)),
		NoZeros: sent.Get("zeros."+id) == "yes", Years: sent.Get("years."+id) == "yes",
	}
	if out.Means != c.Means { // what was said of the former meaning says nothing of this one
		return intake.ChosenColumn{Means: out.Means}
	}
	written := slices.Concat(intake.LengthUnits(), intake.RateUnits(), intake.DateForms(), []string{c.Written})
	out.Written = known(sent.Get("written."+id), written)
	for i, value := range c.Values {
		code := known(sent.Get("value."+id+"."+strconv.Itoa(i)), append([]string{value.Code}, c.Codes...))
		if code != "" {
			if out.Values == nil {
				out.Values = map[string]string{}
			}
			out.Values[value.Text] = code
		}
	}
	return out
}

// known keeps a value that is one of a list; "" for any other.
func known(value string, list []string) string {
	if slices.Contains(list, value) {
		return value
	}
	return ""
}
