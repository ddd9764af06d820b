package account

import (
	"context"
	"database/sql"

	"waterstrike/geo"
)

// SetRole gives a person another role, from the next request on. [geo.Conflict] when no
// keeper would be left.
func (b *Book) SetRole(ctx context.Context, by By, id int64, role Role) error {
	const op = "account.SetRole"
	if _, ok := ParseRole(role.String()); !ok {
		return geo.Fail(geo.Invalid, op, geo.Say("account.no-role"), nil)
	}
	return b.change(ctx, op, func(tx *sql.Tx) error {
		var former string
		if err := tx.QueryRowContext(ctx, "SELECT role FROM person WHERE id = ?", id).Scan(&former); err != nil {
			return err
		}
		if former == role.String() {
			return nil
		}
		if _, err := tx.ExecContext(ctx, "UPDATE person SET role = ? WHERE id = ?", role.String(), id); err != nil {
			return err
		}
		before, _ := ParseRole(former)
		return b.noteRights(ctx, tx, op, Change{Author: by, What: RoleChanged, Person: geo.Some(id), Former: before, Now: role})
	})
}

// Shut lets a person in no longer: sessions end with the next request and codes no longer
// work. What that person wrote stays. [geo.Conflict] when no keeper would be left.
func (b *Book) Shut(ctx context.Context, by By, id int64) error {
	const op = "account.Shut"
	return b.change(ctx, op, func(tx *sql.Tx) error {
		done, err := b.setClosed(ctx, tx, id, true)
		if err != nil || !done {
			return err
		}
		if _, err := tx.ExecContext(ctx, "DELETE FROM code WHERE person = ?", id); err != nil {
			return err
		}
		return b.noteRights(ctx, tx, op, Change{Author: by, What: Shut, Person: geo.Some(id)})
	})
}

// Readmit lets a person in again, with the password of before.
func (b *Book) Readmit(ctx context.Context, by By, id int64) error {
	return b.change(ctx, "account.Readmit", func(tx *sql.Tx) error {
		done, err := b.setClosed(ctx, tx, id, false)
		if err != nil || !done {
			return err
		}
		return b.note(ctx, tx, Change{Author: by, What: Readmitted, Person: geo.Some(id)})
	})
}

// setClosed tells whether it changed anything; no such person is an error.
func (b *Book) setClosed(ctx context.Context, tx *sql.Tx, id int64, closed bool) (bool, error) {
	var was bool
	if err := tx.QueryRowContext(ctx, "SELECT closed FROM person WHERE id = ?", id).Scan(&was); err != nil {
		return false, err
	}
	if was == closed {
		return false, nil
	}
	_, err := tx.ExecContext(ctx, "UPDATE person SET closed = ?, stamp = stamp + 1 WHERE id = ?", closed, id)
	return true, err
}

// noteRights notes a change that takes rights, unless it leaves nobody to give them.
func (b *Book) noteRights(ctx context.Context, tx *sql.Tx, op string, c Change) error {
	var keepers int
	if err := tx.QueryRowContext(ctx, aKeeper).Scan(&keepers); err != nil {
		return err
	}
	if keepers == 0 {
		return geo.Fail(geo.Conflict, op, geo.Say("account.last-keeper"), nil)
	}
	return b.note(ctx, tx, c)
}
