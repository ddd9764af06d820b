package welldesign

import (
	"cmp"
	_ "embed"
	"io/fs"
	"strings"

	"waterstrike/advisor/rule"
	"waterstrike/geo"
)

// PapersFile is the name of the checklists in the rules folder.
const PapersFile = "papers.json"

//go:embed papers.json
var embeddedPapers []byte

// Paper is one line of a checklist.
type Paper struct {
	rule.Basis
	Code    string `json:"code"`
	When    When   `json:"when"`
	LeftOut bool   `json:"leftOut"`
	Words   string `json:"words"` // of a line that a programme adds, in its own language
}

// When is the checklist that a line stands in.
type When string

// The checklists.
const (
	Before When = "before" // permits and checks before the crew goes out
	After  When = "after"  // before the well is handed over
)

// Message tells the line to people.
func (p Paper) Message() geo.Message {
	if p.Words != "" {
		return geo.Say("papers.own", geo.With("value", geo.Text(p.Words)))
	}
	return geo.Message{Code: geo.Code(p.Code)}
}

func (p Paper) name() string { return p.Code }

func (p Paper) check(at rule.Fault) error {
	err := at.OneOf("when", string(p.When), string(Before), string(After))
	ours := strings.HasPrefix(p.Code, "permit.") || strings.HasPrefix(p.Code, "handover.")
	if !ours && strings.TrimSpace(p.Words) == "" {
		return cmp.Or(err, at.Missing("words"))
	}
	return err
}

// DefaultPapers returns the embedded checklists. They remind; the country's own list comes
// first.
func DefaultPapers() ([]Paper, error) { return papersOver(nil) }

// PapersFromFolder returns the checklists of a programme: the embedded ones, changed by its
// papers.json where the rules folder holds one. A line with a code of its own brings its
// own words. A wrong file is a [geo.Invalid] error that names file, entry, field and value.
func PapersFromFolder(rules fs.FS) ([]Paper, error) {
	edited, err := rule.Edited(rules, PapersFile)
	if err != nil {
		return nil, err
	}
	return papersOver(edited)
}

func papersOver(edited []byte) ([]Paper, error) {
	list, err := rule.Lay(nil, PapersFile, embeddedPapers, Paper.name, Paper.check)
	if err == nil && edited != nil {
		list, err = rule.Lay(list, rule.Named(PapersFile), edited, Paper.name, Paper.check)
	}
	if err != nil {
		return nil, err
	}
	var out []Paper
	for _, p := range list {
		if !p.LeftOut {
			out = append(out, p)
		}
	}
	return out, nil
}
