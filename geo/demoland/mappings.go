package demoland

import (
	"embed"
	"io/fs"
)

//go:embed mappings/*.json
var mappings embed.FS

// Mappings holds one mapping file for each office's tables: how an intake reads what
// [Land.Tables] writes. README of the tables says what is wrong in each.
func Mappings() fs.FS {
	sub, err := fs.Sub(mappings, "mappings")
	if err != nil {
		panic(err) // only for a path that is not valid, and this one is a constant
	}
	return sub
}
