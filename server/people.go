package server

import (
	"net/url"
	"strconv"
	"time"

	"waterstrike/server/account"
	"waterstrike/server/sheet"
	"waterstrike/ui/say"

	"github.com/labstack/echo/v4"
)

// changesShown is how many of the latest changes the page of people lists.
const changesShown = 60

// peopleView is everybody with what may be changed about them, and the log.
type peopleView struct {
	Heading, Count string
	Invite         formView
	People         []personView
	Log            sheet.Table
}

type personView struct {
	ID, Name, Role, State, You string
	Shut                       bool
	Edit                       string // the line that opens what can be changed
	Forms                      []formView
}

// peoplePage answers GET /people.
func (s *Server) peoplePage(c echo.Context) error { return s.showPeople(c, url.Values{}, nil) }

// showPeople shows the page; what was sent to invite somebody stands in the form again
// where it failed.
func (s *Server) showPeople(c echo.Context, sent url.Values, failed error) error {
	p, ctx := s.speaker(c), c.Request().Context()
	people, err := s.People.People(ctx)
	if err != nil {
		return err
	}
	changes, err := s.People.Changes(ctx, changesShown)
	if err != nil {
		return err
	}
	invite := p.inviteForm(sent)
	status, err := s.alert(c, &invite, failed)
	if err != nil {
		return err
	}
	v := s.ownFrame(c)
	v.Title = p.Say("people.people")
	v.People = &peopleView{
		Heading: v.Title, Count: p.Say("people.count", say.With("n", say.Count(len(people)))),
		Invite: invite, Log: p.log(changes, s.Now().Location()),
	}
	for _, person := range people {
		v.People.People = append(v.People.People, s.personView(p, person, s.visitor(c).id))
	}
	return s.show(c, status, v)
}

func (s speaker) inviteForm(sent url.Values) formView {
	chosen, ok := account.ParseRole(sent.Get("role"))
	if !ok {
		chosen = account.Reader
	}
	role := fieldView{ID: "role", Name: "role", Label: s.Say("people.may"), Type: "choice"}
	for _, r := range account.Roles() {
		role.Choices = append(role.Choices, choiceView{
			Value: r.String(), Name: s.Say("role." + r.String()), Aside: s.Say("role." + r.String() + ".meaning"), Chosen: r == chosen,
		})
	}
	name := s.nameField(clip(sent.Get("name")))
	name.Complete = "off"
	return formView{
		Heading: s.Say("people.invite"), Intro: s.Say("people.invite.why"), Action: "/people", Button: s.Say("people.invite.do"),
		Fields: []fieldView{name, role},
	}
}

func (s *Server) personView(p speaker, person account.Person, me int64) personView {
	id := strconv.FormatInt(person.ID, 10)
	v := personView{
		ID: id, Name: person.Name, Role: p.Say("role." + person.Role.String()), Shut: person.Closed,
		State: p.state(person, s.Now().Location()), Edit: p.Say("people.edit", say.With("value", say.Text(person.Name))),
	}
	if person.ID == me {
		v.You = p.Say("people.you")
	}
	to := "/people/" + id
	if person.Closed {
		v.Forms = []formView{{Action: to + "/readmit", Button: p.Say("people.readmit")}}
		return v
	}
	role := fieldView{ID: "role-" + id, Name: "role", Label: p.Say("people.role"), Type: "select"}
	for _, r := range account.Roles() {
		role.Choices = append(role.Choices, choiceView{Value: r.String(), Name: p.Say("role." + r.String()), Chosen: r == person.Role})
	}
	v.Forms = []formView{
		{Action: to + "/role", Button: p.Say("people.set-role"), Fields: []fieldView{role}},
		{Action: to + "/code", Button: p.Say("people.new-code"), Intro: p.Say("people.new-code.why")},
		{Action: to + "/shut", Button: p.Say("people.shut"), Intro: p.Say("people.shut.why")},
	}
	return v
}

// state says how a person comes in.
func (s speaker) state(p account.Person, zone *time.Location) string {
	until, waiting := p.CodeUntil.Get()
	date := say.With("date", say.Date(until.In(zone)))
	switch {
	case p.Closed:
		return s.Say("people.state.shut")
	case p.Joined && waiting:
		return s.Say("people.state.code", date)
	case p.Joined:
		return s.Say("people.state.in")
	case waiting:
		return s.Say("people.state.invited", date)
	}
	return s.Say("people.state.no-code")
}

// log lists the changes, the newest first.
func (s speaker) log(changes []account.Change, zone *time.Location) sheet.Table {
	t := sheet.Table{Heading: s.Say("people.log"), Columns: []string{s.Say("people.log.when"), s.Say("people.log.who"), s.Say("people.log.what")}}
	for _, c := range changes {
		at, who := c.At.In(zone), c.AuthorName
		if who == "" {
			who = s.Say("change.computer")
		}
		when := s.Say("value.date", say.With("date", say.Date(at))) + ", " + at.Format("15:04")
		what := s.Say("change."+string(c.What), say.With("value", say.Text(c.Subject)),
			say.With("former", say.Of("role."+c.Former.String())), say.With("now", say.Of("role."+c.Now.String())))
		row := []sheet.Cell{}
		for i, words := range []string{when, who, what} {
			row = append(row, sheet.Cell{Label: t.Columns[i], Words: words})
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}
