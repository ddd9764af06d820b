package server

import (
	"net/url"
)

func (s speaker) positionField(sent url.Values) fieldView {
	return fieldView{
		ID: "f-at", Name: "at", Label: s.Say("bore.position"), Hint: s.Say("screen.position-hint"), Type: "text", Value: sent.Get("at"),
		Max: maxText, Optional: true, Complete: "off", Here: s.Say("entry.here"),
	}
}

func (s speaker) whyField(sent url.Values) fieldView {
	return fieldView{ID: "f-why", Name: "why", Label: s.Say("entry.why"), Type: "text", Value: sent.Get("why"), Max: maxReason, Optional: true, Complete: "off"}
}

// fieldOf shows a cell as a field of a form.
func fieldOf[T any](p speaker, list, prefix string, c cell[T], sent url.Values) fieldView {
	name := prefix + c.name
	f := fieldView{ID: "f-" + name, Name: name, Label: p.Say("entry." + list + "." + c.name), Type: "text", Value: sent.Get(name), Max: maxWords, Optional: true, Complete: "off"}
	if hint := "entry." + list + "." + c.name + ".hint"; p.catalogue.Has(hint) {
		f.Hint = p.Say(hint)
	}
	switch c.kind {
	case "metres", "number":
		f.Mode, f.Max = "decimal", 16
	case "long":
		f.Type, f.Max = "long", 10*maxWords
	case "date":
		if f.Type = "date"; f.Value != "" && len(f.Value) < len("2006-01-02") { // a browser's own field would lose it
			f.Type = "text"
		}
	case "months":
		if f.Value == neverDry[0] {
			f.Value = p.Say("siting.never")
		}
	case "tick":
		f.Type, f.Value, f.Checked = "checkbox", "on", sent.Get(name) == "on"
	case "choice":
		f.Type = "select"
		for _, value := range c.choices {
			code := c.words + value
			if value == "" {
				code = "entry.not-said"
			}
			f.Choices = append(f.Choices, choiceView{Value: value, Name: p.orCode(code, value), Chosen: value == f.Value})
		}
	}
	return f
}

// orCode says a code, or the value itself where a programme has choices of its own.
func (s speaker) orCode(code, value string) string {
	if s.catalogue.Has(code) {
		return s.Say(code)
	}
	return value
}
