package coverage

import (
	"bytes"
	"io/fs"

	"waterstrike/advisor/rule"
)

// FileName is the programme's own list in its rules folder.
const FileName = "standards.json"

// FromFolder returns the standards of a programme: those of its rules folder where it keeps
// a list, the embedded ones otherwise; nil for no folder.
//
// A wrong file is a [geo.Invalid] error that names the standard and the field.
func FromFolder(rules fs.FS) ([]Standard, error) {
	own, err := rule.Edited(rules, FileName)
	if err != nil {
		return nil, err
	}
	if own == nil {
		return Defaults()
	}
	return Load(bytes.NewReader(own))
}
