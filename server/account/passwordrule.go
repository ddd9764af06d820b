package account

import (
	"slices"
	"strings"
	"unicode/utf8"

	"waterstrike/geo"

	"golang.org/x/text/secure/precis"
)

// What a password must be: long rather than strange. No rule of the kind "one digit, one
// sign", and no end date; these make passwords worse. Common practice, no source.
const (
	minPassword = 12  // characters
	maxPassword = 128 // characters; more would only cost time
	minDistinct = 6   // different characters
	minOwn      = 6   // characters left when name and commonplaces are taken out
)

// commonplaces are what many passwords are made of, in the three languages.
var commonplaces = []string{
	"waterstrike", "password", "passwort", "motdepasse", "palavrapasse", "senha", "welcome", "bienvenue", "bemvindo",
	"qwertyuiop", "azertyuiop", "qwerty", "azerty", "letmein", "forage", "borehole", "drilling",
	"1234567890", "0123456789", "123456789", "12345678", "123456", "12345", "1234", "abcdef", "2023", "2024", "2025", "2026",
}

// readPassword brings a password into the form that is hashed: RFC 8265, OpaqueString, so
// that it does not depend on the keyboard it is typed on. Nothing else is changed.
func readPassword(typed string) (string, error) {
	return precis.OpaqueString.String(typed)
}

// newPassword checks a password that somebody chooses.
func newPassword(typed, name string) (string, error) {
	refuse := func(code geo.Code, n int, cause error) error {
		return geo.Fail(geo.Invalid, "account.newPassword", geo.Say(code, geo.With("n", geo.Count(n))), cause)
	}
	n := utf8.RuneCountInString(typed)
	switch {
	case n > maxPassword:
		return "", refuse("account.password-long", maxPassword, nil)
	case n < minPassword:
		return "", refuse("account.password-short", minPassword, nil)
	case simple(typed, name):
		return "", geo.Fail(geo.Invalid, "account.newPassword", geo.Say("account.password-simple"), nil)
	}
	p, err := readPassword(typed)
	if err != nil {
		return "", geo.Fail(geo.Invalid, "account.newPassword", geo.Say("account.password-signs"), err)
	}
	return p, nil
}

// simple tells whether a password is one of the first that are tried.
func simple(password, name string) bool {
	runes := []rune(strings.ToLower(password))
	slices.Sort(runes)
	if len(slices.Compact(runes)) < minDistinct {
		return true
	}
	rest := strings.ToLower(password)
	for _, part := range slices.Concat(strings.Fields(strings.ToLower(name)), commonplaces) {
		if utf8.RuneCountInString(part) > 2 {
			rest = strings.ReplaceAll(rest, part, "")
		}
	}
	return utf8.RuneCountInString(rest) < minOwn
}
