package account

import (
	"context"
	"database/sql"
	"errors"

	"waterstrike/geo"
)

// SignIn checks a name and password that come from a place, such as an address on the
// network. [ErrNoMatch] when they do not belong together or the person may not come in,
// [TooSoonError] after many failures.
//
// One password is worked through in every case, so that the time does not tell whether the
// name is somebody's.
func (b *Book) SignIn(ctx context.Context, name, password, from string) (Person, error) {
	const op = "account.SignIn"
	_, key, err := readName(name)
	if err != nil {
		key = "" // nobody's name, answered like any other name that is nobody's
	}
	if wait := b.throttle.attempt(b.now(), key, from); wait > 0 {
		return Person{}, &TooSoonError{wait}
	}
	p, hash, err := b.withHash(ctx, key)
	if err != nil {
		return Person{}, fail(op, err)
	}
	ok, err := b.check(ctx, hash, password)
	if err != nil {
		return Person{}, fail(op, err)
	}
	if !ok || p.ID == 0 || !p.Joined || p.Closed {
		return Person{}, noMatch(op, "account.no-match")
	}
	b.throttle.succeeded(key, from)
	return p, b.renewHash(ctx, p, hash, password)
}

// withHash returns the person of a key and what a password is checked against: for want of
// a person or password a hash that no password has.
func (b *Book) withHash(ctx context.Context, key string) (Person, string, error) {
	var hash sql.NullString
	p, err := scanPerson(b.db.QueryRowContext(ctx, "SELECT "+personColumns+", p.password FROM person p WHERE p.key = ?", b.now().Unix(), key), &hash)
	if err != nil && !errors.Is(err, sql.ErrNoRows) {
		return Person{}, "", err
	}
	if !hash.Valid {
		return p, b.nobody, nil
	}
	return p, hash.String, nil
}

// check works a password through when it is its turn.
func (b *Book) check(ctx context.Context, hash, typed string) (ok bool, err error) {
	password, unreadable := readPassword(typed)
	if unreadable != nil || len(password) > 4*maxPassword {
		password = ""
	}
	err = b.inTurn(ctx, func() error {
		ok, err = matches(hash, password)
		return err
	})
	return ok && password != "", err
}

// renewHash hashes the password anew where the cost has been raised since.
func (b *Book) renewHash(ctx context.Context, p Person, hash, typed string) error {
	if c, _, _, err := readHash(hash); err != nil || c == b.options.Cost {
		return err
	}
	password, err := readPassword(typed)
	if err != nil {
		return err
	}
	renewed, err := b.hashInTurn(ctx, password)
	if err != nil {
		return fail("account.SignIn", err)
	}
	_, err = b.db.ExecContext(ctx, "UPDATE person SET password = ? WHERE id = ? AND password = ?", renewed, p.ID, hash)
	return fail("account.SignIn", err)
}

// ChangePassword lets a person choose another password; all other sessions of that person
// end. The person comes back with the new stamp.
func (b *Book) ChangePassword(ctx context.Context, id int64, present, next, from string) (Person, error) {
	const op = "account.ChangePassword"
	p, err := b.Person(ctx, id)
	if err != nil {
		return Person{}, err
	}
	if _, err := newPassword(next, p.Name); err != nil {
		return Person{}, err
	}
	if _, err := b.SignIn(ctx, p.Name, present, from); errors.Is(err, ErrNoMatch) {
		return Person{}, noMatch(op, "account.not-present-password")
	} else if err != nil {
		return Person{}, err
	}
	hash, err := b.chosen(ctx, op, next, p.Name)
	if err != nil {
		return Person{}, err
	}
	err = b.change(ctx, op, func(tx *sql.Tx) error {
		return b.writePassword(ctx, tx, p.ID, hash, Change{Author: geo.Some(p.ID), What: PasswordChanged})
	})
	if err != nil {
		return Person{}, err
	}
	return b.Person(ctx, p.ID)
}

// writePassword sets a password; codes and sessions of that person end.
func (b *Book) writePassword(ctx context.Context, tx *sql.Tx, id int64, hash string, c Change) error {
	if _, err := tx.ExecContext(ctx, "UPDATE person SET password = ?, stamp = stamp + 1 WHERE id = ?", hash, id); err != nil {
		return err
	}
	if _, err := tx.ExecContext(ctx, "DELETE FROM code WHERE person = ?", id); err != nil {
		return err
	}
	c.Person = geo.Some(id)
	return b.note(ctx, tx, c)
}
