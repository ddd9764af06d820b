package server

import (
	"context"
	"sync"

	"waterstrike/advisor/season"
	"waterstrike/geo"
	"waterstrike/server/sheet"
)

// achieved keeps the account of the present records for outsiders: it is taken once a day
// and state, however often a link is opened.
type achieved struct {
	mutex   sync.Mutex
	of      string
	account *season.Account
}

// presentAccount is the account of today by the usual standard.
func (s *Server) presentAccount(ctx context.Context) (*season.Account, error) {
	state, err := s.Ground.State(ctx)
	if err != nil {
		return nil, err
	}
	list, err := s.Seasons.Standards()
	if err != nil {
		return nil, err
	}
	ask := season.AccountAsk{On: geo.DateOf(s.Now())}
	if ask.Standard, err = season.Standard(list, ""); err != nil {
		return nil, err
	}
	s.achieved.mutex.Lock()
	defer s.achieved.mutex.Unlock()
	if of := state + " " + ask.On.String(); s.achieved.of != of {
		a, err := s.Seasons.Account(ctx, ask)
		if err != nil {
			return nil, err
		}
		s.achieved.of, s.achieved.account = of, a
	}
	return s.achieved.account, nil
}

// sharedServed says how many people have water, in all and by district; nil where nobody
// was counted.
func (s *Server) sharedServed(ctx context.Context, p speaker) (*sheet.Table, error) {
	a, err := s.presentAccount(ctx)
	if err != nil {
		return nil, err
	}
	districts, there := sheet.ServedShort(s.Catalogue, p.lang, a)
	if !there {
		return nil, nil
	}
	return &districts, nil
}
