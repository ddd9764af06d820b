package account

import (
	"context"
	"database/sql"
	"time"

	"waterstrike/geo"
)

// Person is one who may use the program.
type Person struct {
	ID        int64
	Name      string
	Role      Role
	Joined    bool // has a password
	Closed    bool // may no longer come in
	Stamp     int64
	CodeUntil geo.Opt[time.Time] // until when a one-time code for this person works; missing when there is none
}

const personColumns = `p.id, p.name, p.role, p.password IS NOT NULL, p.closed, p.stamp,
	(SELECT c.expires FROM code c WHERE c.person = p.id AND c.expires > ?)`

type row interface{ Scan(dest ...any) error }

func scanPerson(r row, more ...any) (p Person, err error) {
	var role string
	var until sql.NullInt64
	err = r.Scan(append([]any{&p.ID, &p.Name, &role, &p.Joined, &p.Closed, &p.Stamp, &until}, more...)...)
	p.Role, _ = ParseRole(role) // the file admits no other
	if until.Valid {
		p.CodeUntil = geo.Some(time.Unix(until.Int64, 0).UTC())
	}
	return p, err
}

// People lists everybody: those who may come in first, by name.
func (b *Book) People(ctx context.Context) ([]Person, error) {
	rows, err := b.db.QueryContext(ctx, "SELECT "+personColumns+" FROM person p ORDER BY p.closed, p.key", b.now().Unix())
	if err != nil {
		return nil, fail("account.People", err)
	}
	defer rows.Close()
	var all []Person
	for rows.Next() {
		p, err := scanPerson(rows)
		if err != nil {
			return nil, fail("account.People", err)
		}
		all = append(all, p)
	}
	return all, fail("account.People", rows.Err())
}

// Person returns one person; [geo.NotFound] when there is none of that number.
func (b *Book) Person(ctx context.Context, id int64) (Person, error) {
	p, err := scanPerson(b.db.QueryRowContext(ctx, "SELECT "+personColumns+" FROM person p WHERE p.id = ?", b.now().Unix(), id))
	return p, fail("account.Person", err)
}

// Named returns the person of a name, in any case; [geo.NotFound] when there is none.
func (b *Book) Named(ctx context.Context, name string) (Person, error) {
	_, key, err := readName(name)
	if err != nil {
		return Person{}, err
	}
	p, err := scanPerson(b.db.QueryRowContext(ctx, "SELECT "+personColumns+" FROM person p WHERE p.key = ?", b.now().Unix(), key))
	if err != nil && err != sql.ErrNoRows {
		return p, fail("account.Named", err)
	}
	if err != nil {
		return p, geo.Fail(geo.NotFound, "account.Named", geo.Say("account.no-person", geo.With("value", geo.Text(name))), err)
	}
	return p, nil
}

// aKeeper counts those who could let others in.
const aKeeper = "SELECT count(*) FROM person WHERE role = 'keeper' AND password IS NOT NULL AND closed = 0"

// NeedsKeeper tells whether there is nobody yet who could let others in.
func (b *Book) NeedsKeeper(ctx context.Context) (bool, error) {
	var n int
	err := b.db.QueryRowContext(ctx, aKeeper).Scan(&n)
	return n == 0, fail("account.NeedsKeeper", err)
}
