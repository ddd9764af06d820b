package store

import (
	"context"
	"database/sql"
	"encoding/json"
	"time"

	"waterstrike/geo"
)

// Batch is one import that was applied.
type Batch struct {
	ID        string    `json:"id"`
	At        time.Time `json:"at"`
	Who       string    `json:"who,omitempty"`
	Why       string    `json:"why,omitempty"`
	Dataset   string    `json:"dataset,omitempty"`
	Files     []string  `json:"files"`
	Added     int       `json:"added"`
	Changed   int       `json:"changed"`
	Same      int       `json:"same"`
	TakenBack bool      `json:"takenBack"`
	BackAt    time.Time `json:"takenBackAt,omitzero"` // the zero time as long as it stands
	BackBy    string    `json:"takenBackBy,omitempty"`
}

// keepBatch writes down the batch and its issues.
func (a *applier) keepBatch() error {
	var names []string
	for _, f := range a.sum.Files {
		names = append(names, f.Name)
	}
	files, err := json.Marshal(names)
	if err != nil {
		return err
	}
	_, err = a.s.exec("INSERT INTO batch (id, act, dataset, files, added, changed, same) VALUES (?, ?, ?, ?, ?, ?, ?)",
		a.batch, a.s.act, orNull(a.how.Dataset), string(files), a.out.Added, a.out.Changed, a.out.Same)
	if err != nil {
		return err
	}
	return eachIssue(a.ctx, a.from, "", nil, func(i geo.Issue) error {
		args, err := issueArgs(i)
		if err == nil {
			_, err = a.s.exec("INSERT INTO issue (batch, "+issueColumns+") VALUES (?, ?, ?, ?, ?, ?, ?, ?)", append([]any{a.batch}, args...)...)
		}
		return err
	})
}

// Batches returns every import that was applied, the newest first.
func (b *Base) Batches(ctx context.Context) ([]Batch, error) {
	rows, err := b.readers.QueryContext(ctx, `SELECT b.id, a.at, a.who, a.why, b.dataset, b.files, b.added, b.changed, b.same, t.at, t.who
		FROM batch b JOIN act a ON a.id = b.act LEFT JOIN act t ON t.id = b.taken_back ORDER BY b.act DESC`)
	if err != nil {
		return nil, fail("store.Batches", err)
	}
	defer rows.Close() //nolint:errcheck // only read from
	var out []Batch
	for rows.Next() {
		one, err := scanBatch(rows)
		if err != nil {
			return nil, fail("store.Batches", err)
		}
		out = append(out, one)
	}
	return out, fail("store.Batches", rows.Err())
}

func scanBatch(rows *sql.Rows) (b Batch, err error) {
	var at, files string
	var who, why, dataset, backAt, backBy sql.NullString
	if err = rows.Scan(&b.ID, &at, &who, &why, &dataset, &files, &b.Added, &b.Changed, &b.Same, &backAt, &backBy); err != nil {
		return b, err
	}
	b.Who, b.Why, b.Dataset, b.TakenBack, b.BackBy = who.String, why.String, dataset.String, backAt.Valid, backBy.String
	if b.At, err = time.Parse(stamp, at); err != nil {
		return b, err
	}
	if b.TakenBack {
		if b.BackAt, err = time.Parse(stamp, backAt.String); err != nil {
			return b, err
		}
	}
	return b, json.Unmarshal([]byte(files), &b.Files)
}
