package sheet

import (
	"slices"

	"waterstrike/advisor/programme"
	"waterstrike/advisor/season"
	"waterstrike/ui/say"
)

// short is what a planner reads first.
func (s seasonSpeaker) short() (out []string) {
	p, needy := s.Programme, 0
	for _, v := range s.Villages {
		if v.Unserved > 0 {
			needy++
		}
	}
	if len(p.Picks) == 0 {
		return append([]string{s.Say("season.short.none", say.With("total", say.Count(needy)))}, s.thin()...)
	}
	out = append(out,
		s.Say("season.short.villages", say.With("n", say.Count(len(p.Picks))), say.With("total", say.Count(needy))),
		s.Say("season.short.people", say.With("gives", say.Number(p.People, 0)), say.With("spread", say.NumberRange(p.Range.P10, p.Range.P90, 0))))
	if worst, ok := p.Worst.Get(); ok {
		out = append(out, s.Say("season.short.worst", say.With("gives", say.Number(worst, 0))))
	}
	out = append(out, s.Say("season.short.money", say.With("sum", say.Number(p.Money, 0)), say.With("need", say.Number(s.Wishes.Budget, 0)),
		say.With("price", say.Number(p.Trips, 0)), say.With("most", say.Number(p.MoneyMost, 0))))
	if p.Proof != nil && s.Wishes.Caution == 0 {
		out = append(out, s.Say("season.short.proof", say.With("most", say.Number(p.Proof.Bound, 0))))
	}
	out = append(out, s.Say("season.short.attempts", say.With("need", say.Number(p.Attempts, 1)), say.With("gives", say.Number(p.Points, 1))))
	if gain, ok := s.More.Get(); ok {
		out = append(out, s.Say("season.short.more", say.With("sum", say.Number(gain.Sum, 0)), say.With("gives", say.Number(gain.Score, 0))))
	}
	if p.Unfit >= 1 {
		out = append(out, s.Say("season.short.unfit", say.With("gives", say.Number(p.Unfit, 0))))
	}
	if n := len(p.RiskUnknown); n > 0 {
		out = append(out, s.Say("season.short.untested", say.With("n", say.Count(n))))
	}
	if s.Bacteria.Found > 0 {
		out = append(out, s.Say("season.short.bacteria", say.With("n", say.Count(s.Bacteria.Found)), say.With("total", say.Count(s.Bacteria.Bores))))
	}
	return append(out, s.thin()...)
}

// thin says where there is too little to go by.
func (s seasonSpeaker) thin() (out []string) {
	if n := len(slices.DeleteFunc(slices.Clone(s.Programme.Picks), func(p programme.Pick) bool { return !unsure(s.of[p.Village], p) })); n > 0 {
		out = append(out, s.Say("season.short.unsure", say.With("n", say.Count(n))))
	}
	for _, d := range s.Drilled {
		needy := slices.ContainsFunc(s.Villages, func(v season.Village) bool { return v.District == d.District && v.Unserved > 0 })
		if d.Bores == 0 && d.District != "" && needy {
			out = append(out, s.Say("season.short.no-bores", say.With("value", say.Text(d.District))))
		}
	}
	return out
}

// unsure reports that there is not enough evidence at a spot of a village that is to be tried.
func unsure(v season.Village, p programme.Pick) bool {
	return slices.ContainsFunc(v.Spots, func(x season.Spot) bool {
		return x.Unsure && slices.ContainsFunc(p.Tries, func(a programme.Attempt) bool { return a.Spot == x.Name })
	})
}

// how is what the answer rests on.
func (s seasonSpeaker) how() []string {
	w := &s.Wishes
	out := []string{
		s.Say("season.how.living", say.With("n", say.Count(s.Served)), say.With("total", say.Count(s.Living))),
		s.Say("season.how.standard", say.With("distance", say.Distance(w.Standard.WalkM)), say.With("value", say.Text(StandardName(s.catalogue, s.lang, w.Standard.Code))), say.With("date", dateValue(w.On))),
	}
	if w.Tested {
		out = append(out, s.Say("season.how.tested"))
	}
	out = append(out, s.Say("season.how.spots"), s.Say("season.how.together"))
	p := s.Prices
	out = append(out, s.Say(string(p.From), say.With("sum", say.Number(p.PerBore, 0)), say.With("price", say.Number(p.PerMetre, 1)),
		say.With("n", say.Count(p.Bores)), say.With("value", say.Text(p.Currency))))
	if w.Caution > 0 {
		out = append(out, s.Say("season.how.careful", say.With("share", say.Share(w.Caution))))
	}
	if n := len(s.Unknown); n > 0 {
		out = append(out, s.Say("season.how.unknown", say.With("n", say.Count(n))))
	}
	return out
}
