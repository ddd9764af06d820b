package soil

import (
	"bytes"
	"cmp"
	_ "embed"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
)

// The roles of a word.
const (
	roleMain      = "main"
	roleAdjective = "adjective"
	roleClayey    = "clayey"
	roleGrade     = "grade"
	roleWeathered = "weathered"
	roleFractured = "fractured"
	roleHard      = "hard"
	roleSoft      = "soft"
	roleCemented  = "cemented"
	roleMinor     = "minor"
	roleWater     = "water"
	roleColour    = "colour"
	roleIgnore    = "ignore"
	roleMostly    = "mostly"
	roleNegation  = "negation"
	roleFirmness  = "firmness"
	roleDitto     = "ditto"
)

func roles() []string {
	return []string{
		roleMain, roleAdjective, roleClayey, roleGrade, roleWeathered, roleFractured,
		roleHard, roleSoft, roleCemented, roleMinor, roleWater, roleColour, roleIgnore,
		roleMostly, roleNegation, roleFirmness, roleDitto,
	}
}

// columns of the vocabulary file, in order.
const header = "phrase,language,role,class,grade,hard,sure"

var columnNames = strings.Split(header, ",")

// usualSure is how often a word means its class when the file does not say (judgement).
const usualSure = 0.9

//go:embed words.csv
var embedded []byte

// Words returns the vocabulary that comes with the program, as a file to copy and edit.
func Words() []byte { return bytes.Clone(embedded) }

// entry is what one word or phrase means.
type entry struct {
	role  string
	class Class
	grade Grade
	hard  Class // the class when called hard; Unknown when it does not change
	sure  float64
}

// means reports that two words say the same, whatever their certainty.
func (e entry) means(other entry) bool {
	return e.role == other.role && e.class == other.class && e.grade == other.grade
}

// readVocabulary adds the words of one file to into.
func readVocabulary(r io.Reader, into map[string]entry) error {
	file := csv.NewReader(r)
	file.Comment = '#'
	file.FieldsPerRecord = strings.Count(header, ",") + 1
	seen := map[string]bool{}
	for first := true; ; first = false {
		row, err := file.Read()
		if errors.Is(err, io.EOF) {
			return nil
		}
		if err != nil {
			return fmt.Errorf("soil: words: %w", err)
		}
		if first && strings.Join(row, ",") == header {
			continue
		}
		line, _ := file.FieldPos(0)
		phrase, e, err := readEntry(row)
		if err == nil && seen[phrase] {
			err = fmt.Errorf("column phrase: %q stands there twice", phrase)
		}
		if err != nil {
			return fmt.Errorf("soil: words, line %d, %w", line, err)
		}
		seen[phrase] = true
		into[phrase] = e
	}
}

// readEntry reads one line; its errors name the column.
func readEntry(row []string) (phrase string, e entry, err error) {
	for i, t := range tokenise(row[0]) {
		if i > 0 {
			phrase += " "
		}
		phrase += t.word
	}
	e = entry{role: row[2], sure: usualSure}
	if phrase == "" {
		return "", entry{}, fmt.Errorf("column phrase: %q holds no word", row[0])
	}
	if !slices.Contains(roles(), e.role) {
		return "", entry{}, fmt.Errorf("column role: %q is none of %s", row[2], strings.Join(roles(), ", "))
	}
	return phrase, e, cmp.Or(e.readValues(row), e.check())
}

func (e *entry) readValues(row []string) (err error) {
	for _, column := range []struct {
		at   int
		into *Class
	}{{3, &e.class}, {5, &e.hard}} {
		if row[column.at] == "" {
			continue
		}
		if *column.into, err = ParseClass(row[column.at]); err != nil {
			return fmt.Errorf("column %s: %w", columnNames[column.at], err)
		}
	}
	if e.grade, err = ParseGrade(row[4]); err != nil {
		return fmt.Errorf("column grade: %w", err)
	}
	if row[6] == "" {
		return nil
	}
	if e.sure, err = strconv.ParseFloat(row[6], 64); err != nil {
		return fmt.Errorf("column sure: %q is no number", row[6])
	}
	return nil
}

func (e entry) check() error {
	if (e.role == roleMain || e.role == roleAdjective) == (e.class == Unknown) {
		return fmt.Errorf("column class: a %s word and class %q do not go together", e.role, e.class)
	}
	if e.role == roleGrade && e.grade == GradeUnknown {
		return errors.New("column grade: a grade word needs a grade: fine, medium or coarse")
	}
	if !(e.sure > 0 && e.sure <= 1) {
		return fmt.Errorf("column sure: %v is not in (0, 1]", e.sure)
	}
	return nil
}
