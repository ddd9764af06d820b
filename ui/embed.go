// Package ui holds the page's templates and static files, built into the program.
//
// templates/ are html/template files without logic: every string comes ready from the
// view. static/css/tokens.css holds the colours and sizes: raw values first, then what
// they mean, then the dark scheme by other raw values. static/js holds small modules that
// make the page nicer; everything works without them.
package ui

import (
	"embed"
	"io/fs"
)

//go:embed templates static
var files embed.FS

// Templates returns the page's templates.
func Templates() fs.FS { return within("templates") }

// Static returns the files that are served as they are.
func Static() fs.FS { return within("static") }

func within(folder string) fs.FS {
	sub, err := fs.Sub(files, folder)
	if err != nil {
		panic(err) // the folder's name stands above
	}
	return sub
}
