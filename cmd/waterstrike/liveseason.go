package main

import (
	"context"

	"waterstrike/advisor"
	"waterstrike/advisor/coverage"
	"waterstrike/advisor/season"
)

// seasons plans and accounts over the present records.
type seasons struct {
	*live
	standards []coverage.Standard
}

// Standards lists the programme's standards of service.
func (s seasons) Standards() ([]coverage.Standard, error) { return s.standards, nil }

// Choose chooses the villages of a season.
func (s seasons) Choose(ctx context.Context, w season.Wishes, progress advisor.Progress) (*season.Season, error) {
	adviser := s.adviser.Load()
	records, err := seasonRecords(ctx, s.base, adviser.ID())
	if err != nil {
		return nil, err
	}
	return season.Choose(ctx, &records, adviser, w, progress)
}

// Account accounts for what was achieved.
func (s seasons) Account(ctx context.Context, q season.AccountAsk) (*season.Account, error) {
	records, err := seasonRecords(ctx, s.base, s.adviser.Load().ID())
	if err != nil {
		return nil, err
	}
	return season.Report(ctx, &records, q)
}
