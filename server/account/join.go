package account

import (
	"context"
	"database/sql"
	"errors"

	"waterstrike/geo"
)

// Begin makes the first keeper from the first code. [ErrNoMatch] when the code is not that
// one, [geo.Conflict] when there is a keeper or the name is somebody's, [geo.Invalid] when
// name or password will not do: the code then still works.
func (b *Book) Begin(ctx context.Context, code, name, password, from string) (Person, error) {
	const op = "account.Begin"
	bearer, err := b.bearer(ctx, op, code, from)
	if errors.Is(err, ErrNoMatch) || err == nil && bearer.Valid {
		return Person{}, b.noFirst(ctx, op)
	}
	if err != nil {
		return Person{}, err
	}
	shown, key, err := readName(name)
	if err != nil {
		return Person{}, err
	}
	hash, err := b.chosen(ctx, op, password, shown)
	if err != nil {
		return Person{}, err
	}
	var id int64
	err = b.change(ctx, op, func(tx *sql.Tx) error {
		if err := noKeeperYet(ctx, tx, op); err != nil {
			return err
		}
		if err := b.useCode(ctx, tx, op, code, bearer); err != nil {
			return err
		}
		if id, err = b.addPerson(ctx, tx, op, shown, key, Keeper); err != nil {
			return err
		}
		return b.writePassword(ctx, tx, id, hash, Change{What: KeeperMade, Now: Keeper})
	})
	if err != nil {
		return Person{}, err
	}
	b.throttle.succeeded("", from)
	return b.Person(ctx, id)
}

// noFirst says where to find the code of the first keeper, as long as there is nobody to ask
// for another.
func (b *Book) noFirst(ctx context.Context, op string) error {
	switch need, err := b.NeedsKeeper(ctx); {
	case err != nil:
		return err
	case need:
		return noMatch(op, "account.bad-first-code")
	}
	return noMatch(op, "account.bad-code")
}

// Redeem lets the bearer of a code choose the password of the person it was made for; the
// code is then used up and that person's sessions end. [ErrNoMatch] when the code is
// nobody's or too old, [geo.Invalid] when the password will not do: the code then still
// works.
func (b *Book) Redeem(ctx context.Context, code, password, from string) (Person, error) {
	const op = "account.Redeem"
	p, err := b.Bearer(ctx, code, from)
	if err != nil {
		return Person{}, err
	}
	hash, err := b.chosen(ctx, op, password, p.Name)
	if err != nil {
		return Person{}, err
	}
	err = b.change(ctx, op, func(tx *sql.Tx) error {
		if err := b.useCode(ctx, tx, op, code, sql.NullInt64{Int64: p.ID, Valid: true}); err != nil { // somebody may have been faster
			return err
		}
		return b.writePassword(ctx, tx, p.ID, hash, Change{Author: geo.Some(p.ID), What: CodeUsed})
	})
	if err != nil {
		return Person{}, err
	}
	return b.Person(ctx, p.ID)
}

// Bearer returns the person that a code was made for, without using it up. [ErrNoMatch] when
// the code is nobody's or too old.
func (b *Book) Bearer(ctx context.Context, code, from string) (Person, error) {
	const op = "account.Bearer"
	bearer, err := b.bearer(ctx, op, code, from)
	if err != nil {
		return Person{}, err
	}
	if !bearer.Valid {
		return Person{}, noMatch(op, "account.bad-code")
	}
	b.throttle.succeeded("", from)
	return b.Person(ctx, bearer.Int64)
}

// bearer returns the person that a code was made for; none for the first code.
func (b *Book) bearer(ctx context.Context, op, code, from string) (person sql.NullInt64, err error) {
	if wait := b.throttle.attempt(b.now(), "", from); wait > 0 {
		return person, &TooSoonError{wait}
	}
	err = b.db.QueryRowContext(ctx, "SELECT person FROM code WHERE hash = ? AND expires > ?", hashed(plainCode(code)), b.now().Unix()).Scan(&person)
	if errors.Is(err, sql.ErrNoRows) {
		return person, noMatch(op, "account.bad-code")
	}
	return person, fail(op, err)
}

// chosen checks and hashes a password that somebody chooses.
func (b *Book) chosen(ctx context.Context, op, typed, name string) (string, error) {
	password, err := newPassword(typed, name)
	if err != nil {
		return "", err
	}
	hash, err := b.hashInTurn(ctx, password)
	return hash, fail(op, err)
}

// useCode takes a code out of the file, which only one of several bearers can.
func (b *Book) useCode(ctx context.Context, tx *sql.Tx, op, code string, bearer sql.NullInt64) error {
	done, err := tx.ExecContext(ctx, "DELETE FROM code WHERE hash = ? AND person IS ? AND expires > ?", hashed(plainCode(code)), bearer, b.now().Unix())
	if err != nil {
		return err
	}
	if n, err := done.RowsAffected(); err != nil || n == 0 {
		return errors.Join(noMatch(op, "account.bad-code"), err)
	}
	return nil
}
