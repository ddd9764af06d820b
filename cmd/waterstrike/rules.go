package main

import (
	"context"
	"os"
	"path/filepath"

	"waterstrike/advisor"
	"waterstrike/advisor/evidence"
	"waterstrike/advisor/method"
	"waterstrike/advisor/rule"
	"waterstrike/geo"
)

// ownRules returns the rules of the programme: those that come with the program, changed
// by the files in rules/ of the data folder where there are any.
func (a *app) ownRules() (advisor.Rules, error) {
	return advisor.RulesFromFolder(os.DirFS(filepath.Join(string(a.folder), rule.Folder)))
}

// newAdvisor fits the models to a snapshot by the programme's rules, with the paces that
// were logged in the records it was read from.
func (a *app) newAdvisor(snapshot *evidence.Snapshot) (*advisor.Advisor, error) {
	rules, err := a.ownRules()
	if err != nil {
		return nil, err
	}
	rules.Timed = a.paces
	return advisor.New(a.ctx, snapshot, rules, programVersion())
}

// paces are the passages with minutes written down, by method.
type paces map[geo.Method][]method.Timed

// timing passes records on and keeps what they tell of the pace of drilling.
type timing struct {
	source
	paces paces
}

// Bores calls fn with every bore.
func (t timing) Bores(ctx context.Context, fn func(geo.Bore) error) error {
	return t.source.Bores(ctx, func(b geo.Bore) error {
		if passages := method.Logged(b); len(passages) > 0 {
			t.paces[b.Method] = append(t.paces[b.Method], passages...)
		}
		return fn(b)
	})
}
