// The rules of the house that no compiler keeps: who may import whom, what must be
// documented, how long a file may be, which words stay out, what testdata holds.
// A rule that fails here is mended in the code, not here.
package main_test

import (
	"encoding/json"
	"errors"
	"go/ast"
	"go/parser"
	"go/token"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// module is the import path every package of ours begins with.
const module = "waterstrike/"

// listed is what `go list -json` tells of a package.
type listed struct {
	Dir, ImportPath                    string
	Imports, TestImports, XTestImports []string
	Deps                               []string
	GoFiles, TestGoFiles, XTestGoFiles []string
}

// name is the package's path within the module, such as geo/store.
func (p listed) name() string { return strings.TrimPrefix(p.ImportPath, module) }

// top finds the folder of go.mod.
func top(t *testing.T) string {
	t.Helper()
	dir, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	for {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return dir
		}
		up := filepath.Dir(dir)
		if up == dir {
			t.Fatal("no go.mod in any folder above the test")
		}
		dir = up
	}
}

// list asks the go command for every package of the module.
func list(t *testing.T) []listed {
	t.Helper()
	cmd := exec.Command("go", "list", "-e", "-json=Dir,ImportPath,Imports,TestImports,XTestImports,Deps,GoFiles,TestGoFiles,XTestGoFiles", "./...")
	cmd.Dir = top(t)
	var complaint strings.Builder
	cmd.Stderr = &complaint
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("go list: %v\n%s", err, complaint.String())
	}
	var all []listed
	for dec := json.NewDecoder(strings.NewReader(string(out))); ; {
		var p listed
		err := dec.Decode(&p)
		if errors.Is(err, io.EOF) {
			return all
		}
		if err != nil {
			t.Fatalf("reading the answer of go list: %v", err)
		}
		all = append(all, p)
	}
}

// parsed is one Go file with its syntax tree and comments.
type parsed struct {
	path string // from the module's top, with slashes
	tree *ast.File
	fset *token.FileSet
}

// at tells where a node stands, for messages.
func (f parsed) at(n ast.Node) string {
	pos := f.fset.Position(n.Pos())
	return f.path + ":" + strconv.Itoa(pos.Line)
}

// lines counts the lines a node covers.
func (f parsed) lines(n ast.Node) int {
	return f.fset.Position(n.End()).Line - f.fset.Position(n.Pos()).Line + 1
}

// parse reads the named files of one package.
func parse(t *testing.T, p listed, names ...string) []parsed {
	t.Helper()
	files := make([]parsed, 0, len(names))
	for _, name := range names {
		fset := token.NewFileSet()
		tree, err := parser.ParseFile(fset, filepath.Join(p.Dir, name), nil, parser.ParseComments|parser.SkipObjectResolution)
		if err != nil {
			t.Errorf("%s: %v", p.name(), err)
			continue
		}
		files = append(files, parsed{p.name() + "/" + name, tree, fset})
	}
	return files
}

// text is one file that people may read.
type text struct {
	path string // from the module's top, with slashes
	body string
}

// texts reads every text file of the module: those without a zero byte.
func texts(t *testing.T) []text {
	t.Helper()
	var all []text
	for _, path := range paths(t, ".") {
		if body := read(t, path); strings.IndexByte(body, 0) < 0 {
			all = append(all, text{path, body})
		}
	}
	return all
}

// paths lists the files below a folder of the module, leaving out what git and a run of
// the program keep for themselves.
func paths(t *testing.T, dir string) []string {
	t.Helper()
	var all []string
	err := fs.WalkDir(os.DirFS(top(t)), dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if !d.IsDir() {
			all = append(all, path)
			return nil
		}
		if slices.Contains([]string{".git", "node_modules", "waterstrike-data"}, d.Name()) {
			return fs.SkipDir
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// read returns the body of one file of the module.
func read(t *testing.T, path string) string {
	t.Helper()
	body, err := os.ReadFile(filepath.Join(top(t), filepath.FromSlash(path)))
	if err != nil {
		t.Fatal(err)
	}
	return string(body)
}
