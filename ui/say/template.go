package say

import (
	"fmt"
	"slices"
	"strings"
)

// part is a stretch of plain text, or a placeholder when name is set.
type part struct {
	text  string
	name  string
	forms map[string]string // plural forms; nil: the value itself
}

var pluralForms = []string{"zero", "one", "many", "other"}

// parseTemplate splits "to {depth} in {n} {n, one: bore, other: bores}".
func parseTemplate(s string) ([]part, error) {
	if strings.TrimSpace(s) == "" {
		return nil, fmt.Errorf("empty text")
	}
	var parts []part
	for s != "" {
		text, rest, opened := strings.Cut(s, "{")
		if strings.Contains(text, "}") {
			return nil, fmt.Errorf("closing brace without an opening one near %q", text)
		}
		if text != "" {
			parts = append(parts, part{text: text})
		}
		if !opened {
			break
		}
		inside, after, closed := strings.Cut(rest, "}")
		if !closed {
			return nil, fmt.Errorf("brace not closed: {%s", rest)
		}
		p, err := parsePlaceholder(inside)
		if err != nil {
			return nil, err
		}
		parts, s = append(parts, p), after
	}
	return parts, nil
}

// parsePlaceholder reads what stands between the braces.
func parsePlaceholder(s string) (part, error) {
	fields := strings.Split(s, ",")
	p := part{name: fields[0]}
	if p.name == "" || strings.Trim(p.name, "abcdefghijklmnopqrstuvwxyz-") != "" {
		return part{}, fmt.Errorf("placeholder {%s}: the name must be lower-case letters", s)
	}
	if len(fields) == 1 {
		return p, nil
	}
	p.forms = map[string]string{}
	for _, field := range fields[1:] {
		form, text, ok := strings.Cut(field, ":")
		form = strings.TrimSpace(form)
		if !ok || !slices.Contains(pluralForms, form) {
			return part{}, fmt.Errorf("placeholder {%s}: %q is no plural form; use %s", s, field, strings.Join(pluralForms, ", "))
		}
		p.forms[form] = strings.TrimSpace(text)
	}
	if p.forms["one"] == "" || p.forms["other"] == "" {
		return part{}, fmt.Errorf("placeholder {%s}: forms one and other are needed", s)
	}
	return p, nil
}

// names returns the placeholder names of a text, sorted, each once.
func names(parts []part) []string {
	var out []string
	for _, p := range parts {
		if p.name != "" {
			out = append(out, p.name)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}
