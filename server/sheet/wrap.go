package sheet

import "strings"

// wrap breaks a text at its blanks into lines of at most limit characters. A single word
// that is longer is cut.
func wrap(text string, limit int) []string {
	var lines []string
	line := ""
	for _, word := range strings.Split(text, " ") { // not Fields: unbreakable blanks must hold
		for width(word) > limit {
			head := string([]rune(word)[:limit])
			lines, line, word = appendLine(lines, line), "", strings.TrimPrefix(word, head)
			lines = append(lines, head)
		}
		switch {
		case line == "":
			line = word
		case width(line)+1+width(word) <= limit:
			line += " " + word
		default:
			lines, line = append(lines, line), word
		}
	}
	return appendLine(lines, line)
}

func appendLine(lines []string, line string) []string {
	if line == "" {
		return lines
	}
	return append(lines, line)
}

const gap = 2 // characters between columns

// grid sets rows in columns.
func (p *page) grid(rows [][]string) {
	widths := columnWidths(rows, textWidth-2)
	for _, row := range rows {
		cells := make([][]string, len(row))
		height := 1
		for i, words := range row {
			cells[i] = wrap(words, widths[i])
			height = max(height, len(cells[i]))
		}
		for n := range height {
			p.b.WriteString("  " + gridLine(cells, widths, n) + "\n")
		}
	}
}

// gridLine is the n-th line of a row of wrapped cells.
func gridLine(cells [][]string, widths []int, n int) string {
	var b strings.Builder
	for i, cell := range cells {
		words := ""
		if n < len(cell) {
			words = cell[n]
		}
		b.WriteString(words + strings.Repeat(" ", widths[i]-width(words)+gap))
	}
	return strings.TrimRight(b.String(), " ")
}

// columnWidths gives each column its widest cell. Where that is too much the widest
// columns are narrowed, but within a word only when nothing else is left.
func columnWidths(rows [][]string, limit int) []int {
	widths, words := make([]int, len(rows[0])), make([]int, len(rows[0]))
	total := -gap
	for i := range widths {
		for _, row := range rows {
			widths[i] = max(widths[i], width(row[i]))
			for _, word := range strings.Split(row[i], " ") {
				words[i] = max(words[i], width(word))
			}
		}
		total += widths[i] + gap
	}
	for ; total > limit; total-- {
		widths[narrowable(widths, words)]--
	}
	return widths
}

// cutsWords reports that rows fit a width only where words are cut.
func cutsWords(rows [][]string, limit int) bool {
	total := -gap
	for i := range rows[0] {
		longest := 0
		for _, row := range rows {
			for _, word := range strings.Split(row[i], " ") {
				longest = max(longest, width(word))
			}
		}
		total += longest + gap
	}
	return total > limit
}

// narrowable returns the widest column that is wider than its longest word, or else the
// widest of all.
func narrowable(widths, words []int) int {
	best, widest := -1, 0
	for i, w := range widths {
		if w > words[i] && (best < 0 || w > widths[best]) {
			best = i
		}
		if w > widths[widest] {
			widest = i
		}
	}
	if best < 0 {
		return widest
	}
	return best
}
