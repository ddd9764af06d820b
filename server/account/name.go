package account

import (
	"strings"
	"unicode/utf8"

	"waterstrike/geo"

	"golang.org/x/text/secure/precis"
)

const (
	maxName  = 60 // characters
	maxLabel = 80
)

// readName brings a person's name into the form that is shown and the one that names are
// compared in: by RFC 8266 (nicknames), which allows blanks and any script, drops needless
// blanks, ignores case, and refuses what cannot be seen or turns the writing direction.
func readName(text string) (name, key string, err error) {
	name, err = precis.Nickname.String(text)
	if err == nil {
		key, err = precis.Nickname.CompareKey(text)
	}
	if err != nil || utf8.RuneCountInString(name) > maxName {
		return "", "", geo.Fail(geo.Invalid, "account.readName", geo.Say("account.bad-name", geo.With("n", geo.Count(maxName))), err)
	}
	return name, key, nil
}

// readLabel brings what a link is for into one line.
func readLabel(text string) (string, error) {
	label := strings.Join(strings.Fields(strings.ToValidUTF8(text, "")), " ")
	if label == "" || utf8.RuneCountInString(label) > maxLabel {
		return "", geo.Fail(geo.Invalid, "account.readLabel", geo.Say("account.bad-label", geo.With("n", geo.Count(maxLabel))), nil)
	}
	return label, nil
}
