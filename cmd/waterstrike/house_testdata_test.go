package main_test

import (
	"path"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// TestDataIsNamed keeps testdata honest: each file of the top-level folder stands in a
// row of the nearest README.md above it, and each row names at least one file.
func TestDataIsNamed(t *testing.T) {
	readmes, files := testdata(t)
	if _, found := readmes["testdata"]; !found {
		t.Fatal("testdata/README.md is missing")
	}
	for _, complaint := range misnamed(readmes, files) {
		t.Error(complaint)
	}
}

// testdata reads the folder: the README of each folder that has one, and the paths of
// all files but the first README.
func testdata(t *testing.T) (readmes map[string]string, files []string) {
	t.Helper()
	readmes = map[string]string{}
	for _, f := range paths(t, "testdata") {
		if path.Base(f) == "README.md" {
			readmes[path.Dir(f)] = read(t, f)
		}
		if f != "testdata/README.md" {
			files = append(files, f)
		}
	}
	return readmes, files
}

// misnamed lists the files that no README row names and the rows that name no file.
func misnamed(readmes map[string]string, files []string) []string {
	var complaints []string
	named := map[string]bool{}
	for dir, body := range readmes {
		for _, entry := range entries(body) {
			hits := under(dir, entry, readmes, files)
			if len(hits) == 0 {
				complaints = append(complaints, dir+"/README.md names "+entry+", which is not there")
			}
			for _, f := range hits {
				named[f] = true
			}
		}
	}
	for _, f := range files {
		if !named[f] {
			complaints = append(complaints, f+" stands in no row of "+nearest(readmes, f)+"/README.md")
		}
	}
	slices.Sort(complaints)
	return complaints
}

// under returns the files that an entry of the README in dir names. An entry is a file,
// a pattern such as meuse/*.csv, or a folder with a closing slash: a folder stands for
// all it holds, unless it has a README of its own, which then must name them.
func under(dir, entry string, readmes map[string]string, files []string) []string {
	pattern := path.Join(dir, entry)
	if _, own := readmes[pattern]; own {
		return []string{pattern + "/README.md"}
	}
	var hits []string
	for _, f := range files {
		fits, _ := path.Match(pattern, f)
		if fits || strings.HasSuffix(entry, "/") && strings.HasPrefix(f, pattern+"/") {
			hits = append(hits, f)
		}
	}
	return hits
}

// nearest is the closest folder above a file whose README must name it.
func nearest(readmes map[string]string, file string) string {
	dir := path.Dir(file)
	if path.Base(file) == "README.md" {
		dir = path.Dir(dir)
	}
	for ; dir != "testdata"; dir = path.Dir(dir) {
		if _, found := readmes[dir]; found {
			return dir
		}
	}
	return "testdata"
}

var (
	aside  = regexp.MustCompile(`\([^)]*\)`)
	dashes = regexp.MustCompile(`^[-: ]+$`)
)

// entries are the names in the first column of a README's tables. Names are separated by
// commas; one without a folder lies in the folder of the name before it in its row.
func entries(readme string) []string {
	var all []string
	for _, line := range strings.Split(readme, "\n") {
		if !strings.HasPrefix(line, "|") {
			continue
		}
		first, _, _ := strings.Cut(line[1:], "|")
		if first = strings.TrimSpace(first); first == "file" || dashes.MatchString(first) {
			continue
		}
		all = append(all, names(aside.ReplaceAllString(first, ""))...)
	}
	return all
}

func names(cell string) []string {
	var all []string
	folder := ""
	for _, name := range strings.Split(strings.ReplaceAll(cell, "`", ""), ",") {
		name = strings.TrimSpace(name)
		if dir, _ := path.Split(name); dir != "" {
			folder = dir
		} else {
			name = folder + name
		}
		all = append(all, name)
	}
	return all
}

// The check itself, on a made-up folder.
func TestDataCheckBites(t *testing.T) {
	readmes := map[string]string{
		"testdata":   "| file | origin |\n|---|---|\n| `a/one.csv`, two_*.csv (rows 1-3) | x |\n| deep/ | own |\n| gone.csv | x |\n",
		"testdata/b": "| file |\n|---|\n| in.csv |\n",
	}
	files := []string{"testdata/a/one.csv", "testdata/a/two_x.csv", "testdata/deep/er/z.bin", "testdata/b/README.md", "testdata/b/in.csv", "testdata/b/out.csv"}
	want := []string{
		"testdata/README.md names gone.csv, which is not there",
		"testdata/b/README.md stands in no row of testdata/README.md",
		"testdata/b/out.csv stands in no row of testdata/b/README.md",
	}
	if got := misnamed(readmes, files); !slices.Equal(got, want) {
		t.Errorf("got %q", got)
	}
}
