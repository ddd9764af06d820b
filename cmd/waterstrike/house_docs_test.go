package main_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// numeric are the packages whose functions say in what units they speak, where their
// mathematics comes from, or when they refuse.
var numeric = []string{"advisor/variogram", "advisor/krige", "advisor/strata", "advisor/level", "advisor/hydraulics", "advisor/method", "advisor/welldesign", "advisor/programme", "advisor/coverage"}

func TestPackageDoc(t *testing.T) {
	for _, p := range list(t) {
		var with []string
		for _, f := range parse(t, p, p.GoFiles...) {
			if f.tree.Doc != nil {
				with = append(with, f.path)
			}
		}
		if len(p.GoFiles) > 0 && len(with) != 1 {
			t.Errorf("%s has %d package docs, want one: %s", p.name(), len(with), strings.Join(with, ", "))
		}
	}
}

func TestExportedNamesDocumented(t *testing.T) {
	for _, p := range list(t) {
		for _, f := range parse(t, p, p.GoFiles...) {
			for _, id := range undocumented(f.tree) {
				t.Errorf("%s: %s has no doc comment", f.at(id), id.Name)
			}
		}
	}
}

// undocumented returns the exported names of a file that no comment explains. A type,
// constant or variable is explained by its own comment or by that of its group.
func undocumented(file *ast.File) []*ast.Ident {
	var bare []*ast.Ident
	for _, d := range file.Decls {
		switch d := d.(type) {
		case *ast.FuncDecl:
			if d.Doc == nil && isPublic(d) {
				bare = append(bare, d.Name)
			}
		case *ast.GenDecl:
			for _, spec := range d.Specs {
				bare = append(bare, bareNames(d, spec)...)
			}
		}
	}
	return bare
}

// isPublic reports whether a function, or a method with its type, is exported.
func isPublic(f *ast.FuncDecl) bool {
	if f.Recv == nil {
		return f.Name.IsExported()
	}
	return f.Name.IsExported() && ast.IsExported(receiver(f))
}

// receiver is the name of a method's type.
func receiver(f *ast.FuncDecl) string {
	typ := f.Recv.List[0].Type
	for {
		switch x := typ.(type) {
		case *ast.StarExpr:
			typ = x.X
		case *ast.IndexExpr:
			typ = x.X
		case *ast.IndexListExpr:
			typ = x.X
		case *ast.Ident:
			return x.Name
		default:
			return ""
		}
	}
}

func bareNames(d *ast.GenDecl, spec ast.Spec) []*ast.Ident {
	switch s := spec.(type) {
	case *ast.TypeSpec:
		var bare []*ast.Ident
		explained := s.Doc != nil || s.Comment != nil || d.Doc != nil
		if s.Name.IsExported() && !explained {
			bare = append(bare, s.Name)
		}
		if face, ok := s.Type.(*ast.InterfaceType); ok && s.Name.IsExported() && !sendsOn(d, s) {
			bare = append(bare, bareMethods(face)...)
		}
		return bare
	case *ast.ValueSpec:
		if s.Doc != nil || s.Comment != nil || d.Doc != nil {
			return nil
		}
		return slices.DeleteFunc(slices.Clone(s.Names), func(id *ast.Ident) bool { return !id.IsExported() })
	}
	return nil
}

var docLink = regexp.MustCompile(`\[\*?[A-Z]\w*\]|\[\w+\.[A-Z]\w*\]`)

// sendsOn reports whether a type's comment links to another name: an interface may say
// that its methods are those of a type which documents them.
func sendsOn(d *ast.GenDecl, s *ast.TypeSpec) bool {
	return docLink.MatchString(d.Doc.Text() + s.Doc.Text())
}

func bareMethods(face *ast.InterfaceType) []*ast.Ident {
	var bare []*ast.Ident
	for _, m := range face.Methods.List {
		for _, id := range m.Names {
			if id.IsExported() && m.Doc == nil && m.Comment == nil {
				bare = append(bare, id)
			}
		}
	}
	return bare
}

func TestNumericDocs(t *testing.T) {
	label := regexp.MustCompile(`\b(Units|Source|Errors): `)
	for _, p := range list(t) {
		if !slices.Contains(numeric, p.name()) {
			continue
		}
		files := parse(t, p, p.GoFiles...)
		told := promised(files)
		for _, f := range files {
			for _, d := range f.tree.Decls {
				fn, ok := d.(*ast.FuncDecl)
				if !ok || !isPublic(fn) || !computes(fn) || fn.Recv != nil && told[fn.Name.Name] {
					continue
				}
				if !label.MatchString(fn.Doc.Text()) {
					t.Errorf("%s: %s takes and gives floats: say Units, Source or Errors", f.at(fn), fn.Name.Name)
				}
			}
		}
	}
}

// promised are the methods of a package's exported interfaces: what they take and give
// is told there, once for all that keep the promise.
func promised(files []parsed) map[string]bool {
	names := map[string]bool{}
	for _, f := range files {
		ast.Inspect(f.tree, func(n ast.Node) bool {
			spec, ok := n.(*ast.TypeSpec)
			if !ok || !spec.Name.IsExported() {
				return true
			}
			if face, ok := spec.Type.(*ast.InterfaceType); ok {
				for _, m := range face.Methods.List {
					for _, id := range m.Names {
						names[id.Name] = true
					}
				}
			}
			return true
		})
	}
	return names
}

// computes reports whether a function both takes and gives floating-point numbers.
func computes(f *ast.FuncDecl) bool {
	return hasFloat(f.Type.Params) && hasFloat(f.Type.Results)
}

func hasFloat(list *ast.FieldList) bool {
	if list == nil {
		return false
	}
	found := false
	for _, field := range list.List {
		ast.Inspect(field.Type, func(n ast.Node) bool {
			id, ok := n.(*ast.Ident)
			found = found || ok && (id.Name == "float64" || id.Name == "float32")
			return true
		})
	}
	return found
}

// TestCheckedByExists keeps the promise of each "Checked by:" line: the tests it names
// stand in the same package.
func TestCheckedByExists(t *testing.T) {
	for _, p := range list(t) {
		tests := functions(parse(t, p, slices.Concat(p.TestGoFiles, p.XTestGoFiles)...))
		for _, f := range parse(t, p, p.GoFiles...) {
			for _, group := range f.tree.Comments {
				for _, name := range checkers(group.Text()) {
					if !tests[name] {
						t.Errorf("%s: Checked by %s, which no test file of %s holds", f.at(group), name, p.name())
					}
				}
			}
		}
	}
}

// functions are the names of the functions declared in some files.
func functions(files []parsed) map[string]bool {
	names := map[string]bool{}
	for _, f := range files {
		for _, d := range f.tree.Decls {
			if fn, ok := d.(*ast.FuncDecl); ok && fn.Recv == nil {
				names[fn.Name.Name] = true
			}
		}
	}
	return names
}

var (
	checkedBy = regexp.MustCompile(`(?s)Checked by:(.*?)(\.\s|\.?$|\n\s*\n|\n\s*- )`)
	testName  = regexp.MustCompile(`\b(Test|Fuzz|Benchmark|Example)\w*`)
)

// checkers are the tests that a comment says check its subject.
func checkers(comment string) []string {
	var names []string
	for _, m := range checkedBy.FindAllStringSubmatch(comment, -1) {
		names = append(names, testName.FindAllString(m[1], -1)...)
	}
	return names
}

// The rules themselves, on a made-up file.
func TestDocRulesBite(t *testing.T) {
	const source = `package x
func Bare() {}
// Told is told.
func Told(a float64) ([]float64, error) { return nil, nil }
type hidden struct{}
func (hidden) Method() {}
// Face is told.
type Face interface { Bare2() }
// Known holds the methods of [Face].
type Known interface { Told2() }
const Bare3, low = 1, 2
// Known values.
const ( A = 1; B = 2 )
func (g Generic[T]) Bare4() {}
`
	tree, err := parser.ParseFile(token.NewFileSet(), "x.go", source, parser.ParseComments)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, id := range undocumented(tree) {
		got = append(got, id.Name)
	}
	if want := "Bare Bare2 Bare3 Bare4"; strings.Join(got, " ") != want {
		t.Errorf("undocumented: %v, want %s", got, want)
	}
	if !computes(tree.Decls[1].(*ast.FuncDecl)) || computes(tree.Decls[0].(*ast.FuncDecl)) {
		t.Error("computes does not tell a function of floats from another")
	}
	comment := "  - Checked by: TestA, FuzzB,\n    ExampleC.\n  - Cost: as TestNot.\n"
	if got := strings.Join(checkers(comment), " "); got != "TestA FuzzB ExampleC" {
		t.Errorf("checkers: %q", got)
	}
}
