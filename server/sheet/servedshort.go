package sheet

import (
	"waterstrike/advisor/coverage"
	"waterstrike/advisor/season"
	"waterstrike/ui/say"
)

// ServedShort says of an account what outsiders may know: how many people have water within
// the standard, how that was reckoned, and the same by district. No village or point stands
// in it, and nothing leads to one. False where nobody is counted.
func ServedShort(c *say.Catalogue, l say.Lang, a *season.Account) (districts Table, there bool) {
	if !coverage.Share(a.Now.Served, a.Now.Living).Known() {
		return Table{}, false
	}
	s := &servedSpeaker{speaker: speaker{c, l}, Account: a}
	districts = s.districts()
	districts.leadNowhere()
	districts.Notes = s.how()[:2]
	return districts, true
}
