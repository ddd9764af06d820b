package store

import (
	"database/sql"
	"encoding/json"
	"fmt"
	"strings"

	"waterstrike/geo"
)

// gave is what is known of what a file gave of a record last time.
type gave struct {
	digest string
	batch  string
	record sql.NullString // as JSON, where it is not what the import left in the base
}

// gaveOf returns what the files gave last time, by record id.
func (a *applier) gaveOf(ids []string) (map[string]gave, error) {
	list, err := json.Marshal(ids)
	if err != nil {
		return nil, err
	}
	rows, err := a.base.QueryContext(a.ctx, `SELECT record, digest, batch, given FROM imported
		WHERE record IN (SELECT value FROM json_each(?)) ORDER BY number`, string(list))
	if err != nil {
		return nil, err
	}
	defer rows.Close() //nolint:errcheck // only read from
	out := map[string]gave{}
	for rows.Next() {
		var id string
		var sum []byte
		var g gave
		if err := rows.Scan(&id, &sum, &g.batch, &g.record); err != nil {
			return nil, err
		}
		g.digest = string(sum)
		out[id] = g // the last one counts
	}
	return out, rows.Err()
}

// givenBefore returns what the file gave of a record that people changed since: as it was
// kept, or as the history tells it. Nil where neither does.
func givenBefore[T any](a *applier, r record[T], id string, before gave) (*T, error) {
	var v T
	if before.record.Valid {
		return &v, json.Unmarshal([]byte(before.record.String), &v)
	}
	var seq sql.NullInt64
	rows, err := a.base.QueryContext(a.ctx, `SELECT max(seq) FROM change
		WHERE record = ?1 AND +act IN (SELECT id FROM act WHERE batch = ?2)`, id, before.batch)
	if err != nil {
		return nil, err
	}
	defer rows.Close() //nolint:errcheck // only read from
	for rows.Next() {
		if err := rows.Scan(&seq); err != nil {
			return nil, err
		}
	}
	if err := rows.Err(); err != nil || !seq.Valid {
		return nil, err
	}
	v, err = asOf(a, r, id, seq.Int64)
	if err != nil {
		return nil, err
	}
	if sum, err := digest(r, v); err != nil || sum != before.digest {
		return nil, err
	}
	return &v, nil
}

// asOf returns a record as it was after the change with number seq.
func asOf[T any](a *applier, r record[T], id string, seq int64) (v T, err error) {
	which := pick{"WHERE t0.id = @record", []any{sql.Named("record", id), sql.Named("since", seq)}}
	err = eachIn(a.ctx, view{records: a.base, past: true}, r, which, func(_ int64, found T) error {
		v = found
		return nil
	})
	return v, err
}

// pastSQL stands for a table as it was after the change @since of @record: the rows that
// were not touched, and those that were as they were before they were touched first.
func pastSQL(l layout, mine string) string {
	var formers []string
	for _, c := range l.all() {
		formers = append(formers, kept("former", c))
	}
	const later = "FROM change WHERE record = @record AND seq > @since AND layer = '%[1]s'"
	return fmt.Sprintf("(SELECT fid, %[2]s FROM %[1]s WHERE %[3]s AND fid NOT IN (SELECT fid "+later+
		") UNION ALL SELECT fid, %[4]s FROM (SELECT fid, action, former, min(seq) "+later+" GROUP BY fid) WHERE action <> 'insert')",
		l.name, strings.Join(l.all(), ", "), mine, strings.Join(formers, ", "))
}

// digestGiven is the mark of what counts as given, and the whole of it where that is not
// what is left in the base.
func digestGiven[T any](r record[T], given, merged T) (sum string, whole any, err error) {
	if sum, err = digest(r, given); err != nil {
		return "", nil, err
	}
	left, err := digest(r, merged)
	if err != nil || left == sum {
		return sum, nil, err
	}
	data, err := json.Marshal(given)
	if err != nil {
		return "", nil, geo.Fail(geo.Invalid, "store.Apply", geo.Message{}, err)
	}
	return sum, string(data), nil
}
