package rule

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"io/fs"
	"path"
	"slices"
	"strings"
)

// Folder is the name that the rules folder goes by in messages.
const Folder = "rules"

// mostBytes is more than any rules file has.
const mostBytes = 1 << 20

// Edited returns the programme's copy of a file in its rules folder; nil where it keeps
// none or where there is no folder.
func Edited(folder fs.FS, name string) ([]byte, error) {
	if folder == nil {
		return nil, nil
	}
	file, err := folder.Open(name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	defer file.Close()
	data, err := io.ReadAll(io.LimitReader(file, mostBytes))
	return bytes.TrimPrefix(data, []byte("\ufeff")), err // some editors begin with a byte order mark
}

// Known refuses a file of the folder that ends as rules do and that nobody reads: its name is
// misspelt, and what it says would be lost.
func Known(folder fs.FS, names ...string) error {
	if folder == nil {
		return nil
	}
	found, err := fs.Glob(folder, "*.json")
	if err != nil {
		return err
	}
	for _, name := range found {
		if !slices.Contains(names, name) {
			return Refuse(Fault{Kind: UnknownFile, File: Named(name), Allowed: strings.Join(names, ", ")})
		}
	}
	return nil
}

// Named is how messages name a file of the rules folder.
func Named(name string) string { return path.Join(Folder, name) }

// Entries splits a file that is a list of objects.
func Entries(file string, data []byte) ([]json.RawMessage, error) {
	if err := readable(file, data); err != nil {
		return nil, err
	}
	var list []json.RawMessage
	if json.Unmarshal(data, &list) != nil {
		return nil, Refuse(Fault{Kind: NotAList, File: file})
	}
	return list, nil
}

// readable refuses what is no JSON and names the line.
func readable(file string, data []byte) error {
	var any json.RawMessage
	err := json.Unmarshal(data, &any)
	if err == nil {
		return nil
	}
	line := 1 + bytes.Count(data, []byte("\n"))
	var syntax *json.SyntaxError
	if errors.As(err, &syntax) {
		line = 1 + bytes.Count(data[:min(int(syntax.Offset), len(data))], []byte("\n"))
	}
	return Refuse(Fault{Kind: Unreadable, File: file, Line: line})
}
