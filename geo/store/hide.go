package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"strings"
	"time"

	"waterstrike/geo"
)

// HiddenRecord is a record that was deleted, here or in another program.
type HiddenRecord struct {
	ID    string    `json:"id"`
	Layer string    `json:"layer"`
	Label string    `json:"label,omitempty"` // its code or name
	At    time.Time `json:"at"`
	Who   string    `json:"who,omitempty"` // empty: from outside
	Why   string    `json:"why,omitempty"`
}

// Hide takes a record of any kind, and its parts, out of sight, and with a siting visit the
// water points that its dug wells are, in one change. Nothing is erased:
// [Base.Restore] brings it back. [geo.NotFound] when there is no such record.
func (b *Base) Hide(ctx context.Context, id string, why Why) error {
	err := b.write(ctx, why, "", func(s *session) error {
		wells, err := s.wellsOf(id)
		if err != nil {
			return err
		}
		if err := s.hide(id); err != nil {
			return err
		}
		for _, well := range wells {
			if err := s.hide(well); err != nil && geo.KindOf(err) != geo.NotFound { // somebody hid it by itself
				return err
			}
		}
		return nil
	})
	return fail("store.Hide", err)
}

func (s *session) hide(id string) error {
	var layer string
	var fid int64
	if err := s.queryRow(whereIsSQL(), id).Scan(&layer, &fid); err != nil {
		return noRecord(id, err)
	}
	if err := s.begin(); err != nil {
		return err
	}
	_, err := s.exec(fmt.Sprintf("DELETE FROM %s WHERE fid = ?", layer), fid)
	return err
}

// wellsOf lists the water points that a siting visit made; none for any other record.
func (s *session) wellsOf(id string) (out []string, err error) {
	rows, err := s.tx.QueryContext(s.ctx, `SELECT n.point_id FROM nearby n JOIN siting v ON v.fid = n.siting_fid
		WHERE v.id = ? AND n.point_id IS NOT NULL ORDER BY n.fid`, id)
	if err != nil {
		return nil, err
	}
	defer rows.Close() //nolint:errcheck // only read from
	for rows.Next() {
		var well string
		if err := rows.Scan(&well); err != nil {
			return nil, err
		}
		out = append(out, well)
	}
	return out, rows.Err()
}

// Restore brings a hidden record back as it was, with what went out of sight in the same
// change because it belongs to it. [geo.NotFound] when none is hidden
// under that id.
func (b *Base) Restore(ctx context.Context, id string, why Why) error {
	err := b.write(ctx, why, "", func(s *session) error {
		var act sql.NullInt64
		var at sql.NullString
		err := s.queryRow("SELECT c.act, c.at FROM hidden h JOIN change c ON c.seq = h.seq WHERE h.id = ?", id).Scan(&act, &at)
		if err != nil {
			return noRecord(id, err)
		}
		e, err := entryOf(s, id, act, at.String)
		if err != nil {
			return err
		}
		if err := e.undo(s); err != nil {
			return err
		}
		wells, err := s.wellsOf(id)
		if err != nil {
			return err
		}
		for _, well := range wells {
			if err := s.revive(well, act); err != nil {
				return err
			}
		}
		return nil
	})
	return fail("store.Restore", err)
}

// revive brings a record back that an act took out of sight; one that it did not is left as
// it is.
func (s *session) revive(id string, act sql.NullInt64) error {
	var at sql.NullString
	err := s.queryRow("SELECT c.at FROM hidden h JOIN change c ON c.seq = h.seq WHERE h.id = ? AND c.act = ?", id, act).Scan(&at)
	if errors.Is(err, sql.ErrNoRows) {
		return nil
	}
	if err != nil {
		return err
	}
	e, err := entryOf(s, id, act, at.String)
	if err != nil {
		return err
	}
	return e.undo(s)
}

// whereIsSQL finds the table and fid of a record of any kind.
func whereIsSQL() string {
	var each []string
	for _, layer := range recordLayers() {
		each = append(each, fmt.Sprintf("SELECT '%s', fid FROM %s WHERE id = ?1", layer, layer))
	}
	return strings.Join(each, " UNION ALL ")
}

func noRecord(id string, err error) error {
	if errors.Is(err, sql.ErrNoRows) {
		return geo.Fail(geo.NotFound, "store.Hide", geo.Say("store.no-record", geo.With("id", geo.Text(id)),
			geo.With("layer", geo.Text(strings.Join(recordLayers(), ", ")))), err)
	}
	return err
}

// Hidden returns the records out of sight, the last one hidden first.
func (b *Base) Hidden(ctx context.Context) ([]HiddenRecord, error) {
	rows, err := b.readers.QueryContext(ctx, `SELECT h.id, h.layer,
		coalesce(json_extract(c.former, '$.code'), json_extract(c.former, '$.name'), json_extract(c.former, '$.place')),
		coalesce(a.at, c.at), a.who, a.why
		FROM hidden h JOIN change c ON c.seq = h.seq LEFT JOIN act a ON a.id = c.act ORDER BY h.seq DESC`)
	if err != nil {
		return nil, fail("store.Hidden", err)
	}
	defer rows.Close() //nolint:errcheck // only read from
	var out []HiddenRecord
	for rows.Next() {
		var h HiddenRecord
		var at string
		var label, who, why sql.NullString
		if err := rows.Scan(&h.ID, &h.Layer, &label, &at, &who, &why); err != nil {
			return nil, fail("store.Hidden", err)
		}
		h.Label, h.Who, h.Why = label.String, who.String, why.String
		if h.At, err = time.Parse(stamp, at); err != nil {
			return nil, fail("store.Hidden", err)
		}
		out = append(out, h)
	}
	return out, fail("store.Hidden", rows.Err())
}
