package say_test

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"waterstrike/ui/say"
)

var update = flag.Bool("update", false, "write testdata/golden.txt anew")

func readCatalogue(t *testing.T, file string) []byte {
	t.Helper()
	b, err := os.ReadFile(filepath.Join("catalogue", file))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// example is a value of each kind, chosen so that ranges, marks and plurals show.
func example(k say.Kind) say.Value {
	return map[say.Kind]say.Value{
		say.KindMetres:   say.MetresRange(4.25, 11.5),
		say.KindDistance: say.Distance(1480),
		say.KindYield:    say.LitresPerSecond(0.25),
		say.KindChance:   say.ChanceRange(0.42, 0.71),
		say.KindShare:    say.Share(0.35),
		say.KindCount:    say.Count(1204),
		say.KindNumber:   say.Number(6.5, 1),
		say.KindDegrees:  say.Degrees(45),
		say.KindPosition: say.Position(0.25, -1.5),
		say.KindMoney:    say.Money(1850, "XOF"),
		say.KindDate:     say.Date(time.Date(2021, 3, 1, 0, 0, 0, 0, time.UTC)),
		say.KindMonth:    say.Month(time.March),
		say.KindText:     say.Text("Anse"),
		say.KindCode:     say.Of("method.auger"),
		say.KindAny:      say.Metres(4.25),
	}[k]
}

func exampleOf(c *say.Catalogue, code string) say.Message {
	m := say.Message{Code: code}
	for _, p := range c.Parameters(code) {
		m.Args = append(m.Args, say.With(p.Name, example(p.Kind)))
	}
	return m
}

// Golden: one example of every message in every language, to be read by a person
// who speaks it. Unbreakable blanks show as ~ and _.
func TestGolden(t *testing.T) {
	c := catalogue(t)
	var b strings.Builder
	for _, code := range c.Codes() {
		fmt.Fprintln(&b, code)
		for _, l := range say.Langs() {
			s, err := c.TrySay(l, exampleOf(c, code))
			if err != nil {
				t.Errorf("%v: %v", l, err)
			}
			fmt.Fprintf(&b, "  %v  %s\n", l, plain(s))
		}
	}
	const path = "testdata/golden.txt"
	if *update {
		if err := os.WriteFile(path, []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	compareLines(t, b.String(), string(want))
}

func compareLines(t *testing.T, got, want string) {
	t.Helper()
	g, w := strings.Split(got, "\n"), strings.Split(want, "\n")
	for i := range min(len(g), len(w)) {
		if g[i] != w[i] {
			t.Fatalf("line %d: got %q, want %q; run with -update if this is meant", i+1, g[i], w[i])
		}
	}
	if len(g) != len(w) {
		t.Fatalf("got %d lines, want %d; run with -update if this is meant", len(g), len(w))
	}
}

func TestTextsAreTidy(t *testing.T) {
	c := catalogue(t)
	untidy := regexp.MustCompile(`^\s|\s$|  |\.\.|[!]`)
	for _, code := range c.Codes() {
		for _, l := range say.Langs() {
			if s := c.Say(l, exampleOf(c, code)); untidy.MatchString(s) {
				t.Errorf("%s, %v: stray blank, double stop or exclamation mark in %q", code, l, s)
			}
		}
	}
}

func TestEveryArgumentNameIsUsed(t *testing.T) {
	c := catalogue(t)
	used := map[string]bool{}
	for _, code := range c.Codes() {
		for _, p := range c.Parameters(code) {
			used[p.Name] = true
		}
	}
	for _, m := range regexp.MustCompile(`"([a-z-]+)": "`).FindAllStringSubmatch(string(readCatalogue(t, "arguments.json")), -1) {
		if !used[m[1]] {
			t.Errorf("arguments.json lists %q, which no message uses", m[1])
		}
	}
}

func TestUnknownCodeHasNoParameters(t *testing.T) {
	c := catalogue(t)
	if p := c.Parameters("no.such"); p != nil || c.Has("no.such") || !c.Has("class.clay") {
		t.Errorf("got %v", p)
	}
}
