package server_test

import (
	"net/http"
	"testing"
)

func TestLearntScenarios(t *testing.T) {
	b := newBench(t, land{}, nil)
	scenarios := []scenario{
		{name: "page", target: "/learnt?lang=en", headers: html, status: 200, holds: []string{
			"Learnt: what the answers come from", "needs levels at 10 places", "The records have changed since", "dry hole", `href="/learnt.json"`, `aria-current="page"`,
		}, lacks: []string{"⟨", "style=", "onclick"}},
		{name: "in French", target: "/learnt?lang=fr", status: 200, holds: []string{`<html lang="fr">`, "forage sec"}, lacks: []string{"⟨"}},
		{name: "data", target: "/learnt.json", status: 200, holds: []string{`"schema": "waterstrike.learnt.1"`, `"snapshot": "7"`, `"level": null`}},
		{name: "writing", method: http.MethodPost, target: "/learnt", status: 405},
	}
	b.runAll(t, scenarios)
	for _, s := range scenarios {
		if tag := b.get(s.target).Header().Get("ETag"); s.status == 200 && b.get(s.target, "If-None-Match", tag).Code != http.StatusNotModified {
			t.Errorf("%s: the same page is sent twice", s.target)
		}
	}
}
