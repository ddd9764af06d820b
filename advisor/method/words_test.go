package method_test

import (
	"strings"
	"testing"

	"waterstrike/advisor/method"
	"waterstrike/advisor/rule"
	"waterstrike/geo"
	"waterstrike/geo/outside"
)

// Everything that the list of methods says has words, and uses no argument that is not
// given to them.
func TestMethodsHaveWords(t *testing.T) {
	catalogue := outside.Catalogue(t)
	has := func(code geo.Code, args ...geo.Arg) {
		t.Helper()
		text, known := catalogue[string(code)]
		if !known {
			t.Errorf("the catalogue has no %s", code)
			return
		}
		rest := text["en"]
		for _, a := range args {
			rest = strings.ReplaceAll(rest, "{"+a.Name+"}", "")
		}
		if strings.Contains(rest, "{") {
			t.Errorf("%s asks for what it is not given: %s", code, text["en"])
		}
	}
	list, err := method.Load(strings.NewReader(`[{"code": "percussion-jetting", "leftOut": false}, {"code": "valve-bit", "leftOut": false}]`))
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range list {
		has("method." + geo.Code(m.Code))
		for _, stop := range m.StoppedBy {
			has(stop)
		}
		for _, told := range m.Told {
			message := told.Message("method")
			has(message.Code, message.Args...)
		}
	}
	for _, tool := range method.Tools() {
		has("tool." + geo.Code(tool))
	}
	for _, mark := range rule.Marks() {
		has(mark.Code())
	}
	for _, kind := range rule.FaultKinds() {
		message := (&rule.Fault{Kind: kind}).Message()
		has(message.Code, message.Args...)
	}
}
