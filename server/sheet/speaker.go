package sheet

import (
	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/ui/say"
)

// speaker says messages in one language.
type speaker struct {
	catalogue *say.Catalogue
	lang      say.Lang
}

// Say says a code of the catalogue.
func (s speaker) Say(code string, args ...say.Arg) string {
	return s.catalogue.Say(s.lang, say.Msg(code, args...))
}

// tell says a message of the rooms below.
func (s speaker) tell(m geo.Message) string { return s.catalogue.Say(s.lang, Message(m)) }

func (s speaker) tellAll(messages []geo.Message) []string {
	out := make([]string, len(messages))
	for i, m := range messages {
		out[i] = s.tell(m)
	}
	return out
}

func (s speaker) metres(m float64) string {
	return s.Say("value.depth", say.With("depth", say.Metres(m)))
}

func (s speaker) interval(top, base float64) string {
	return s.Say("value.depth", say.With("depth", say.MetresRange(top, base)))
}

func (s speaker) distance(m float64) string {
	return s.Say("value.distance", say.With("distance", say.Distance(m)))
}

func (s speaker) share(v float64) string {
	return s.Say("value.share", say.With("share", say.Share(v)))
}

func (s speaker) chance(p float64) string {
	return s.Say("value.chance", say.With("chance", say.Chance(p)))
}

func (s speaker) position(p coord.LonLat) string {
	return s.Say("value.place", say.With("place", say.Position(p.Lat, p.Lon)))
}

// date writes a date as precisely as it is known.
func (s speaker) date(d geo.Date) string {
	return s.Say("value.date", say.With("date", dateValue(d)))
}

// StandardName says a standard of service by its name; one of the programme's own by its code.
func StandardName(c *say.Catalogue, l say.Lang, code string) string {
	if name := "standard." + code; c.Has(name) {
		return c.Say(l, say.Msg(name))
	}
	return code
}
