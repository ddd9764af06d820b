package store

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"errors"

	"waterstrike/geo"
)

// Received is what became of a record that somebody sent.
type Received struct {
	Seq   int64 `json:"seq"`   // of the record's last change, to send with the next version of it
	Again bool  `json:"again"` // it had come before, or was here just so: nothing was written
}

// Sent is how a record came.
type Sent struct {
	Since int64  // the number of the change that the sender had last seen of it; 0 for a new one
	Body  []byte // as it came: by it the same thing is known when it comes again
}

// ReceiveBore saves a bore that was sent over a line that may break. It returns once the
// bore is on the disk. What was received before adds nothing, even where the record was
// changed or hidden meanwhile. [geo.Conflict] when somebody else has changed the record
// since the sender saw it: nothing is written.
func (b *Base) ReceiveBore(ctx context.Context, bore geo.Bore, sent Sent, why Why) (Received, error) {
	return receiveRecord(ctx, b, bores, bore, sent, why, func(*session) error { return nil })
}

// receiveRecord writes one record and what goes with it, in one go.
func receiveRecord[T any](ctx context.Context, b *Base, r record[T], v T, sent Sent, why Why, also func(*session) error) (out Received, err error) {
	v, err = ready(r, v)
	if err != nil {
		return out, err
	}
	digest := sent.digest(r.name)
	err = b.write(ctx, why, "", func(s *session) error {
		out, err = s.receivedBefore(digest)
		if out.Again || err != nil {
			return err
		}
		out, err = receiveNow(s, r, v, sent.Since)
		if err == nil && !out.Again {
			err = also(s)
		}
		if err == nil && !out.Again {
			_, err = s.exec("INSERT INTO received (digest, record, seq) VALUES (?, ?, ?)", digest, r.id(&v), out.Seq)
		}
		return err
	})
	return out, fail("store.Receive", err)
}

// receiveNow writes what nobody sent before, unless the record has moved on.
func receiveNow[T any](s *session, r record[T], v T, since int64) (out Received, err error) {
	id := r.id(&v)
	last, err := s.lastSeq(id)
	if err != nil {
		return out, err
	}
	if last != since {
		if old, _, err := find(s.ctx, s.tx, r, id); err == nil {
			if same, err := alike(old, v); err != nil || same {
				return Received{Seq: last, Again: same}, err
			}
		} else if !errors.Is(err, sql.ErrNoRows) {
			return out, err
		}
		return out, geo.Fail(geo.Conflict, "store.Receive", geo.Say("store.changed-since", geo.With("id", geo.Text(id))), nil)
	}
	did, err := save(s, r, v)
	if err != nil || did == same {
		return Received{Seq: last, Again: true}, err
	}
	out.Seq, err = s.lastSeq(id)
	return out, err
}

// lastSeq is the number of the last change of a record, 0 where there was none.
func (s *session) lastSeq(record string) (seq int64, err error) {
	err = s.queryRow("SELECT coalesce(max(seq), 0) FROM change WHERE record = ?", record).Scan(&seq)
	return seq, err
}

func (s *session) receivedBefore(digest []byte) (out Received, err error) {
	err = s.queryRow("SELECT seq FROM received WHERE digest = ?", digest).Scan(&out.Seq)
	if errors.Is(err, sql.ErrNoRows) {
		return out, nil
	}
	out.Again = err == nil
	return out, err
}

// digest names what was sent; the same body for another kind of record is another thing.
func (s Sent) digest(kind string) []byte {
	sum := sha256.Sum256(append([]byte(kind+"\x00"), s.Body...))
	return sum[:]
}
