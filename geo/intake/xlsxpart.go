package intake

import (
	"bytes"
	"encoding/xml"
	"errors"
	"path"
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"
)

// The stream reader of the library gives texts alone. What else a sheet says of its cells,
// their styles and which are merged, is gone through here, without holding the sheet.

// elements calls visit for each element of a part of the workbook.
func (x *xlsxRows) elements(part string, visit func(name string, attr map[string]string) error) error {
	data, _ := x.book.Pkg.Load(part)
	text, _ := data.([]byte)
	decoder := xml.NewDecoder(bytes.NewReader(text))
	for {
		token, err := decoder.RawToken()
		if err != nil {
			return notEOF(err)
		}
		start, is := token.(xml.StartElement)
		if !is {
			continue
		}
		attr := map[string]string{}
		for _, a := range start.Attr {
			attr[a.Name.Local] = a.Value
		}
		if err := visit(start.Name.Local, attr); err != nil {
			return err
		}
	}
}

// errFound ends a walk early.
var errFound = errors.New("found")

// partOf finds the part of the workbook that holds a sheet (ECMA-376 part 1, 18.2.19, and
// part 2, 9.3).
func (x *xlsxRows) partOf(sheet string) (string, error) {
	id, target := "", ""
	err := x.elements("xl/workbook.xml", func(name string, attr map[string]string) error {
		if name == "sheet" && attr["name"] == sheet {
			id = attr["id"]
			return errFound
		}
		return nil
	})
	if err != nil && !errors.Is(err, errFound) {
		return "", err
	}
	err = x.elements("xl/_rels/workbook.xml.rels", func(name string, attr map[string]string) error {
		if name == "Relationship" && attr["Id"] == id {
			target = attr["Target"]
			return errFound
		}
		return nil
	})
	if err != nil && !errors.Is(err, errFound) {
		return "", err
	}
	if strings.HasPrefix(target, "/") {
		return strings.TrimPrefix(target, "/"), nil
	}
	return path.Join("xl", target), nil
}

// lookThrough notes the cells that hold dates, and those that are merged.
func (x *xlsxRows) lookThrough() error {
	part, err := x.partOf(x.sheet)
	if err != nil {
		return err
	}
	return x.elements(part, func(name string, attr map[string]string) error {
		switch name {
		case "c":
			return x.noteDate(attr)
		case "mergeCell":
			return x.merge(attr["ref"])
		}
		return nil
	})
}

func (x *xlsxRows) noteDate(attr map[string]string) error {
	style, err := strconv.Atoi(attr["s"])
	if kind := attr["t"]; err != nil || kind != "" && kind != "n" || !x.writesDates(style) {
		return nil // no style is none of a date's
	}
	column, row, err := excelize.CellNameToCoordinates(attr["r"])
	if err != nil {
		return nil // a cell without its name: the reader of texts judges it
	}
	x.dates[cellAt{column, row}] = true
	return nil
}
