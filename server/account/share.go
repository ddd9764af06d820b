package account

import (
	"context"
	"database/sql"
	"errors"
	"time"

	"waterstrike/geo"
)

// Share is a link that lets outsiders see coverage, and nothing else, for a while.
type Share struct {
	ID        int64
	Label     string // what it is for
	Blurred   bool   // positions are shown roughly
	MakerName string
	Made      time.Time
	Expires   time.Time
	Withdrawn bool
}

// Works tells whether the link opens anything at a moment.
func (s Share) Works(at time.Time) bool { return !s.Withdrawn && at.Before(s.Expires) }

// maxShareDays is the longest that a link works.
const maxShareDays = 366

// MakeShare makes a link that works for some days; the token is the secret part of its
// address, and is kept nowhere.
func (b *Book) MakeShare(ctx context.Context, by int64, label string, blurred bool, days int) (Share, string, error) {
	const op = "account.MakeShare"
	label, err := readLabel(label)
	if err != nil {
		return Share{}, "", err
	}
	if days < 1 || days > maxShareDays {
		return Share{}, "", geo.Fail(geo.Invalid, op, geo.Say("account.bad-days", geo.With("n", geo.Count(maxShareDays))), nil)
	}
	token := newSecret(tokenBytes)
	var id int64
	err = b.change(ctx, op, func(tx *sql.Tx) error {
		done, err := tx.ExecContext(ctx, "INSERT INTO share (hash, label, blurred, maker, made, expires) VALUES (?, ?, ?, ?, ?, ?)",
			hashed(token), label, blurred, by, b.now().Unix(), b.now().AddDate(0, 0, days).Unix())
		if err != nil {
			return err
		}
		if id, err = done.LastInsertId(); err != nil {
			return err
		}
		return b.note(ctx, tx, Change{Author: geo.Some(by), What: ShareMade, Share: geo.Some(id)})
	})
	if err != nil {
		return Share{}, "", err
	}
	s, err := scanShare(b.db.QueryRowContext(ctx, shareColumns+" WHERE s.id = ?", id))
	return s, token, fail(op, err)
}

const shareColumns = "SELECT s.id, s.label, s.blurred, p.name, s.made, s.expires, s.withdrawn FROM share s JOIN person p ON p.id = s.maker"

func scanShare(r row) (s Share, err error) {
	var made, expires int64
	err = r.Scan(&s.ID, &s.Label, &s.Blurred, &s.MakerName, &made, &expires, &s.Withdrawn)
	s.Made, s.Expires = time.Unix(made, 0).UTC(), time.Unix(expires, 0).UTC()
	return s, err
}

// Shares lists the links, the newest first.
func (b *Book) Shares(ctx context.Context) ([]Share, error) {
	const op = "account.Shares"
	rows, err := b.db.QueryContext(ctx, shareColumns+" ORDER BY s.id DESC")
	if err != nil {
		return nil, fail(op, err)
	}
	defer rows.Close()
	var all []Share
	for rows.Next() {
		s, err := scanShare(rows)
		if err != nil {
			return nil, fail(op, err)
		}
		all = append(all, s)
	}
	return all, fail(op, rows.Err())
}

// ShareOf returns the link of a token. [geo.NotFound] when there is none, or it has ended
// or was withdrawn: which of these it is, is not told.
func (b *Book) ShareOf(ctx context.Context, token string) (Share, error) {
	const op = "account.ShareOf"
	s, err := scanShare(b.db.QueryRowContext(ctx, shareColumns+" WHERE s.hash = ?", hashed(token)))
	if err != nil && !errors.Is(err, sql.ErrNoRows) {
		return Share{}, fail(op, err)
	}
	if err != nil || !s.Works(b.now()) {
		return Share{}, geo.Fail(geo.NotFound, op, geo.Say("account.no-share"), nil)
	}
	return s, nil
}

// Withdraw ends a link at once.
func (b *Book) Withdraw(ctx context.Context, by int64, id int64) error {
	const op = "account.Withdraw"
	return b.change(ctx, op, func(tx *sql.Tx) error {
		var withdrawn bool
		if err := tx.QueryRowContext(ctx, "SELECT withdrawn FROM share WHERE id = ?", id).Scan(&withdrawn); err != nil || withdrawn {
			return err
		}
		if _, err := tx.ExecContext(ctx, "UPDATE share SET withdrawn = 1 WHERE id = ?", id); err != nil {
			return err
		}
		return b.note(ctx, tx, Change{Author: geo.Some(by), What: ShareWithdrawn, Share: geo.Some(id)})
	})
}
