package say

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"slices"
	"strings"
)

// argumentsFile lists the placeholder names and the kind each one carries.
const argumentsFile = "arguments.json"

// Load reads a catalogue from a folder of JSON files and checks it: every code
// stands once and has every language, a message has the same placeholders in each,
// and every placeholder is listed in arguments.json with a known kind.
// All faults found are joined in the error.
func Load(dir fs.FS) (*Catalogue, error) {
	c := &Catalogue{kinds: map[string]Kind{}, entries: map[string]entry{}}
	if err := readObject(dir, argumentsFile, c.addKind); err != nil {
		return nil, err
	}
	files, err := fs.Glob(dir, "*.json")
	if err != nil {
		return nil, err
	}
	var faults []error
	for _, file := range files {
		if file == argumentsFile {
			continue
		}
		faults = append(faults, readObject(dir, file, c.addEntry))
	}
	if err := errors.Join(faults...); err != nil {
		return nil, err
	}
	return c, nil
}

// readObject hands each member of a file's JSON object to add. It reads by
// tokens because decoding into a map would hide a key that stands twice.
func readObject[V any](dir fs.FS, file string, add func(key string, value V) error) error {
	f, err := dir.Open(file)
	if err != nil {
		return fmt.Errorf("say: %w", err)
	}
	defer f.Close()
	d := json.NewDecoder(f)
	if open, err := d.Token(); err != nil || open != json.Delim('{') {
		return fmt.Errorf("say: %s must hold one JSON object", file)
	}
	var faults []error
	for d.More() {
		key, value, err := readMember[V](d)
		if wrong := (*json.UnmarshalTypeError)(nil); err != nil && !errors.As(err, &wrong) { // the JSON itself is broken: what follows cannot be trusted
			return errors.Join(append(faults, fmt.Errorf("say: %s: after %q: %w", file, key, err))...)
		}
		if err == nil {
			err = add(key, value)
		}
		if err != nil {
			faults = append(faults, fmt.Errorf("say: %s: %s: %w", file, key, err))
		}
	}
	if _, err := d.Token(); err != nil {
		faults = append(faults, fmt.Errorf("say: %s: closing brace: %w", file, err))
	} else if _, err := d.Token(); err != io.EOF {
		faults = append(faults, fmt.Errorf("say: %s: text after the closing brace", file))
	}
	return errors.Join(faults...)
}

func readMember[V any](d *json.Decoder) (key string, value V, err error) {
	token, err := d.Token()
	if err != nil {
		return "", value, err
	}
	key, ok := token.(string)
	if !ok {
		return "", value, fmt.Errorf("%v where a key is needed", token)
	}
	err = d.Decode(&value)
	return key, value, err
}

func (c *Catalogue) addKind(name string, k Kind) error {
	if !slices.Contains(kinds, k) {
		return fmt.Errorf("unknown kind %q; use one of %v", k, kinds)
	}
	if _, twice := c.kinds[name]; twice {
		return errors.New("stands twice")
	}
	c.kinds[name] = k
	return nil
}

func (c *Catalogue) addEntry(code string, texts map[string]string) error {
	if c.Has(code) {
		return errors.New("stands twice in the catalogue")
	}
	if len(texts) != len(styles) {
		return fmt.Errorf("has %d texts; give one for each of %v", len(texts), Langs())
	}
	e, err := c.parseEntry(texts)
	if err != nil {
		return err
	}
	c.entries[code] = e
	return nil
}

// parseEntry parses the text of each language and checks its placeholders.
func (c *Catalogue) parseEntry(texts map[string]string) (entry, error) {
	var e entry
	for _, l := range Langs() {
		parts, err := parseTemplate(typeset(l, texts[l.String()]))
		if err != nil {
			return entry{}, fmt.Errorf("%v: %w", l, err)
		}
		e[l] = parts
		if !slices.Equal(names(parts), names(e[EN])) {
			return entry{}, fmt.Errorf("%v has placeholders [%s], en has [%s]", l,
				strings.Join(names(parts), " "), strings.Join(names(e[EN]), " "))
		}
		if err := c.checkKinds(parts); err != nil {
			return entry{}, fmt.Errorf("%v: %w", l, err)
		}
	}
	return e, nil
}

func (c *Catalogue) checkKinds(parts []part) error {
	for _, p := range parts {
		k, known := c.kinds[p.name]
		switch {
		case p.name == "":
		case !known:
			return fmt.Errorf("placeholder {%s} is not listed in %s", p.name, argumentsFile)
		case p.forms != nil && k != KindCount:
			return fmt.Errorf("placeholder {%s} has plural forms but is a %s", p.name, k)
		}
	}
	return nil
}
