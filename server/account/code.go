package account

import (
	"context"
	"database/sql"
	"errors"
	"time"

	"waterstrike/geo"
)

// How long a one-time code works.
const (
	firstCodeLasts = 24 * time.Hour
	codeLasts      = 7 * 24 * time.Hour
)

// By is who makes a change: a person, or missing for whoever sits at the computer itself.
type By = geo.Opt[int64]

// FirstCode makes the code with which the first keeper comes in; one made before no longer
// works. [geo.Conflict] when there is a keeper.
func (b *Book) FirstCode(ctx context.Context) (string, error) {
	const op = "account.FirstCode"
	code := newCode()
	return code, b.change(ctx, op, func(tx *sql.Tx) error {
		if err := noKeeperYet(ctx, tx, op); err != nil {
			return err
		}
		if _, err := tx.ExecContext(ctx, "DELETE FROM code WHERE person IS NULL"); err != nil {
			return err
		}
		return b.writeCode(ctx, tx, code, sql.NullInt64{}, firstCodeLasts)
	})
}

func noKeeperYet(ctx context.Context, tx *sql.Tx, op string) error {
	var n int
	if err := tx.QueryRowContext(ctx, aKeeper).Scan(&n); err != nil {
		return err
	}
	if n > 0 {
		return geo.Fail(geo.Conflict, op, geo.Say("account.has-keeper"), nil)
	}
	return nil
}

func (b *Book) writeCode(ctx context.Context, tx *sql.Tx, code string, person sql.NullInt64, lasts time.Duration) error {
	_, err := tx.ExecContext(ctx, "INSERT INTO code (hash, person, expires) VALUES (?, ?, ?)", hashed(plainCode(code)), person, b.now().Add(lasts).Unix())
	return err
}

func (b *Book) addPerson(ctx context.Context, tx *sql.Tx, op, name, key string, role Role) (int64, error) {
	done, err := tx.ExecContext(ctx, "INSERT INTO person (name, key, role, made) VALUES (?, ?, ?, ?) ON CONFLICT (key) DO NOTHING",
		name, key, role.String(), b.now().Unix())
	if err != nil {
		return 0, err
	}
	if n, err := done.RowsAffected(); err != nil || n == 0 {
		taken := geo.Say("account.name-taken", geo.With("value", geo.Text(name)))
		return 0, errors.Join(geo.Fail(geo.Conflict, op, taken, nil), err)
	}
	return done.LastInsertId()
}

// Invite adds a person and returns the one-time code that is handed over on paper or by
// word of mouth. [geo.Conflict] when the name is somebody's.
func (b *Book) Invite(ctx context.Context, by By, name string, role Role) (Person, string, error) {
	const op = "account.Invite"
	shown, key, err := readName(name)
	if err != nil {
		return Person{}, "", err
	}
	if _, ok := ParseRole(role.String()); !ok {
		return Person{}, "", geo.Fail(geo.Invalid, op, geo.Say("account.no-role"), nil)
	}
	code := newCode()
	var id int64
	err = b.change(ctx, op, func(tx *sql.Tx) error {
		if id, err = b.addPerson(ctx, tx, op, shown, key, role); err != nil {
			return err
		}
		if err := b.writeCode(ctx, tx, code, sql.NullInt64{Int64: id, Valid: true}, codeLasts); err != nil {
			return err
		}
		return b.note(ctx, tx, Change{Author: by, What: Invited, Person: geo.Some(id), Now: role})
	})
	if err != nil {
		return Person{}, "", err
	}
	p, err := b.Person(ctx, id)
	return p, code, err
}

// NewCode makes a one-time code with which a person chooses a new password; one made
// before no longer works. The present password works until then. [geo.Conflict] when the
// person may not come in.
func (b *Book) NewCode(ctx context.Context, by By, id int64) (Person, string, error) {
	const op = "account.NewCode"
	code := newCode()
	err := b.change(ctx, op, func(tx *sql.Tx) error {
		var closed bool
		if err := tx.QueryRowContext(ctx, "SELECT closed FROM person WHERE id = ?", id).Scan(&closed); err != nil {
			return err
		}
		if closed {
			return geo.Fail(geo.Conflict, op, geo.Say("account.is-closed"), nil)
		}
		if _, err := tx.ExecContext(ctx, "DELETE FROM code WHERE person = ?", id); err != nil {
			return err
		}
		if err := b.writeCode(ctx, tx, code, sql.NullInt64{Int64: id, Valid: true}, codeLasts); err != nil {
			return err
		}
		return b.note(ctx, tx, Change{Author: by, What: CodeMade, Person: geo.Some(id)})
	})
	if err != nil {
		return Person{}, "", err
	}
	p, err := b.Person(ctx, id)
	return p, code, err
}
