package main

import (
	"time"

	"waterstrike/geo"
	"waterstrike/geo/store"
)

// backupCmd copies the knowledge base while it is in use.
type backupCmd struct {
	To string `type:"path" placeholder:"${takes_path}" help:"${flag_to}"`
}

// Run makes and verifies the copy.
func (c *backupCmd) Run(a *app) error {
	base, err := a.openToRead()
	if err != nil {
		return err
	}
	defer base.Close()
	to := c.To
	if to == "" {
		to = a.folder.Backup(time.Now().Format("2006-01-02-150405"))
	}
	if err := base.Backup(a.ctx, to); err != nil {
		return err
	}
	a.say(geo.Say("backup.done", geo.With("file", geo.Text(to))))
	return nil
}

// restoreCmd puts a backup in the place of the knowledge base.
type restoreCmd struct {
	From string `arg:"" type:"path" help:"${flag_from}"`
}

// Run verifies the backup, keeps the present base aside and puts the backup in.
func (c *restoreCmd) Run(a *app) error {
	if err := a.folder.Make(); err != nil {
		return err
	}
	aside, err := store.RestoreBackup(a.ctx, c.From, a.folder.Ground(), time.Now())
	if err != nil {
		return err
	}
	a.say(geo.Say("restore.done", geo.With("file", geo.Text(c.From))))
	if aside != "" {
		a.say(geo.Say("restore.kept-aside", geo.With("file", geo.Text(aside))))
	}
	return nil
}
