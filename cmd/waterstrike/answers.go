package main

import (
	"bufio"
	"encoding/csv"
	"errors"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"waterstrike/advisor"
	"waterstrike/geo/soil"
	"waterstrike/server/sheet"
)

// answerFiles are the tables that a prediction writes, and the sheets of paper where they
// are asked for.
type answerFiles struct {
	levels, layers, chances *answerFile
	sheets                  *sheet.AdvicePDF // nil: none
}

// answerFile is one CSV file being written.
type answerFile struct {
	file *os.File
	text *bufio.Writer
	rows *csv.Writer
}

// firstReasons is how many reasons of each chance are written.
const firstReasons = 3

func newAnswerFiles(dir string) (f *answerFiles, err error) {
	f = &answerFiles{}
	for _, of := range []struct {
		file   **answerFile
		name   string
		header []string
	}{
		{&f.levels, "levels.csv", levelHeader()},
		{&f.layers, "layers.csv", layerHeader()},
		{&f.chances, "chances.csv", chanceHeader()},
	} {
		if *of.file, err = newAnswerFile(filepath.Join(dir, of.name), of.header); err != nil {
			f.close()
			return nil, err
		}
	}
	return f, nil
}

func newAnswerFile(path string, header []string) (*answerFile, error) {
	file, err := os.Create(path)
	if err != nil {
		return nil, err
	}
	text := bufio.NewWriter(file)
	f := &answerFile{file, text, csv.NewWriter(text)}
	f.rows.UseCRLF = true // RFC 4180, section 2, rule 1
	return f, f.rows.Write(header)
}

func levelHeader() []string {
	out := []string{"point", "lon", "lat"}
	for _, p := range advisor.QuantileSteps() {
		out = append(out, "q"+strconv.Itoa(100 + int(100*p+0.5))[1:])
	}
	return append(out, "design_low_m", "wet_high_m", "effective", "verdict")
}

func layerHeader() []string {
	out := []string{"point", "top_m", "base_m"}
	for _, class := range soil.Known() {
		out = append(out, class.String())
	}
	return out
}

func chanceHeader() []string {
	out := []string{"point", "method", "chance", "lo", "hi"}
	for i := range firstReasons {
		n := strconv.Itoa(i + 1)
		out = append(out, "reason_"+n, "share_"+n)
	}
	return out
}

// write adds the answer to one point to every table.
func (f *answerFiles) write(p point, a advisor.Advice) error {
	name := unharmed(p.name)
	err := f.levels.rows.Write(levelRow(name, p, a))
	if a.Odds != nil {
		for i := range a.Odds.Odds {
			err = errors.Join(err, f.layers.rows.Write(layerRow(name, a.Odds, i)))
		}
	}
	for _, m := range a.Methods {
		err = errors.Join(err, f.chances.rows.Write(chanceRow(name, m)))
	}
	if f.sheets != nil {
		err = errors.Join(err, f.sheets.Add(p.name, a))
	}
	return err
}

func levelRow(name string, p point, a advisor.Advice) []string {
	out := []string{name, decimal(p.at.Lon, 7), decimal(p.at.Lat, 7)}
	if w := a.Water; w != nil {
		for _, q := range w.Quantiles {
			out = append(out, decimal(q, 2))
		}
		out = append(out, decimal(w.DesignLow.P50, 2), decimal(w.WetHigh.P50, 2))
	} else {
		out = append(out, make([]string, len(advisor.Quantiles{})+2)...)
	}
	_, verdict, _ := strings.Cut(string(a.Verdict.Code), ".")
	return append(out, strconv.Itoa(a.Evidence.Effective), verdict)
}

func layerRow(name string, o *advisor.OddsColumn, cell int) []string {
	out := []string{name, decimal(float64(cell)*o.CellM, 1), decimal(float64(cell+1)*o.CellM, 1)}
	for _, class := range soil.Known() {
		odds := ""
		for k, c := range o.Classes {
			if c == class {
				odds = decimal(o.Odds[cell][k], 4)
			}
		}
		out = append(out, odds)
	}
	return out
}

func chanceRow(name string, m advisor.MethodChance) []string {
	out := []string{name, string(m.Method), decimal(m.Chance, 4), decimal(m.Lo, 4), decimal(m.Hi, 4)}
	for i := range firstReasons {
		reason, share := "", ""
		if i < len(m.Reasons) {
			_, reason, _ = strings.Cut(string(m.Reasons[i].Code), ".")
			share = decimal(m.Reasons[i].Share, 4)
		}
		out = append(out, reason, share)
	}
	return out
}

// decimal writes a number with so many decimals, and no minus before nothing.
func decimal(v float64, decimals int) string {
	text := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Trim(text, "-0.") == "" {
		return strings.TrimPrefix(text, "-")
	}
	return text
}

// unharmed puts a single quote before a name that a spreadsheet might run as a formula, as
// exports do.
func unharmed(name string) string {
	if name != "" && strings.ContainsRune("=+-@\t\n'", rune(name[0])) {
		return "'" + name
	}
	return name
}

// finish writes what is held back into the folder and closes the files.
func (f *answerFiles) finish(dir string) error {
	var err error
	for _, file := range []*answerFile{f.levels, f.layers, f.chances} {
		file.rows.Flush()
		err = errors.Join(err, file.rows.Error(), file.text.Flush(), file.file.Close())
		file.file = nil
	}
	if f.sheets == nil || err != nil {
		return err
	}
	file, err := os.Create(filepath.Join(dir, "advices.pdf"))
	if err != nil {
		return err
	}
	return errors.Join(f.sheets.Write(file), file.Close())
}

// close lets go of files that were not finished.
func (f *answerFiles) close() {
	for _, file := range []*answerFile{f.levels, f.layers, f.chances} {
		if file != nil && file.file != nil {
			file.file.Close()
		}
	}
}
