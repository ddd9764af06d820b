package intake

import (
	"io"
	"regexp"
	"strconv"
	"strings"
)

// next reads one row: raw values, dates as ISO 8601, merged cells filled.
func (x *xlsxRows) next() ([]string, error) {
	if !x.rows.Next() {
		if err := x.rows.Error(); err != nil {
			return nil, err
		}
		return nil, io.EOF
	}
	x.at++
	row, err := x.rows.Columns()
	if err != nil {
		return nil, err
	}
	if len(row) > maxColumns {
		return nil, tooWide(len(row))
	}
	for i := range row {
		row[i] = x.dated(row[i], cellAt{i + 1, x.at})
	}
	return x.filled(row), nil
}

// dated writes a number whose style is a date's as that date.
func (x *xlsxRows) dated(text string, at cellAt) string {
	if !x.dates[at] {
		return text
	}
	serial, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return text
	}
	if day, ok := x.day(serial); ok {
		return day
	}
	return text
}

func (x *xlsxRows) writesDates(id int) bool {
	is, known := x.styles[id]
	if known {
		return is
	}
	style, err := x.book.GetStyle(id)
	if err == nil {
		is = isDateFormat(style.NumFmt, style.CustomNumFmt)
	}
	x.styles[id] = is
	return is
}

var unquoted = regexp.MustCompile(`"[^"]*"|\\.|\[[^\]]*\]`)

// isDateFormat tells the number formats that write a day: the built-in ones 14 to 17, 22
// and the ones of East Asian calendars (ECMA-376 part 1, 18.8.30), and those whose code
// has a day or a year in it.
func isDateFormat(builtIn int, custom *string) bool {
	if custom != nil && *custom != "" {
		return strings.ContainsAny(strings.ToLower(unquoted.ReplaceAllString(*custom, "")), "dy")
	}
	return builtIn >= 14 && builtIn <= 17 || builtIn == 22 || builtIn >= 27 && builtIn <= 31 || builtIn >= 50 && builtIn <= 58
}

// filled puts the text of merged cells into each of them.
func (x *xlsxRows) filled(row []string) []string {
	if len(x.merged) == 0 {
		return row
	}
	for column := 1; column <= max(len(row), len(x.header)); column++ {
		first, is := x.merged[cellAt{column, x.at}]
		if !is {
			continue
		}
		if first == (cellAt{column, x.at}) && column <= len(row) {
			x.above[first] = row[column-1]
		}
		for len(row) < column {
			row = append(row, "")
		}
		row[column-1] = x.above[first]
	}
	return row
}
