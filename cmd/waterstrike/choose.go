package main

import (
	"fmt"
	"io"
	"strings"
	"time"

	"waterstrike/advisor"
	"waterstrike/advisor/season"
	"waterstrike/geo"
	"waterstrike/server/sheet"
	"waterstrike/ui/say"
)

// chooseCmd chooses the villages, spots and methods of a season.
type chooseCmd struct {
	Budget   money   `placeholder:"${takes_money}" help:"${flag_budget}"`
	Weeks    string  `placeholder:"${takes_weeks}" help:"${flag_weeks}"`
	Standard string  `placeholder:"sphere-2018" help:"${flag_standard}"`
	On       string  `placeholder:"${takes_day}" help:"${flag_on}"`
	Tested   bool    `help:"${flag_tested}"`
	PerBore  money   `placeholder:"${takes_money}" help:"${flag_per_bore}"`
	PerMetre money   `placeholder:"${takes_money}" help:"${flag_per_metre}"`
	PerKM    money   `name:"per-km" default:"1" help:"${flag_per_km}"`
	Floors   string  `placeholder:"${takes_floors}" help:"${flag_floors}"`
	Must     string  `placeholder:"${takes_villages}" help:"${flag_must}"`
	Never    string  `placeholder:"${takes_villages}" help:"${flag_never}"`
	Care     float64 `default:"0" help:"${flag_care}"`
	Reserve  bool    `help:"${flag_reserve}"`
	Seed     uint64  `default:"1" help:"${flag_seed}"`
	JSON     bool    `help:"${flag_json}"`
	Schema   bool    `help:"${flag_schema}"`
	Table    string  `type:"path" placeholder:"${takes_file}" help:"${flag_table}"`
	Page     string  `type:"path" placeholder:"${takes_file}" help:"${flag_page}"`
}

// Run chooses, writes what was asked for, and prints it.
func (c *chooseCmd) Run(a *app) error {
	if c.Schema {
		_, err := fmt.Fprint(a.out, sheet.SeasonFields())
		return err
	}
	for _, path := range []string{c.Page, c.Table} {
		if err := a.free(path, ""); err != nil {
			return err
		}
	}
	wishes, err := c.wishes(a)
	if err != nil {
		return err
	}
	s, err := c.choose(a, wishes)
	if err != nil {
		return err
	}
	if c.Table != "" {
		if err := a.accountPage(c.Table, func(w io.Writer) error { return sheet.SeasonCSV(w, a.words, a.lang, s) }); err != nil {
			return err
		}
	}
	if c.Page != "" {
		if err := a.accountPage(c.Page, func(w io.Writer) error { return sheet.SeasonFile(w, a.words, a.lang, s) }); err != nil {
			return err
		}
	}
	if c.JSON {
		data, err := sheet.SeasonJSON(s)
		if err != nil {
			return err
		}
		_, err = a.out.Write(data)
		return err
	}
	_, err = fmt.Fprint(a.out, sheet.NewSeason(a.words, a.lang, s).Text())
	return err
}

// wishes reads the flags.
func (c *chooseCmd) wishes(a *app) (w season.Wishes, err error) {
	w = season.DefaultWishes()
	if c.Budget == "" || c.Weeks == "" {
		return w, geo.Fail(geo.Invalid, "choose", geo.Say("season.unasked"), nil)
	}
	list, err := a.standards()
	if err != nil {
		return w, err
	}
	if w.Standard, err = season.Standard(list, c.Standard); err != nil {
		return w, err
	}
	if w.On, err = season.ParsePast(c.On, geo.DateOf(time.Now())); err != nil {
		return w, err
	}
	if w.Windows, err = season.ParseWindows(c.Weeks); err != nil {
		return w, err
	}
	if w.Floors, err = season.ParseFloors(c.Floors, peopleIn(a.words)); err != nil {
		return w, err
	}
	w.Tested, w.Caution, w.Reserve, w.Seed = c.Tested, c.Care, c.Reserve, c.Seed
	w.Must, w.Never = season.ParseList(c.Must), season.ParseList(c.Never)
	if w.Budget, err = c.Budget.read("-budget"); err != nil {
		return w, err
	}
	if w.PerKM, err = c.PerKM.read("-per-km"); err != nil {
		return w, err
	}
	if w.PerBore, err = c.PerBore.given("-per-bore"); err != nil {
		return w, err
	}
	w.PerMetre, err = c.PerMetre.given("-per-metre")
	return w, err
}

// money is a sum as people write it: 8000, 8 000 or 12,50.
type money string

func (m money) read(flag string) (float64, error) {
	return season.ParseAmount(flag, strings.Replace(string(m), "−", "-", 1))
}

func (m money) given(flag string) (geo.Opt[float64], error) {
	if m == "" {
		return geo.Opt[float64]{}, nil
	}
	v, err := m.read(flag)
	return geo.Some(v), err
}

// peopleIn tells whether a word means people in one of the languages.
func peopleIn(c *say.Catalogue) func(string) bool {
	return func(word string) bool {
		for _, l := range say.Langs() {
			if strings.EqualFold(word, c.Say(l, say.Msg("season.people-word"))) {
				return true
			}
		}
		return false
	}
}

func (c *chooseCmd) choose(a *app, w season.Wishes) (*season.Season, error) {
	base, err := a.openToRead()
	if err != nil {
		return nil, err
	}
	defer base.Close()
	snapshot, done, err := a.evidence(base)
	if err != nil {
		return nil, err
	}
	defer done()
	adviser, err := a.newAdvisor(snapshot)
	if err != nil {
		return nil, err
	}
	records, err := seasonRecords(a.ctx, base, adviser.ID())
	if err != nil {
		return nil, err
	}
	return season.Choose(a.ctx, &records, adviser, w, a.lookingAround())
}

// lookingAround writes how many spots were asked about to the error output once a second.
func (a *app) lookingAround() advisor.Progress {
	last := time.Now()
	return func(done, total int) {
		if time.Since(last) >= time.Second {
			last = time.Now()
			a.complain(geo.Say("season.progress", geo.With("n", geo.Count(done)), geo.With("total", geo.Count(total))))
		}
	}
}
