package account

import (
	"context"
	"crypto/rand"
	"crypto/subtle"
	"encoding/base64"
	"errors"
	"fmt"
	"time"

	"golang.org/x/crypto/argon2"
)

// Cost is what one password costs to check, which is what it costs to guess one.
type Cost struct {
	MemoryKiB uint32
	Passes    uint32
	Lanes     uint8
}

// DefaultCost is 19 MiB, two passes, one lane: a minimum in common use; see RFC 9106 for
// what the parameters do.
func DefaultCost() Cost { return Cost{MemoryKiB: 19 * 1024, Passes: 2, Lanes: 1} }

const (
	saltBytes       = 16 // RFC 9106, section 3.1
	hashBytes       = 32
	passwordsAtOnce = 2 // each takes its memory; more at once would let strangers fill it
	turnWait        = 10 * time.Second
)

var errHash = errors.New("account: a password's hash cannot be read")

// hash returns the password's hash with its salt and cost, in the form of the PHC string
// format.
func (c Cost) hash(password string) (string, error) {
	salt := make([]byte, saltBytes)
	if _, err := rand.Read(salt); err != nil {
		return "", err
	}
	text := base64.RawStdEncoding.EncodeToString
	return fmt.Sprintf("%s%s$%s", c.head(), text(salt), text(c.key(password, salt))), nil
}

func (c Cost) head() string {
	return fmt.Sprintf("$argon2id$v=%d$m=%d,t=%d,p=%d$", argon2.Version, c.MemoryKiB, c.Passes, c.Lanes)
}

func (c Cost) key(password string, salt []byte) []byte {
	return argon2.IDKey([]byte(password), salt, c.Passes, c.MemoryKiB, c.Lanes, hashBytes)
}

// readHash takes a hash apart.
func readHash(hash string) (c Cost, salt, key []byte, err error) {
	var version int
	var rest string
	n, _ := fmt.Sscanf(hash, "$argon2id$v=%d$m=%d,t=%d,p=%d$%s", &version, &c.MemoryKiB, &c.Passes, &c.Lanes, &rest)
	salted, keyed := len(rest)-1-base64.RawStdEncoding.EncodedLen(hashBytes), base64.RawStdEncoding.EncodedLen(hashBytes)
	if n != 5 || version != argon2.Version || salted < 1 || rest[salted] != '$' || c.Passes == 0 || c.Lanes == 0 {
		return c, nil, nil, errHash
	}
	salt, err = base64.RawStdEncoding.DecodeString(rest[:salted])
	if err != nil {
		return c, nil, nil, errHash
	}
	if key, err = base64.RawStdEncoding.DecodeString(rest[len(rest)-keyed:]); err != nil {
		return c, nil, nil, errHash
	}
	return c, salt, key, nil
}

// matches tells whether a password has a hash.
func matches(hash, password string) (bool, error) {
	c, salt, key, err := readHash(hash)
	if err != nil {
		return false, err
	}
	return subtle.ConstantTimeCompare(c.key(password, salt), key) == 1, nil
}

// inTurn does costly work when few others do, so that attempts cannot use up the memory.
func (b *Book) inTurn(ctx context.Context, work func() error) error {
	ctx, cancel := context.WithTimeout(ctx, turnWait)
	defer cancel()
	select {
	case b.turns <- struct{}{}:
		defer func() { <-b.turns }()
		return work()
	case <-ctx.Done():
		return ctx.Err()
	}
}

// hashInTurn hashes a new password.
func (b *Book) hashInTurn(ctx context.Context, password string) (hash string, err error) {
	err = b.inTurn(ctx, func() error {
		hash, err = b.options.Cost.hash(password)
		return err
	})
	return hash, err
}
