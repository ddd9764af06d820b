package account

import (
	"context"
	"database/sql"
	"time"

	"waterstrike/geo"
)

// What says what a change was.
type What string

// The changes. Their names stand in the file: add only.
const (
	KeeperMade      What = "keeper-made"
	Invited         What = "invited"
	CodeMade        What = "code-made"
	CodeUsed        What = "code-used"
	PasswordChanged What = "password-changed"
	RoleChanged     What = "role-changed"
	Shut            What = "shut"
	Readmitted      What = "readmitted"
	ShareMade       What = "share-made"
	ShareWithdrawn  What = "share-withdrawn"
)

// Change is one line of the log: who, when, what. It is only ever added to.
type Change struct {
	At     time.Time
	Author By
	What   What
	Person geo.Opt[int64]
	Share  geo.Opt[int64]
	Former Role // before a change of role; else Nobody
	Now    Role // after one, or of a new person; else Nobody

	AuthorName string // empty for whoever sat at the computer
	Subject    string // the person's name, or what the link is for
}

// note adds a line to the log within the change that it tells of.
func (b *Book) note(ctx context.Context, tx *sql.Tx, c Change) error {
	_, err := tx.ExecContext(ctx, "INSERT INTO change (at, author, what, person, share, former, now) VALUES (?, ?, ?, ?, ?, ?, ?)",
		b.now().Unix(), number(c.Author), string(c.What), number(c.Person), number(c.Share), roleText(c.Former), roleText(c.Now))
	return err
}

func number(o geo.Opt[int64]) sql.NullInt64 {
	v, ok := o.Get()
	return sql.NullInt64{Int64: v, Valid: ok}
}

func roleText(r Role) sql.NullString { return sql.NullString{String: r.String(), Valid: r != Nobody} }

// Changes returns the latest changes, the newest first.
func (b *Book) Changes(ctx context.Context, most int) ([]Change, error) {
	const op = "account.Changes"
	rows, err := b.db.QueryContext(ctx, `SELECT c.at, c.author, c.what, c.person, c.share, c.former, c.now,
			coalesce(a.name, ''), coalesce(p.name, s.label, '')
		FROM change c LEFT JOIN person a ON a.id = c.author LEFT JOIN person p ON p.id = c.person LEFT JOIN share s ON s.id = c.share
		ORDER BY c.seq DESC LIMIT ?`, most)
	if err != nil {
		return nil, fail(op, err)
	}
	defer rows.Close()
	var all []Change
	for rows.Next() {
		c, err := scanChange(rows)
		if err != nil {
			return nil, fail(op, err)
		}
		all = append(all, c)
	}
	return all, fail(op, rows.Err())
}

func scanChange(r row) (c Change, err error) {
	var at int64
	var author, person, share sql.NullInt64
	var former, now sql.NullString
	err = r.Scan(&at, &author, &c.What, &person, &share, &former, &now, &c.AuthorName, &c.Subject)
	c.At = time.Unix(at, 0).UTC()
	c.Author, c.Person, c.Share = optional(author), optional(person), optional(share)
	c.Former, _ = ParseRole(former.String)
	c.Now, _ = ParseRole(now.String)
	return c, err
}

func optional(n sql.NullInt64) geo.Opt[int64] {
	if !n.Valid {
		return geo.Opt[int64]{}
	}
	return geo.Some(n.Int64)
}
