package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"waterstrike/geo"
	"waterstrike/geo/intake"
	"waterstrike/geo/soil"
)

// soilWords returns the reader of layer descriptions: the words that come with the
// program, then those that a trainer keeps in rules/words.csv of the data folder.
func (a *app) soilWords() (*soil.Reader, error) {
	path := filepath.Join(string(a.folder), "rules", "words.csv")
	own, err := os.ReadFile(path)
	if errors.Is(err, fs.ErrNotExist) {
		return soil.DefaultReader(), nil
	}
	if err != nil {
		return nil, err
	}
	r, err := soil.NewReader(bytes.NewReader(soil.Words()), bytes.NewReader(own))
	if err != nil {
		return nil, geo.Fail(geo.Invalid, "import", geo.Say("import.bad-words",
			geo.With("file", geo.Text(path)), geo.With("value", geo.Text(err.Error()))), err)
	}
	return r, nil
}

// sayUnread lists the words of layer descriptions that nobody could read.
func (a *app) sayUnread(unread []intake.WordCount) {
	if len(unread) == 0 {
		return
	}
	list := make([]string, len(unread))
	for i, w := range unread {
		list[i] = fmt.Sprintf("%s (%d)", w.Word, w.N)
	}
	a.say(geo.Say("import.unread", geo.With("value", geo.Text(strings.Join(list, ", ")))))
}
