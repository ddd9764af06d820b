package account

import (
	"crypto/rand"
	"crypto/sha256"
	"encoding/base32"
	"encoding/base64"
	"strings"
)

const (
	tokenBytes = 32 // of a link: nobody guesses 256 bits
	codeBytes  = 10 // of a one-time code: 80 bits, 16 characters, with few attempts and a short life
	codeGroup  = 4  // characters that stand together
)

// newSecret returns random bits as text that fits into an address.
func newSecret(n int) string {
	b := make([]byte, n)
	rand.Read(b) //nolint:errcheck // never fails
	return base64.RawURLEncoding.EncodeToString(b)
}

func hashed(secret string) []byte {
	h := sha256.Sum256([]byte(secret))
	return h[:]
}

// The alphabet of codes has no I, L, O and U, which are misread for others or make words.
var codeText = base32.NewEncoding("0123456789ABCDEFGHJKMNPQRSTVWXYZ").WithPadding(base32.NoPadding)

// newCode returns a one-time code as it is printed, such as "7KQ2-M0XD-9RTB-HW4E".
func newCode() string {
	b := make([]byte, codeBytes)
	rand.Read(b) //nolint:errcheck // never fails
	plain := codeText.EncodeToString(b)
	var groups []string
	for i := 0; i < len(plain); i += codeGroup {
		groups = append(groups, plain[i:i+codeGroup])
	}
	return strings.Join(groups, "-")
}

// plainCode reads a code as it is typed: in any case, with or without its hyphens, and
// with the letters that are taken for digits.
func plainCode(typed string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == 'O' || r == 'o':
			return '0'
		case strings.ContainsRune("IiLl", r):
			return '1'
		case 'a' <= r && r <= 'z':
			return r - 'a' + 'A'
		case '0' <= r && r <= '9', 'A' <= r && r <= 'Z':
			return r
		}
		return -1
	}, typed)
}
