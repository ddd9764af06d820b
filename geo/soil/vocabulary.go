package soil

import (
	"bytes"
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
)

func roles() []string {
	return []string{
		roleMain, roleAdjective, roleClayey, roleGrade, roleWeathered, roleFractured,
		roleHard, roleSoft, roleCemented, roleMinor, roleWater, roleColour, roleIgnore,
	}
}

// columns of the vocabulary file, in order.
const header = "phrase,language,role,class,grade,hard,sure"

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
			err = fmt.Errorf("%q stands there twice", phrase)
		}
		if err != nil {
			return fmt.Errorf("soil: words, line %d: %w", line, err)
		}
		seen[phrase] = true
		into[phrase] = e
	}
}

func readEntry(row []string) (phrase string, e entry, err error) {
	for i, t := range tokenise(row[0]) {
		if i > 0 {
			phrase += " "
		}
		phrase += t.word
	}
	e = entry{role: row[2], sure: usualSure}
	if phrase == "" || !slices.Contains(roles(), e.role) {
		return "", entry{}, fmt.Errorf("%q needs a word and a role out of %s", row[0], strings.Join(roles(), ", "))
	}
	for column, class := range map[int]*Class{3: &e.class, 5: &e.hard} {
		if row[column] == "" {
			continue
		}
		if *class, err = ParseClass(row[column]); err != nil {
			return "", entry{}, err
		}
	}
	if e.grade, err = ParseGrade(row[4]); err != nil {
		return "", entry{}, err
	}
	if row[6] != "" {
		e.sure, err = strconv.ParseFloat(row[6], 64)
	}
	return phrase, e, errors.Join(err, e.check())
}

func (e entry) check() error {
	if (e.role == roleMain || e.role == roleAdjective) == (e.class == Unknown) {
		return fmt.Errorf("a %s word and class %q do not go together", e.role, e.class)
	}
	if e.role == roleGrade && e.grade == GradeUnknown {
		return errors.New("a grade word needs a grade: fine, medium or coarse")
	}
	if !(e.sure > 0 && e.sure <= 1) {
		return fmt.Errorf("sure %v is not in (0, 1]", e.sure)
	}
	return nil
}
