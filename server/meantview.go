package server

import (
	"net/url"
	"slices"
	"strconv"

	"waterstrike/geo"
	"waterstrike/server/tile"
	"waterstrike/ui/draw"
	"waterstrike/ui/say"
)

// meantView asks which bores are meant; on the map it is the legend too.
type meantView struct {
	Lang        say.Lang
	Outcomes    []signView
	Methods     []choiceView
	From, To    string
	Least, Most string
	Years       string // in which there are any
	On          bool   // some bores are left out
	Words       string // how many kinds of limits there are
}

// signView is a choice with its sign.
type signView struct {
	choiceView
	Sign string
}

// meant prepares the choices: nothing chosen means all.
func (s speaker) meant(q url.Values, all *tile.Bores, f tile.Filter) *meantView {
	v := &meantView{Lang: s.lang, From: clip(q.Get(fieldFromYear)), To: clip(q.Get(fieldToYear)), Least: clip(q.Get(fieldLeastM)), Most: clip(q.Get(fieldMostM))}
	for _, key := range draw.Outcomes() {
		chosen := slices.Contains(f.Outcomes, geo.Outcome(key))
		v.Outcomes = append(v.Outcomes, signView{choiceView{Value: key, Name: s.Say("outcome." + key), Chosen: chosen}, key})
	}
	for _, m := range all.Methods() {
		v.Methods = append(v.Methods, choiceView{Value: string(m), Name: s.method(m), Chosen: slices.Contains(f.Methods, m)})
	}
	if first, last := all.Years(); first != 0 {
		v.Years = s.Say("map.years", say.With("year", say.Text(strconv.Itoa(first))), say.With("value", say.Text(strconv.Itoa(last))))
	}
	limits := 0
	for _, field := range []string{fieldOutcome, fieldMethod, fieldFromYear, fieldToYear, fieldLeastM, fieldMostM} {
		if len(given(q, field)) > 0 {
			limits++
		}
	}
	v.On, v.Words = limits > 0, s.Say("map.limits", say.With("n", say.Count(limits)))
	return v
}
