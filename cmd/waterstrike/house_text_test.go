package main_test

import (
	"bytes"
	"go/ast"
	"go/format"
	"path"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// longest is the number of lines beyond which a file has a second reason to exist.
const longest = 400

func TestFileSize(t *testing.T) {
	var sizes []int
	for _, f := range texts(t) {
		if path.Ext(f.path) != ".go" || strings.HasSuffix(f.path, "_test.go") {
			continue
		}
		n := strings.Count(f.body, "\n")
		sizes = append(sizes, n)
		if n > longest {
			t.Errorf("%s has %d lines, more than %d: ask what second reason lives in it", f.path, n, longest)
		}
	}
	if len(sizes) == 0 {
		t.Fatal("no Go file found")
	}
	t.Logf("%d files, median %d lines, nine in ten within %d", len(sizes), share(sizes, 0.5), share(sizes, 0.9))
}

// Short functions: half within 12 lines, nine in ten within 40.
func TestFunctionSize(t *testing.T) {
	var sizes []int
	for _, p := range list(t) {
		for _, f := range parse(t, p, p.GoFiles...) {
			for _, d := range f.tree.Decls {
				if fn, ok := d.(*ast.FuncDecl); ok && fn.Body != nil {
					sizes = append(sizes, f.lines(fn))
				}
			}
		}
	}
	if len(sizes) == 0 {
		t.Fatal("no function found")
	}
	half, most := share(sizes, 0.5), share(sizes, 0.9)
	t.Logf("%d functions, median %d lines, nine in ten within %d", len(sizes), half, most)
	if half > 12 || most > 40 {
		t.Errorf("functions have grown: median %d, nine in ten within %d lines; want 12 and 40", half, most)
	}
}

// share is the size that the given share of all sizes does not exceed.
func share(sizes []int, of float64) int {
	slices.Sort(sizes)
	return sizes[int(of*float64(len(sizes)-1))]
}

func TestFormatted(t *testing.T) {
	for _, f := range texts(t) {
		if path.Ext(f.path) != ".go" {
			continue
		}
		want, err := format.Source([]byte(f.body))
		if err != nil {
			t.Errorf("%s: %v", f.path, err)
		} else if !bytes.Equal(want, []byte(f.body)) {
			t.Errorf("%s is not as gofmt writes it", f.path)
		}
	}
}

// barred are the words that say where and how the product was made instead of what it
// does. They are put together here, so that this file passes its own scan.
var barred = []barredWord{
	{"trans" + "cript", regexp.MustCompile("(?i)trans" + "cript")},
	{"seed " + "document", regexp.MustCompile("(?i)seed " + "document")},
	{"video" + "-01", regexp.MustCompile("(?i)video" + "-01")},
	{"/wo" + "rk/", regexp.MustCompile("(?i)/work" + "/[a-z.]")},
	{"/tm" + "p/", regexp.MustCompile("(?i)/tmp" + "/[a-z.]")},
	{"farm" + "-", regexp.MustCompile("(?i)farm" + "-[a-z]\\b")},
	{" session", regexp.MustCompile("(?i)(this|previous|last)" + " session")},
	{"issue ", regexp.MustCompile("(?i)\\bissue" + " [0-9]")},
	{"proxy" + ".golang", regexp.MustCompile("(?i)proxy\\.golang" + "\\.org")},
	{"registry" + ".npmjs", regexp.MustCompile("(?i)registry\\.npmjs" + "\\.org")},
	{"pypi" + ".", regexp.MustCompile("(?i)pypi\\." + "org")},
	{"deb" + ".debian", regexp.MustCompile("(?i)deb\\.debian" + "\\.org")},
	{"help" + "er", regexp.MustCompile("\\bhelp" + "er\\b")},
	{"to" + "do", regexp.MustCompile("\\bTO" + "DO\\b")},
	{"fix" + "me", regexp.MustCompile("\\bFIX" + "ME\\b")},
	{"xx" + "x", regexp.MustCompile("\\bXX" + "X\\b")},
}

// barredWord is a form of words, and what stands in every text that holds it: looked for
// first, because a search is ten times as quick as a match.
type barredWord struct {
	hint string // in lower case
	form *regexp.Regexp
}

// barredIn returns the first barred word of a text.
func barredIn(body string) string {
	lower := strings.ToLower(body)
	for _, word := range barred {
		if !strings.Contains(lower, word.hint) {
			continue
		}
		if found := word.form.FindString(body); found != "" {
			return found
		}
	}
	return ""
}

// madeElsewhere reports whether a file's words are not ours: sums, lock files and
// libraries copied in whole.
func madeElsewhere(name string) bool {
	return name == "go.sum" || path.Base(name) == "package-lock.json" ||
		strings.HasSuffix(name, ".min.js") || slices.Contains(strings.Split(name, "/"), "vendor")
}

func TestWordsKeptOut(t *testing.T) {
	for _, f := range texts(t) {
		if madeElsewhere(f.path) || barredIn(f.body) == "" {
			continue
		}
		for i, line := range strings.Split(f.body, "\n") {
			if word := barredIn(line); word != "" {
				t.Errorf("%s:%d: %q does not belong in the product", f.path, i+1, word)
			}
		}
	}
}

// The scan itself: it finds what it must and leaves what it may.
func TestWordScanBites(t *testing.T) {
	for _, bad := range []string{
		"Trans" + "cripts", "a Seed " + "Document", "video" + "-01.mp4", "see /wo" + "rk/main", "/Tm" + "p/x", "farm" + "-b",
		"This " + "Session", "Issue " + "7", "proxy.golang" + ".org", "registry.npmjs" + ".org", "pypi." + "org", "deb.debian" + ".org",
		"a help" + "er", "// TO" + "DO: later", "FIX" + "ME", "XX" + "X",
	} {
		if barredIn("well\n"+bad+"\nwell") == "" {
			t.Errorf("%q passes", bad)
		}
	}
	for _, good := range []string{"t.Helper()", "the session ends", "network/tmp", "work/day", "3 issues", "transcribe", "xxx", "todo"} {
		if found := barredIn(good); found != "" {
			t.Errorf("%q does not pass", good)
		}
	}
}

// A test that skips where something is missing must fail instead where nothing may be
// missing: under CI=true. A test may be left out of a run with -short; a fuzz target may
// pass over an input too large for it, and a benchmark is run by hand.
func TestSkipsFailInCI(t *testing.T) {
	for _, p := range list(t) {
		for _, f := range parse(t, p, slices.Concat(p.TestGoFiles, p.XTestGoFiles)...) {
			for _, d := range f.tree.Decls {
				fn, ok := d.(*ast.FuncDecl)
				if ok && skips(fn) && !maySkip(fn) {
					t.Errorf("%s: %s skips without asking for CI", f.at(fn), fn.Name.Name)
				}
			}
		}
	}
}

// takes reports whether a function has a parameter such as *testing.B.
func takes(fn *ast.FuncDecl, name string) bool {
	for _, field := range fn.Type.Params.List {
		star, ok := field.Type.(*ast.StarExpr)
		if !ok {
			continue
		}
		if sel, ok := star.X.(*ast.SelectorExpr); ok && sel.Sel.Name == name {
			return true
		}
	}
	return false
}

func skips(fn *ast.FuncDecl) bool {
	return calls(fn, "Skip", "") || calls(fn, "Skipf", "") || calls(fn, "SkipNow", "")
}

func maySkip(fn *ast.FuncDecl) bool {
	return takes(fn, "F") || takes(fn, "B") || calls(fn, "Short", "") || calls(fn, "Getenv", `"CI"`)
}

// calls reports whether a function calls a method or another package's function by that
// name, with that first argument unless it is empty.
func calls(fn *ast.FuncDecl, name, first string) bool {
	found := false
	ast.Inspect(fn, func(n ast.Node) bool {
		call, ok := n.(*ast.CallExpr)
		if !ok {
			return true
		}
		sel, ok := call.Fun.(*ast.SelectorExpr)
		found = found || ok && sel.Sel.Name == name && (first == "" || literal(call) == first)
		return true
	})
	return found
}

// literal is the first argument of a call as it is written, if it is a literal.
func literal(call *ast.CallExpr) string {
	if len(call.Args) == 0 {
		return ""
	}
	if lit, ok := call.Args[0].(*ast.BasicLit); ok {
		return lit.Value
	}
	return ""
}
