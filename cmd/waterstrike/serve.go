package main

import (
	"context"
	"log/slog"
	"time"

	"waterstrike/geo"
	"waterstrike/geo/store"
	"waterstrike/server"
	"waterstrike/ui"
)

// serveCmd answers questions in a browser on this computer.
type serveCmd struct {
	Address string `default:"127.0.0.1:8420" help:"${flag_address}"`
}

// Run serves until it is interrupted.
func (c *serveCmd) Run(a *app) error {
	base, err := a.openToRead()
	if err != nil {
		return err
	}
	defer base.Close()
	return a.serve(base, c.Address)
}

// watchEvery is how often the file is looked at for changes by other programs.
const watchEvery = 250 * time.Millisecond

// serve answers from a base until the context ends, following changes by any program.
func (a *app) serve(base *store.Base, address string) error {
	listener, err := server.Listen(a.ctx, address)
	if err != nil {
		return err
	}
	defer listener.Close()
	log := slog.New(slog.NewTextHandler(a.err, nil))
	land, done, err := a.land()
	if err != nil {
		return err
	}
	defer done()
	present, err := newLive(a.ctx, base, land)
	if err != nil {
		return err
	}
	s, err := server.New(server.Config{
		Advisor: present, Ground: present, Judge: present, Catalogue: a.words,
		Templates: ui.Templates(), Static: ui.Static(),
		Version: programVersion(), Now: time.Now, Log: log,
	})
	if err != nil {
		return err
	}
	ctx, stop := context.WithCancel(a.ctx)
	defer stop()
	go watch(ctx, base, present, log)
	a.say(geo.Say("serve.at", geo.With("value", geo.Text("http://"+listener.Addr().String()+"/"))))
	return s.Serve(ctx, listener)
}

// watch keeps the advisor up to date; a failure to follow is told and tried again at the
// next change, while answers go on from the last good state.
func watch(ctx context.Context, base *store.Base, present *live, log *slog.Logger) {
	err := base.Watch(ctx, watchEvery, func() {
		if err := present.follow(ctx); err != nil && ctx.Err() == nil {
			log.Error("the base changed but could not be read", "error", err)
		}
	})
	if err != nil && ctx.Err() == nil {
		log.Error("changes by other programs are no longer noticed", "error", err)
	}
}
