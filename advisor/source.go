package advisor

import (
	"strings"

	"waterstrike/advisor/rule"
	"waterstrike/geo"
)

// Source is one value that a plan is made by, and where it comes from.
type Source struct {
	Says    geo.Message `json:"says"`
	Mark    geo.Code    `json:"mark"`
	From    string      `json:"from,omitempty"`
	Answers []Answer    `json:"answers,omitempty"` // where sources differ
}

// Answer is what one source says where they differ.
type Answer struct {
	Says    geo.Message `json:"says"`
	Mark    geo.Code    `json:"mark"`
	From    string      `json:"from,omitempty"`
	InForce bool        `json:"inForce,omitempty"`
}

// sourcesOf tells the values of a method or of the rules of the well.
func sourcesOf(of string, told []rule.Told) []Source {
	out := make([]Source, len(told))
	for i, t := range told {
		out[i] = Source{Says: t.Message(of), Mark: t.Basis.Mark.Code(), From: t.Basis.Source}
		for _, a := range t.Answers {
			says := geo.Say("answer.amount", geo.With("amount", geo.Number(a.Value)))
			if a.Plain {
				says = geo.Say(geo.Code("answer." + strings.Join(t.Path, ".") + "." + a.Code))
			}
			out[i].Answers = append(out[i].Answers, Answer{says, a.Basis.Mark.Code(), a.Basis.Source, a.InForce})
		}
	}
	return out
}
