package ui_test

import (
	"io/fs"
	"math"
	"path"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"waterstrike/ui"
)

func read(t *testing.T, files fs.FS, name string) string {
	t.Helper()
	b, err := fs.ReadFile(files, name)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// tokens reads the custom properties of one scheme, each with what it stands for.
func tokens(t *testing.T, dark bool) func(name string) string {
	t.Helper()
	light, other, found := strings.Cut(read(t, ui.Static(), "css/tokens.css"), "@media screen and (prefers-color-scheme: dark)")
	if !found {
		t.Fatal("tokens.css has no dark scheme")
	}
	if dark {
		light += other
	}
	values := map[string]string{}
	for _, m := range regexp.MustCompile(`(--[\w-]+):\s*([^;]+);`).FindAllStringSubmatch(light, -1) {
		values[m[1]] = m[2]
	}
	return func(name string) string {
		v := values[name]
		for strings.HasPrefix(v, "var(") {
			v = values[strings.TrimSuffix(strings.TrimPrefix(v, "var("), ")")]
		}
		return v
	}
}

// luminance follows WCAG 2.2, "relative luminance".
func luminance(t *testing.T, hex string) float64 {
	t.Helper()
	n, err := strconv.ParseUint(strings.TrimPrefix(hex, "#"), 16, 32)
	if err != nil || len(hex) != 7 {
		t.Fatalf("%q is not #rrggbb", hex)
	}
	sum := 0.0
	for i, weight := range []float64{0.2126, 0.7152, 0.0722} {
		v := float64(n>>(16-8*i)&0xff) / 255
		if v <= 0.04045 {
			v /= 12.92
		} else {
			v = math.Pow((v+0.055)/1.055, 2.4)
		}
		sum += weight * v
	}
	return sum
}

func TestContrast(t *testing.T) {
	// WCAG 2.2: 4.5 for text (1.4.3), 3 for what must be told apart without words (1.4.11).
	tests := []struct {
		front, back string
		least       float64
	}{
		{"--text", "--ground", 4.5},
		{"--text", "--card", 4.5},
		{"--text", "--inset", 4.5},
		{"--text-quiet", "--ground", 4.5},
		{"--text-quiet", "--card", 4.5},
		{"--link", "--ground", 4.5},
		{"--link", "--card", 4.5},
		{"--button-text", "--button", 4.5},
		{"--verdict-go", "--card", 4.5},
		{"--verdict-care", "--card", 4.5},
		{"--verdict-avoid", "--card", 4.5},
		{"--verdict-unsure", "--card", 4.5},
		{"--edge", "--card", 3},
		{"--mark", "--band", 3},
	}
	for scheme, dark := range map[string]bool{"light": false, "dark": true} {
		value := tokens(t, dark)
		for _, tt := range tests {
			a, b := luminance(t, value(tt.front)), luminance(t, value(tt.back))
			if ratio := (max(a, b) + 0.05) / (min(a, b) + 0.05); ratio < tt.least {
				t.Errorf("%s: %s on %s has contrast %.2f, want %v", scheme, tt.front, tt.back, ratio, tt.least)
			}
		}
	}
}

// TestStylesUseMeanings keeps raw colours in one place; the cross and its reading lie on
// the map, which is white in both schemes.
func TestStylesUseMeanings(t *testing.T) {
	for _, name := range []string{"css/base.css", "css/answer.css"} {
		if raw := regexp.MustCompile(`#[0-9a-f]{3,6}\b`).FindString(read(t, ui.Static(), name)); raw != "" {
			t.Errorf("%s has the raw colour %s: give it a name in tokens.css", name, raw)
		}
	}
}

func TestTemplatesHoldNothingInline(t *testing.T) {
	inline := regexp.MustCompile(`(?i)\sstyle=|<style|\son\w+=|<script(>|[^>]*>[^<])|https?://`)
	each(t, ui.Templates(), func(name, text string) {
		if found := inline.FindString(text); found != "" {
			t.Errorf("%s holds %q, which the content security policy forbids", name, found)
		}
	})
}

func TestEveryFileNamedIsThere(t *testing.T) {
	static := ui.Static()
	each(t, ui.Templates(), func(name, text string) {
		for _, m := range regexp.MustCompile(`"/static/([^"#]+)`).FindAllStringSubmatch(text, -1) {
			if _, err := fs.Stat(static, m[1]); err != nil {
				t.Errorf("%s: %v", name, err)
			}
		}
	})
	each(t, static, func(name, text string) {
		if strings.HasPrefix(name, "vendor/") {
			return // made of many files, none of which is named any more
		}
		for _, m := range regexp.MustCompile(`(?:from|@import) "([^"]+)"`).FindAllStringSubmatch(text, -1) {
			if _, err := fs.Stat(static, path.Join(path.Dir(name), m[1])); err != nil {
				t.Errorf("%s: %v", name, err)
			}
		}
		if lines := strings.Count(text, "\n"); lines > 150 && name != "mapsigns.svg" {
			t.Errorf("%s has %d lines: split it", name, lines)
		}
	})
}

func TestEveryVerdictHasASign(t *testing.T) {
	signs := read(t, ui.Static(), "signs.svg")
	for _, mark := range []string{"go", "care", "avoid", "unsure"} {
		if !strings.Contains(signs, `<symbol id="`+mark+`"`) {
			t.Errorf("signs.svg has no %q", mark)
		}
	}
}

func each(t *testing.T, files fs.FS, visit func(name, text string)) {
	t.Helper()
	count := 0
	err := fs.WalkDir(files, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		count++
		visit(name, read(t, files, name))
		return nil
	})
	if err != nil || count == 0 {
		t.Fatalf("%d files, %v", count, err)
	}
}

// Every module that a page needs is asked for at once: one that is found in another costs a
// journey of its own on a slow network.
func TestModulesArePreloaded(t *testing.T) {
	page := read(t, ui.Templates(), "page.html")
	imports := regexp.MustCompile(`(?m)^import [^"]*"(\.[^"]+)"`)
	var follow func(name string)
	follow = func(name string) {
		for _, m := range imports.FindAllStringSubmatch(read(t, ui.Static(), name), -1) {
			next := path.Join(path.Dir(name), m[1])
			if !strings.Contains(page, `<link rel="modulepreload" href="/static/`+next+`">`) {
				t.Errorf("%s, which %s imports, is not asked for by the page", next, name)
			}
			if !strings.HasPrefix(next, "vendor/") {
				follow(next)
			}
		}
	}
	scripts := regexp.MustCompile(`<script type="module" src="/static/([^"]+)">`).FindAllStringSubmatch(page, -1)
	if len(scripts) == 0 {
		t.Fatal("the page asks for no script")
	}
	for _, m := range scripts {
		follow(m[1])
	}
}
