package server_test

import (
	"net/http"
	"strings"
	"testing"
)

func TestLearntScenarios(t *testing.T) {
	b := newBench(t, land{}, nil)
	for _, s := range []scenario{
		{name: "page", target: "/learnt?lang=en", headers: html, status: 200, holds: []string{
			"Learnt: what the answers come from", "needs levels at 10 places", "The records have changed since", "dry hole", `href="/learnt.json"`, `aria-current="page"`,
		}, lacks: []string{"⟨", "style=", "onclick"}},
		{name: "in French", target: "/learnt?lang=fr", status: 200, holds: []string{`<html lang="fr">`, "forage sec"}, lacks: []string{"⟨"}},
		{name: "data", target: "/learnt.json", status: 200, holds: []string{`"schema": "waterstrike.learnt.1"`, `"snapshot": "7"`, `"level": null`}},
		{name: "writing", method: http.MethodPost, target: "/learnt", status: 405},
	} {
		t.Run(s.name, func(t *testing.T) {
			method := s.method
			if method == "" {
				method = http.MethodGet
			}
			w := b.send(method, s.target, s.headers...)
			if w.Code != s.status {
				t.Fatalf("status %d, want %d\n%.400s", w.Code, s.status, w.Body)
			}
			for _, want := range s.holds {
				if !strings.Contains(w.Body.String(), want) {
					t.Errorf("%q is missing", want)
				}
			}
			for _, bad := range s.lacks {
				if strings.Contains(w.Body.String(), bad) {
					t.Errorf("%q is there", bad)
				}
			}
			if tag := w.Header().Get("ETag"); s.status == 200 && b.get(s.target, "If-None-Match", tag).Code != http.StatusNotModified {
				t.Error("the same page is sent twice")
			}
		})
	}
}
