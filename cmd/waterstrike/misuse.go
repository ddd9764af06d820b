package main

import (
	"errors"
	"regexp"
	"strings"

	"waterstrike/geo"

	"github.com/alecthomas/kong"
)

// misused answers arguments that make no sense, in the language of the rest.
func (a *app) misused(err error) int {
	var parse *kong.ParseError
	if !errors.As(err, &parse) {
		return broken(a.err, err)
	}
	commandChosen := parse.Context != nil && parse.Context.Selected() != nil
	told := a.sentence(misuse(parse.Error(), commandChosen))
	if near := nearMiss.FindStringSubmatch(parse.Error()); near != nil {
		told += " " + a.sentence(geo.Say("command.meant", geo.With("value", geo.Text(asTyped(near[1])))))
	}
	a.complain(geo.Say("command.misused", geo.With("value", geo.Text(told))))
	return exitInvalid
}

// nearMiss is how the library names what may have been meant.
var nearMiss = regexp.MustCompile(`, did you mean (?:one of )?(.+)\?$`)

// misuses are the complaints of the library that reads the arguments, and ours for each. It
// tells them apart in its English alone; TestMisuseInEveryLanguage makes every one.
var misuses = []struct {
	says *regexp.Regexp
	code geo.Code
	args []string // what the groups of the pattern are
}{
	{regexp.MustCompile(`^unknown flag (\S+?)(?:, did you mean .*)?$`), "command.unknown-flag", []string{"field"}},
	{regexp.MustCompile(`^unexpected argument (.*?)(?:, did you mean .*)?$`), "command.unexpected", []string{"value"}},
	{regexp.MustCompile(`^expected one of "demo"`), "command.none", nil},
	{regexp.MustCompile(`^expected "(<.*)"$`), "command.missing", []string{"value"}},
	{regexp.MustCompile(`^missing positional arguments (.*)$`), "command.missing", []string{"value"}},
	{regexp.MustCompile(`^(\S+): expected \S+ value but got `), "command.no-value", []string{"field"}},
	{regexp.MustCompile(`^(\S+): missing value`), "command.no-value", []string{"field"}},
	{regexp.MustCompile(`^(\S+): expected a float but got "(.*)" \(string\)$`), "command.no-number", []string{"field", "value"}},
	{regexp.MustCompile(`^(\S+): expected a valid \d+ bit u?int but got "(.*)"$`), "command.no-whole-number", []string{"field", "value"}},
	{regexp.MustCompile(`^(\S+): bool value must be`), "command.takes-nothing", []string{"field"}},
	{regexp.MustCompile(`^(\S+) must be one of (.*) but got "(.*)"$`), "command.no-choice", []string{"field", "listed-text", "value"}},
}

// misuse finds our words for a complaint of the library.
func misuse(text string, commandChosen bool) geo.Message {
	for _, m := range misuses {
		found := m.says.FindStringSubmatch(text)
		if found == nil {
			continue
		}
		code := m.code
		if code == "command.unexpected" && !commandChosen {
			code = "command.unknown"
		}
		var args []geo.Arg
		for i, name := range m.args {
			args = append(args, geo.With(name, geo.Text(asTyped(found[i+1]))))
		}
		return geo.Say(code, args...)
	}
	return geo.Say("command.misread", geo.With("value", geo.Text(text)))
}

// asTyped writes flags, lists and minus signs as people type them here.
func asTyped(text string) string {
	return strings.NewReplacer("--", "-", "−", "-", `","`, ", ", `"`, "").Replace(text)
}
