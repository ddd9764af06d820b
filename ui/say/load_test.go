package say_test

import (
	"encoding/json"
	"strings"
	"testing"
	"testing/fstest"

	"waterstrike/ui/say"
)

func load(arguments, entries string) (*say.Catalogue, error) {
	return say.Load(fstest.MapFS{
		"arguments.json": {Data: []byte(arguments)},
		"entries.json":   {Data: []byte(entries)},
	})
}

func mustLoad(t *testing.T, arguments, entries string) *say.Catalogue {
	t.Helper()
	c, err := load(arguments, entries)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// entryOf gives code "x" the same text in every language.
func entryOf(text string) string {
	b, err := json.Marshal(map[string]map[string]string{"x": {"en": text, "fr": text, "pt": text}})
	if err != nil {
		panic(err)
	}
	return string(b)
}

// single is the built-in catalogue's dates and classes plus code "x", which shows
// one value of the given kind.
func single(t *testing.T, kind say.Kind) *say.Catalogue {
	t.Helper()
	dir := fstest.MapFS{"entries.json": {Data: []byte(entryOf("{v}"))}}
	for _, file := range []string{"date.json", "ground.json"} {
		dir[file] = &fstest.MapFile{Data: readCatalogue(t, file)}
	}
	dir["arguments.json"] = &fstest.MapFile{
		Data: []byte(`{"day": "text", "month": "month", "sum": "number", "year": "text", "v": "` + string(kind) + `"}`),
	}
	c, err := say.Load(dir)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func TestLoadRefuses(t *testing.T) {
	tests := []struct {
		name, arguments, entries, want string
	}{
		{"language missing", `{}`, `{"x": {"en": "a", "fr": "a"}}`, "2 texts"},
		{"other language", `{}`, `{"x": {"en": "a", "fr": "a", "sw": "a"}}`, "pt: empty text"},
		{"empty text", `{}`, `{"x": {"en": "a", "fr": " ", "pt": "a"}}`, "fr: empty text"},
		{"placeholders differ", `{"n": "count"}`, `{"x": {"en": "{n}", "fr": "a", "pt": "{n}"}}`, "fr has placeholders []"},
		{"placeholder not listed", `{}`, entryOf("{n}"), "not listed"},
		{"unknown kind", `{"n": "colour"}`, `{}`, `unknown kind "colour"`},
		{"argument twice", `{"n": "count", "n": "text"}`, `{}`, "stands twice"},
		{"code twice", `{}`, `{"x": {"en": "a", "fr": "a", "pt": "a"}, "x": {"en": "b", "fr": "b", "pt": "b"}}`, "stands twice"},
		{"brace left open", `{"n": "count"}`, entryOf("{n"), "not closed"},
		{"brace only closed", `{}`, entryOf("n}"), "without an opening"},
		{"plural of a text", `{"n": "text"}`, entryOf("{n, one: a, other: b}"), "has plural forms"},
		{"plural without other", `{"n": "count"}`, entryOf("{n, one: a}"), "forms one and other"},
		{"unknown plural form", `{"n": "count"}`, entryOf("{n, one: a, two: b, other: c}"), "no plural form"},
		{"capital in a name", `{}`, entryOf("{N}"), "lower-case"},
		{"not an object", `{}`, `[]`, "one JSON object"},
		{"broken JSON", `{}`, `{"x": {"en": }`, "invalid character"},
		{"cut off", `{}`, `{"x": {"en": "a", "fr": "a", "pt": "a"}`, "EOF"},
		{"brace for a key", `{}`, `{{`, "invalid character"},
		{"text after the end", `{}`, `{} {}`, "after the closing brace"},
		{"number for a text", `{}`, `{"x": {"en": 1, "fr": "a", "pt": "a"}}`, "cannot unmarshal"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, err := load(tt.arguments, tt.entries)
			if err == nil || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("got %v; want an error with %q", err, tt.want)
			}
		})
	}
}

func TestLoadNamesEveryFault(t *testing.T) {
	_, err := load(`{}`, `{"a": {"en": "a"}, "b": {"en": "{n}", "fr": "{n}", "pt": "{n}"}}`)
	if err == nil || !strings.Contains(err.Error(), "entries.json: a:") || !strings.Contains(err.Error(), "entries.json: b:") {
		t.Errorf("got %v; want both entries named", err)
	}
}

func TestLoadNeedsArguments(t *testing.T) {
	if _, err := say.Load(fstest.MapFS{}); err == nil {
		t.Error("a folder without arguments.json was accepted")
	}
}

func FuzzLoad(f *testing.F) {
	f.Add(entryOf("{n} {n, one: a, other: b}"))
	f.Add(entryOf("{n"))
	f.Add(`{"x": {"en": "a", "fr": "a", "pt": "a"}`)
	f.Fuzz(func(t *testing.T, entries string) {
		if len(entries) > 4096 {
			return
		}
		c, err := load(`{"n": "count"}`, entries)
		if err != nil {
			return
		}
		for _, code := range c.Codes() {
			m := say.Message{Code: code}
			for _, p := range c.Parameters(code) {
				m.Args = append(m.Args, say.With(p.Name, say.Count(2)))
			}
			if _, err := c.TrySay(say.FR, m); err != nil {
				t.Errorf("an accepted catalogue cannot say %q: %v", code, err)
			}
		}
	})
}
