package store

import (
	"encoding/json"
	"fmt"
	"maps"
	"slices"
)

// cameBefore tells whether an import of the data set stands.
func (a *applier) cameBefore() (before bool, err error) {
	if a.how.Dataset == "" {
		return false, nil
	}
	err = a.eachText("SELECT id FROM batch WHERE dataset = ? AND taken_back IS NULL LIMIT 1", func(string) error {
		before = true
		return nil
	}, a.how.Dataset)
	return before, err
}

// fileNames are the files of the draft.
func (a *applier) fileNames() map[string]bool {
	out := map[string]bool{}
	for _, f := range a.sum.Files {
		out[f.Name] = true
	}
	return out
}

// addFiles adds the files that the base has some records from: what the draft's files were
// called before.
func (a *applier) addFiles(table string, ids []string, files map[string]bool) error {
	if !a.again {
		return nil
	}
	list, err := json.Marshal(ids)
	if err != nil {
		return err
	}
	query := fmt.Sprintf("SELECT DISTINCT source_file FROM %s WHERE source_file IS NOT NULL AND id IN (SELECT value FROM json_each(?))", table)
	return a.eachText(query, func(file string) error {
		files[file] = true
		return nil
	}, string(list))
}

// tellAbsent tells the records that the data set gave before in one of these files, and
// that are not in the draft.
func tellAbsent[T any](a *applier, r record[T], files map[string]bool) error {
	if !a.again {
		return nil
	}
	list, err := json.Marshal(slices.Sorted(maps.Keys(files)))
	if err != nil {
		return err
	}
	var waiting []string
	flush := func() error {
		err := absentOf(a, r, waiting)
		waiting = waiting[:0]
		return err
	}
	query := fmt.Sprintf(`SELECT id FROM %s t WHERE source_file IN (SELECT value FROM json_each(?)) AND EXISTS
		(SELECT 1 FROM imported i JOIN batch b ON b.id = i.batch WHERE i.record = t.id AND b.dataset = ?) ORDER BY id`, r.name)
	err = a.eachText(query, func(id string) error {
		if waiting = append(waiting, id); len(waiting) < chunk {
			return nil
		}
		return flush()
	}, string(list), a.how.Dataset)
	if err != nil {
		return err
	}
	return flush()
}

// absentOf tells those of some records that are not in the draft.
func absentOf[T any](a *applier, r record[T], ids []string) error {
	list, err := json.Marshal(ids)
	if err != nil {
		return err
	}
	there := map[string]bool{}
	query := fmt.Sprintf("SELECT id FROM %s WHERE id IN (SELECT value FROM json_each(?))", r.name)
	if err := eachText(a.ctx, a.from, query, func(id string) error { there[id] = true; return nil }, string(list)); err != nil {
		return err
	}
	absent := slices.DeleteFunc(slices.Clone(ids), func(id string) bool { return there[id] })
	a.out.Absent += len(absent)
	if len(absent) == 0 || a.how.Tell == nil {
		return nil
	}
	return eachIn(a.ctx, view{records: a.base}, r, these(absent), func(_ int64, v T) error {
		return a.tell(differenceOf(r, &v, StandsAbsent, nil))
	})
}

func (a *applier) eachText(query string, fn func(string) error, args ...any) error {
	return eachText(a.ctx, a.base, query, fn, args...)
}
