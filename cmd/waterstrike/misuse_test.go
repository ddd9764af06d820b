package main

import (
	"bytes"
	"context"
	"regexp"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"waterstrike/geo"
	"waterstrike/server/sheet"
	"waterstrike/ui/say"
)

// TestMisuseInEveryLanguage makes every complaint of the library that reads the arguments:
// each is told in the language asked for, by a flag or by the surroundings, in words of the
// catalogue, with what was typed in it. A library that words them anew fails here.
func TestMisuseInEveryLanguage(t *testing.T) {
	t.Parallel()
	words, err := say.New()
	if err != nil {
		t.Fatal(err)
	}
	english := regexp.MustCompile(`(?i)expected|unknown|unexpected|must be|did you|missing|float|EOL|--`)
	made := map[string]bool{}
	for _, c := range []struct{ args, code, field, listed, value string }{
		{args: "", code: "none"},
		{args: "fly", code: "unknown", value: "fly"},
		{args: "import", code: "missing", value: "<{mapping}>"},
		{args: "section a", code: "missing", value: "<{to}> <{file}>"},
		{args: "choose -budgt 3", code: "unknown-flag", field: "-budgt"},
		{args: "choose 8000", code: "unexpected", value: "8000"},
		{args: "choose -budget", code: "no-value", field: "-budget"},
		{args: "choose -budget -weeks 3", code: "no-value", field: "-budget"},
		{args: "pumping -given", code: "no-value", field: "-given"},
		{args: "choose -care eight", code: "no-number", field: "-care", value: "eight"},
		{args: "choose -care NaN", code: "no-number", field: "-care", value: "NaN"},
		{args: "choose -seed -3", code: "no-whole-number", field: "-seed", value: "-3"},
		{args: "advise -month may", code: "no-whole-number", field: "-month", value: "may"},
		{args: "version -json=maybe", code: "takes-nothing", field: "-json"},
		{args: "export shapefile out", code: "no-choice", field: "<{form}>", listed: "geojson, csv, xlsx, gpkg, water-points", value: "shapefile"},
		{args: "check -severity bad", code: "no-choice", field: "-severity", listed: "note, doubt", value: "bad"},
	} {
		code := "command." + c.code
		made[code] = true
		for _, l := range say.Langs() {
			told, byLANG := complaint(t, c.args, l.String(), ""), complaint(t, c.args, "", l.String()+"_MZ.UTF-8")
			if told != byLANG {
				t.Errorf("%q: %q by -lang, %q by LANG", c.args, told, byLANG)
			}
			named := func(text string) string {
				for _, name := range []string{"mapping", "to", "file", "form"} {
					text = strings.ReplaceAll(text, "{"+name+"}", words.Say(l, say.Msg("command.argument."+name)))
				}
				return text
			}
			want := words.Say(l, sheet.Message(geo.Say(geo.Code(code), geo.With("field", geo.Text(named(c.field))),
				geo.With("listed-text", geo.Text(c.listed)), geo.With("value", geo.Text(named(c.value))))))
			if !strings.HasPrefix(told, want) || english.MatchString(told) && l != say.EN {
				t.Errorf("%q in %s: %q, want %q", c.args, l, told, want)
			}
		}
	}
	for _, m := range misuses {
		if !made[string(m.code)] {
			t.Errorf("no arguments here make %s", m.code)
		}
	}
	if told := complaint(t, "choose -budgt 3", "fr", ""); !strings.Contains(told, "Peut-être\u00a0: -budget.") {
		t.Errorf("what was meant is not said: %q", told)
	}
}

// complaint runs the program on arguments that make no sense and returns what it says.
func complaint(t *testing.T, args, flag, surroundings string) string {
	t.Helper()
	list := strings.Fields(args)
	if flag != "" {
		list = append([]string{"-lang", flag}, list...)
	}
	var out, told bytes.Buffer
	if code := run(context.Background(), list, &out, &told, func(name string) string {
		return map[string]string{"LANG": surroundings}[name]
	}); code != exitInvalid {
		t.Errorf("%q: exit code %d", args, code)
	}
	return told.String()
}

// TestEveryCommandHasExamples: help ends with what a person can type.
func TestEveryCommandHasExamples(t *testing.T) {
	t.Parallel()
	var out bytes.Buffer
	run(context.Background(), []string{"-help"}, &out, &out, func(string) string { return "" })
	for _, found := range regexp.MustCompile(`(?m)^  ([a-z][a-z-]+) `).FindAllStringSubmatch(out.String(), -1) {
		name := strings.ReplaceAll(found[1], "-", "")
		if name != "waterstrike" && !strings.Contains(examples(name), "waterstrike "+found[1]) {
			t.Errorf("%s has no example", found[1])
		}
	}
}

// TestHelpInEveryLanguage reads the help of every command: each flag that takes something
// says what, and no word of another language is left among those that the library makes.
func TestHelpInEveryLanguage(t *testing.T) {
	t.Parallel()
	literal := regexp.MustCompile(`^(en\|fr\|pt|m\|ft\|cm|L/s\|L/min\|m3/h|sphere-2018|M)$`)
	words, err := say.New()
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range say.Langs() {
		var out, told bytes.Buffer
		a := &app{out: &out, err: &told, words: words, lang: l}
		var c commands
		parser, err := a.parser(&c)
		if err != nil {
			t.Fatal(err)
		}
		for _, command := range parser.Model.Children {
			for _, flag := range command.Flags {
				if flag.Name == "help" || flag.IsBool() || flag.HasDefault || literal.MatchString(flag.PlaceHolder) {
					continue
				}
				if flag.PlaceHolder == "" || flag.PlaceHolder != words.Say(l, say.Msg("command.takes."+takesOf(words, flag.PlaceHolder, l))) {
					t.Errorf("%s: %s -%s takes %q, which the catalogue does not hold", l, command.Name, flag.Name, flag.PlaceHolder)
				}
			}
			out.Reset()
			if _, err := parser.Parse([]string{command.Name, "--help"}); err != nil && !a.helped {
				t.Errorf("%s -help: %v", command.Name, err)
			}
			if help := out.String(); strings.Contains(help, "⟨") || strings.Contains(help, "[flags]") || l != say.EN && strings.Contains(help, "<file>") {
				t.Errorf("%s -help in %s:\n%s", command.Name, l, help)
			}
			for _, flag := range command.Flags {
				if first, _ := utf8.DecodeRuneInString(flag.Help); unicode.IsLower(first) || flag.Name != "help" && !strings.HasSuffix(flag.Help, ".") {
					t.Errorf("%s: %s -%s: %q is no sentence", l, command.Name, flag.Name, flag.Help)
				}
			}
		}
	}
}

// takesOf is the entry that a placeholder stands in.
func takesOf(words *say.Catalogue, placeholder string, l say.Lang) string {
	for _, code := range words.Codes() {
		if name, ok := strings.CutPrefix(code, "command.takes."); ok && words.Say(l, say.Msg(code)) == placeholder {
			return name
		}
	}
	return ""
}
