// Package advisortest makes advisors for tests.
package advisortest

import (
	"testing"

	"waterstrike/advisor"
	"waterstrike/advisor/evidence"
)

// Of returns an advisor by the default rules, fitted to a snapshot.
func Of(t testing.TB, s *evidence.Snapshot) *advisor.Advisor {
	t.Helper()
	rules, err := advisor.DefaultRules()
	if err != nil {
		t.Fatal(err)
	}
	a, err := advisor.New(t.Context(), s, rules, "")
	if err != nil {
		t.Fatal(err)
	}
	return a
}
