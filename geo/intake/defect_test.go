package intake_test

import (
	"bufio"
	"context"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"waterstrike/geo"
	"waterstrike/geo/intake"
)

// defectsDir holds files of one defect each. The first line of a file says what must
// come of it: "# kind | code | row n | column | kept or rejected".
const defectsDir = "../../testdata/defects"

func TestEachDefectIsNamed(t *testing.T) {
	files, err := filepath.Glob(filepath.Join(defectsDir, "*.csv"))
	if err != nil || len(files) < 30 {
		t.Fatalf("%d files of defects, %v", len(files), err)
	}
	for _, path := range files {
		t.Run(strings.TrimSuffix(filepath.Base(path), ".csv"), func(t *testing.T) { checkDefect(t, path) })
	}
}

func checkDefect(t *testing.T, path string) {
	expect := firstLine(t, path)
	if len(expect) != 5 {
		t.Fatalf("the first line has %d parts: %q", len(expect), expect)
	}
	m := mapping(t, filepath.Join(defectsDir, expect[0]+".json"))
	m.Tables[0].File = filepath.Base(path)
	var bag intake.Memory
	sink := anyParent{&bag}
	got, err := intake.Read(context.Background(), m, os.DirFS(defectsDir), sink, nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(bag.Issues) != 1 {
		t.Fatalf("%d issues, want one: %v", len(bag.Issues), bag.Issues)
	}
	i := bag.Issues[0]
	if string(i.Message.Code) != expect[1] || "row "+strconv.Itoa(i.Row) != expect[2] || i.Column != strings.Trim(expect[3], `"`) {
		t.Errorf("%s in row %d, column %q; want %q", i.Message.Code, i.Row, i.Column, expect)
	}
	rejected := map[string]int{"kept": 0, "rejected": 1}[expect[4]]
	if got.Rows != 3 || got.Rejected != rejected || got.Applied != got.Rows-rejected || bag.Rows[i.File] != 3 {
		t.Errorf("%d rows, %d applied, %d rejected; want 3 rows, %s", got.Rows, got.Applied, got.Rejected, expect[4])
	}
	if i.File != filepath.Base(path) || rejected == 1 && i.Severity != geo.Rejected {
		t.Errorf("the issue stands in %q as %s", i.File, i.Severity)
	}
}

// anyParent makes room for parts whose bore is not in the files.
type anyParent struct{ *intake.Memory }

func (a anyParent) AddPart(key, file string, row int, part any) error {
	if _, known := a.Bore(key); !known {
		if err := a.AddBore(key, geo.Bore{}); err != nil {
			return err
		}
	}
	return a.Memory.AddPart(key, file, row, part)
}

func firstLine(t *testing.T, path string) []string {
	t.Helper()
	file, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	scanner := bufio.NewScanner(file)
	scanner.Scan()
	parts := strings.Split(strings.TrimPrefix(scanner.Text(), "# "), "|")
	for i := range parts {
		parts[i] = strings.TrimSpace(parts[i])
	}
	return parts
}

func mapping(t testing.TB, path string) intake.Mapping {
	t.Helper()
	file, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	m, err := intake.LoadMapping(file)
	if err != nil {
		t.Fatal(err)
	}
	return m
}
