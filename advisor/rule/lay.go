package rule

import (
	"encoding/json"
	"slices"
)

// Lay lays a file that is a list of entries over those of another list: an entry whose code
// is there changes what it names, one with a new code is added after them. The list given
// is not changed.
//
// check refuses an entry as it stands in the end. A wrong file is a [Fault].
func Lay[T any](over []T, file string, data []byte, code func(T) string, check func(T, Fault) error) ([]T, error) {
	raw, err := Entries(file, data)
	if err != nil {
		return nil, err
	}
	list := slices.Clone(over)
	seen := map[string]bool{}
	for _, one := range raw {
		at := Fault{File: file, Entry: codeOf(one)}
		switch {
		case at.Entry == "":
			return nil, at.Missing("code")
		case seen[at.Entry]:
			at.Kind = Twice
			return nil, Refuse(at)
		}
		seen[at.Entry] = true
		i := slices.IndexFunc(list, func(t T) bool { return code(t) == at.Entry })
		if i < 0 {
			i = len(list)
			list = append(list, *new(T))
		}
		if err := Fill(at, one, &list[i]); err != nil {
			return nil, err
		}
		if err := check(list[i], at); err != nil {
			return nil, err
		}
	}
	return list, nil
}

// codeOf reads the code of an entry; empty where it has none.
func codeOf(data json.RawMessage) string {
	var named struct {
		Code string `json:"code"`
	}
	if json.Unmarshal(data, &named) != nil {
		return ""
	}
	return named.Code
}
