package main

import (
	"context"
	"log/slog"
	"net"
	"time"

	"waterstrike/geo"
	"waterstrike/geo/arrival"
	"waterstrike/geo/intake"
	"waterstrike/geo/store"
	"waterstrike/server"
	"waterstrike/server/account"
	"waterstrike/ui"
)

// serveCmd answers questions in a browser, to people who sign in.
type serveCmd struct {
	Address string   `default:"127.0.0.1:8420" help:"${flag_address}"`
	LAN     bool     `help:"${flag_lan}"`
	Name    []string `placeholder:"${takes_name}" help:"${flag_name}"`
}

// Run serves until it is interrupted.
func (c *serveCmd) Run(a *app) error {
	base, err := a.openOrBegin()
	if err != nil {
		return err
	}
	defer base.Close()
	people, err := a.openPeople()
	if err != nil {
		return err
	}
	defer people.Close()
	if c.LAN {
		return c.serveLAN(a, base, people)
	}
	listener, err := server.Listen(a.ctx, c.Address)
	if err != nil {
		return err
	}
	defer listener.Close()
	if err := a.sayFirstCode(people, "http://"+listener.Addr().String()+"/begin"); err != nil {
		return err
	}
	return a.serve(base, server.Config{People: people}, a.here(listener))
}

// openOrBegin opens the base, or begins an empty one and says so: an office may hand in all
// of its files in the browser.
func (a *app) openOrBegin() (*store.Base, error) {
	base, err := a.openToRead()
	if geo.KindOf(err) != geo.NotFound {
		return base, err
	}
	base, err = a.openOrCreate()
	if err == nil {
		a.say(geo.Say("serve.begun", geo.With("path", geo.Text(a.folder.Ground()))))
	}
	return base, err
}

// sayFirstCode prints the code of the first keeper, as long as there is none.
func (a *app) sayFirstCode(people *account.Book, at string) error {
	need, err := people.NeedsKeeper(a.ctx)
	if err != nil || !need {
		return err
	}
	code, err := people.FirstCode(a.ctx)
	if err != nil {
		return err
	}
	a.say(geo.Say("serve.first-code", geo.With("path", geo.Text(at)), geo.With("value", geo.Text(code))))
	return nil
}

// watchEvery is how often the file is looked at for changes by other programs.
const watchEvery = 250 * time.Millisecond

// serving is how a server meets its visitors, until the context ends.
type serving func(ctx context.Context, s *server.Server) error

// here serves this computer alone.
func (a *app) here(listener net.Listener) serving {
	return func(ctx context.Context, s *server.Server) error {
		a.say(geo.Say("serve.at", geo.With("value", geo.Text("http://"+listener.Addr().String()+"/"))))
		return s.Serve(ctx, listener)
	}
}

// present is the base as a server answers from it; done is to be called when no more is
// asked.
func (a *app) present(base *store.Base) (l *live, done func(), err error) {
	land, done, err := a.land()
	if err != nil {
		return nil, nil, err
	}
	rules, err := a.ownRules()
	if err != nil {
		done()
		return nil, nil, err
	}
	l, err = newLive(a.ctx, base, land, rules, slog.New(slog.NewTextHandler(a.err, nil)))
	if err != nil {
		done()
		return nil, nil, err
	}
	return l, done, nil
}

// serve answers from a base until the context ends, following changes by any program. The
// config says who may come in and how.
func (a *app) serve(base *store.Base, config server.Config, meet serving) error {
	present, done, err := a.present(base)
	if err != nil {
		return err
	}
	defer done()
	return a.serveFrom(present, config, meet)
}

// serveFrom is serve from what was made of the base before.
func (a *app) serveFrom(present *live, config server.Config, meet serving) error {
	standards, err := a.standards()
	if err != nil {
		return err
	}
	if err := a.openCharts(present); err != nil {
		return err
	}
	defer present.closeCharts()
	if err := a.openTraced(present); err != nil {
		return err
	}
	ctx, stop := context.WithCancel(a.ctx)
	desk := arrival.New(ctx, arrival.Config{
		Folder: a.folder, Base: present.base, Now: time.Now, Known: func(context.Context) (intake.Known, error) { return a.known() },
	})
	defer present.wait() // before the land is closed
	defer desk.Wait()
	defer stop()
	config.Advisor, config.Ground, config.Atlas, config.Judge, config.Learner, config.Surveyor = present, present, present, present, present, present
	config.Intake = desk
	config.Records, config.Trade, config.Packer = present.base, present, present
	config.Seasons, config.Features = seasons{present, standards}, &featured{live: present}
	config.Catalogue, config.Templates, config.Static = a.words, ui.Templates(), ui.Static()
	config.Version, config.Now, config.Log = programVersion(), time.Now, present.log
	s, err := server.New(config)
	if err != nil {
		return err
	}
	present.survey(ctx, a.folder.Terrain())
	go watch(ctx, present)
	return meet(ctx, s)
}

// watch keeps the advisor up to date; a failure to follow is told and tried again at the
// next change, while answers go on from the last good state.
func watch(ctx context.Context, present *live) {
	err := present.base.Watch(ctx, watchEvery, func() {
		if err := present.follow(ctx); err != nil && ctx.Err() == nil {
			present.log.Error("the base changed but could not be read", "error", err)
		}
	})
	if err != nil && ctx.Err() == nil {
		present.log.Error("changes by other programs are no longer noticed", "error", err)
	}
}
