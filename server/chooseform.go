package server

import (
	"net/url"

	"waterstrike/server/sheet"
	"waterstrike/ui/say"
)

// chooseView is the page that asks for a season.
type chooseView struct {
	Lang         say.Lang
	Heading, Why string
	Form         *formView // nil while the work is under way
	Stop         *formView // while it is
	Open         bool      // not folded below an answer
}

// chooseForm asks for money, time and the rest, with what was given before.
func (s *Server) chooseForm(p speaker, q url.Values, alert string) (*formView, error) {
	standards, err := s.standardField(p, q)
	if err != nil {
		return nil, err
	}
	text := func(name, label, hint string, optional bool) fieldView {
		f := fieldView{Type: "text", ID: name, Name: name, Label: p.Say(label), Value: q.Get(name), Max: maxText, Optional: optional, Complete: "off"}
		if hint != "" {
			f.Hint = p.Say(hint)
		}
		return f
	}
	check := func(name, label string) fieldView {
		return fieldView{Type: "checkbox", ID: name, Name: name, Label: p.Say(label), Value: "1", Checked: q.Get(name) != ""}
	}
	return &formView{
		Action: "/choose", Get: true, Button: p.Say("season.ask.button"), Alert: alert,
		Fields: []fieldView{
			text("budget", "season.field.budget", "season.field.budget.hint", false),
			text("weeks", "season.field.weeks", "season.field.weeks.hint", false),
			text("per-bore", "season.field.bore", "season.field.price.hint", true),
			text("per-metre", "season.field.metre", "", true),
			text("per-km", "season.field.km", "", true),
			standards,
			text("on", "served.field.on", "served.field.on.hint", true),
			text("floors", "season.field.floors", "season.field.floors.hint", true),
			text("must", "season.field.must", "season.field.list.hint", true),
			text("never", "season.field.never", "", true),
			text("care", "season.field.care", "season.field.care.hint", true),
			check("tested", "season.field.tested"),
			check("reserve", "season.field.reserve"),
		},
	}, nil
}

// standardField lets one of the standards be chosen.
func (s *Server) standardField(p speaker, q url.Values) (fieldView, error) {
	f := fieldView{Type: "select", ID: "standard", Name: "standard", Label: p.Say("season.field.standard")}
	list, err := s.Seasons.Standards()
	for i, x := range list {
		chosen := x.Code == q.Get("standard") || i == 0 && q.Get("standard") == ""
		f.Choices = append(f.Choices, choiceView{Value: x.Code, Name: p.Say("season.standard", say.With("value", say.Text(sheet.StandardName(p.catalogue, p.lang, x.Code))), say.With("distance", say.Distance(x.WalkM))), Chosen: chosen})
	}
	return f, err
}
