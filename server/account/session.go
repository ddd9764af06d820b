package account

import (
	"context"
	"database/sql"
	"errors"
	"time"
)

// Sessions is where a session manager keeps its sessions: the file of people, so that they
// outlast the program. The tokens that it is given are hashed already.
type Sessions struct{ book *Book }

// Sessions returns the place for sessions.
func (b *Book) Sessions() Sessions { return Sessions{b} }

// FindCtx returns the data of a session; found is false when there is none or it has ended.
func (s Sessions) FindCtx(ctx context.Context, token string) (data []byte, found bool, err error) {
	err = s.book.db.QueryRowContext(ctx, "SELECT data FROM session WHERE token = ? AND expires > ?", token, s.book.now().Unix()).Scan(&data)
	if errors.Is(err, sql.ErrNoRows) {
		return nil, false, nil
	}
	return data, err == nil, fail("account.Find", err)
}

// CommitCtx writes a session, and sweeps those out that have ended.
func (s Sessions) CommitCtx(ctx context.Context, token string, data []byte, expiry time.Time) error {
	return s.book.change(ctx, "account.Commit", func(tx *sql.Tx) error {
		if _, err := tx.ExecContext(ctx, "DELETE FROM session WHERE expires <= ?", s.book.now().Unix()); err != nil {
			return err
		}
		_, err := tx.ExecContext(ctx, `INSERT INTO session (token, data, expires) VALUES (?, ?, ?)
			ON CONFLICT (token) DO UPDATE SET data = excluded.data, expires = excluded.expires`, token, data, expiry.Unix())
		return err
	})
}

// DeleteCtx ends a session; one that is not there is ended already.
func (s Sessions) DeleteCtx(ctx context.Context, token string) error {
	_, err := s.book.db.ExecContext(ctx, "DELETE FROM session WHERE token = ?", token)
	return fail("account.Delete", err)
}

// Find is FindCtx without a context.
func (s Sessions) Find(token string) ([]byte, bool, error) {
	return s.FindCtx(context.Background(), token)
}

// Commit is CommitCtx without a context.
func (s Sessions) Commit(token string, data []byte, expiry time.Time) error {
	return s.CommitCtx(context.Background(), token, data, expiry)
}

// Delete is DeleteCtx without a context.
func (s Sessions) Delete(token string) error { return s.DeleteCtx(context.Background(), token) }
