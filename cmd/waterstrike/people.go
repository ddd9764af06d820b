package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"text/tabwriter"
	"time"

	"waterstrike/geo"
	"waterstrike/server/account"
	"waterstrike/ui/say"
)

// peopleCmd lists who may come in, and helps in who cannot: whoever has the data folder
// decides.
type peopleCmd struct {
	Code string `placeholder:"${takes_name}" help:"${flag_code}"`
	Log  bool   `help:"${flag_log}"`
	JSON bool   `help:"${flag_json}"`
}

// mostChanges is how much of the log is listed.
const mostChanges = 1000

// Run lists people or changes, or makes a code.
func (c *peopleCmd) Run(a *app) error {
	if _, err := os.Stat(a.peopleFile()); errors.Is(err, fs.ErrNotExist) {
		return geo.Fail(geo.NotFound, "people", geo.Say("people.none-yet", geo.With("path", geo.Text(string(a.folder)))), err)
	}
	people, err := a.openPeople()
	if err != nil {
		return err
	}
	defer people.Close()
	switch {
	case c.Code != "":
		return c.code(a, people)
	case c.Log:
		return c.log(a, people)
	}
	return c.list(a, people)
}

// peopleFile is the path of the file of people: beside the ground, not in it.
func (a *app) peopleFile() string { return filepath.Join(string(a.folder), "accounts.db") }

func (a *app) openPeople() (*account.Book, error) {
	return account.Open(a.ctx, a.peopleFile(), account.DefaultOptions())
}

func (c *peopleCmd) code(a *app, people *account.Book) error {
	p, err := people.Named(a.ctx, c.Code)
	if err != nil {
		return err
	}
	_, code, err := people.NewCode(a.ctx, account.By{}, p.ID)
	if err != nil {
		return err
	}
	if c.JSON {
		return a.print(map[string]string{"name": p.Name, "code": code})
	}
	a.say(geo.Say("people.code-made", geo.With("value", geo.Text(p.Name)), geo.With("id", geo.Text(code))))
	return nil
}

// personRow is a person as programs read it.
type personRow struct {
	Name   string `json:"name"`
	Role   string `json:"role"`
	Joined bool   `json:"joined"`
	Closed bool   `json:"closed"`
}

func (c *peopleCmd) list(a *app, people *account.Book) error {
	all, err := people.People(a.ctx)
	if err != nil {
		return err
	}
	if c.JSON {
		rows := make([]personRow, len(all))
		for i, p := range all {
			rows[i] = personRow{p.Name, p.Role.String(), p.Joined, p.Closed}
		}
		return a.print(rows)
	}
	table := tabwriter.NewWriter(a.out, 0, 0, 2, ' ', 0)
	for _, p := range all {
		fmt.Fprintf(table, "%s\t%s\t%s\n", p.Name, a.words.Say(a.lang, say.Msg("role."+p.Role.String())), a.sentence(stateOf(p)))
	}
	return table.Flush()
}

// stateOf says how a person comes in.
func stateOf(p account.Person) geo.Message {
	until, waiting := p.CodeUntil.Get()
	date := geo.With("date", geo.DateOf(until.Local()))
	switch {
	case p.Closed:
		return geo.Say("people.state.shut")
	case p.Joined && waiting:
		return geo.Say("people.state.code", date)
	case p.Joined:
		return geo.Say("people.state.in")
	case waiting:
		return geo.Say("people.state.invited", date)
	}
	return geo.Say("people.state.no-code")
}

// changeRow is a change as programs read it.
type changeRow struct {
	At     time.Time `json:"at"`
	Who    string    `json:"who,omitempty"` // nobody's name: on the computer itself
	What   string    `json:"what"`
	Whom   string    `json:"whom"`
	Former string    `json:"former,omitempty"`
	Now    string    `json:"now,omitempty"`
}

func (c *peopleCmd) log(a *app, people *account.Book) error {
	changes, err := people.Changes(a.ctx, mostChanges)
	if err != nil {
		return err
	}
	if c.JSON {
		rows := make([]changeRow, len(changes))
		for i, ch := range changes {
			rows[i] = changeRow{At: ch.At, Who: ch.AuthorName, What: string(ch.What), Whom: ch.Subject}
			if ch.What == account.RoleChanged {
				rows[i].Former = ch.Former.String()
			}
			if ch.Now != account.Nobody {
				rows[i].Now = ch.Now.String()
			}
		}
		return a.print(rows)
	}
	table := tabwriter.NewWriter(a.out, 0, 0, 2, ' ', 0)
	for _, ch := range changes {
		who := ch.AuthorName
		if who == "" {
			who = a.words.Say(a.lang, say.Msg("change.computer"))
		}
		what := say.Msg("change."+string(ch.What), say.With("value", say.Text(ch.Subject)),
			say.With("former", say.Of("role."+ch.Former.String())), say.With("now", say.Of("role."+ch.Now.String())))
		fmt.Fprintf(table, "%s\t%s\t%s\n", ch.At.Local().Format("2006-01-02 15:04"), who, a.words.Say(a.lang, what))
	}
	return table.Flush()
}
