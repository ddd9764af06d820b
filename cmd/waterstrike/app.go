package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"regexp"
	"strings"

	"waterstrike/geo"
	"waterstrike/geo/store"
	"waterstrike/server/sheet"
	"waterstrike/ui/say"
)

// app is what every command works with.
type app struct {
	ctx    context.Context
	out    io.Writer
	err    io.Writer
	words  *say.Catalogue
	lang   say.Lang
	folder store.Folder
	paces  paces // that the records read by evidence tell of
	helped bool  // help was asked for and printed
}

// say writes one sentence to the output.
func (a *app) say(m geo.Message) { fmt.Fprintln(a.out, a.sentence(m)) }

// complain writes one sentence to the error output.
func (a *app) complain(m geo.Message) { fmt.Fprintln(a.err, a.sentence(m)) }

func (a *app) sentence(m geo.Message) string { return a.words.Say(a.lang, sheet.Message(m)) }

// print writes v as indented JSON.
func (a *app) print(v any) error {
	encoder := json.NewEncoder(a.out)
	encoder.SetIndent("", "  ")
	return encoder.Encode(v)
}

// open opens the knowledge base of the data folder.
func (a *app) open() (*store.Base, error) {
	return store.Open(a.folder.Ground(), store.DefaultOptions())
}

// openToRead opens the knowledge base for a command that only reads: it may stand on a
// stick or in a folder that cannot be written.
func (a *app) openToRead() (*store.Base, error) {
	base, err := a.open()
	if !errors.Is(err, store.ErrReadOnly) {
		return base, err
	}
	options := store.DefaultOptions()
	options.ReadOnly = true
	return store.Open(a.folder.Ground(), options)
}

// openOrCreate opens the knowledge base, or makes the data folder and an empty base.
func (a *app) openOrCreate() (*store.Base, error) {
	if err := a.folder.Make(); err != nil {
		return nil, err
	}
	base, err := store.Open(a.folder.Ground(), store.DefaultOptions())
	if geo.KindOf(err) == geo.NotFound {
		base, err = store.Create(a.folder.Ground(), store.DefaultOptions())
		if geo.KindOf(err) == geo.Conflict { // another program was faster
			return store.Open(a.folder.Ground(), store.DefaultOptions())
		}
	}
	return base, err
}

// folder returns the data folder that the flags name.
func (c *commands) folder() store.Folder { return store.Folder(filepath.Clean(c.Data)) }

var (
	singleDash = regexp.MustCompile(`^-[a-z][a-z-]+`)
	negative   = regexp.MustCompile(`^-[0-9]`)
)

// oneForm writes flags with two dashes, and a leading minus of a coordinate as the minus
// sign that the position reader knows too, so that it is not taken for a flag.
func oneForm(args []string) []string {
	out := make([]string, len(args))
	for i, arg := range args {
		switch {
		case singleDash.MatchString(arg):
			arg = "-" + arg
		case negative.MatchString(arg):
			arg = "−" + strings.TrimPrefix(arg, "-")
		}
		out[i] = arg
	}
	return out
}

// languageOf picks the language before the arguments are parsed: help and complaints
// about the arguments are in it too.
func languageOf(args []string, getenv func(string) string) say.Lang {
	for i, arg := range args {
		name, value, _ := strings.Cut(strings.TrimLeft(arg, "-"), "=")
		if !strings.HasPrefix(arg, "-") || name != "lang" {
			continue
		}
		if value == "" && i+1 < len(args) {
			value = args[i+1]
		}
		if lang, err := say.ParseLang(value); err == nil {
			return lang
		}
	}
	for _, name := range []string{"LC_ALL", "LC_MESSAGES", "LANG"} {
		if text, _, _ := strings.Cut(getenv(name), "."); text != "" {
			if lang, err := say.ParseLang(strings.ReplaceAll(text, "_", "-")); err == nil {
				return lang
			}
		}
	}
	return say.EN
}
