package main

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"

	"waterstrike/advisor"
	"waterstrike/geo"
	"waterstrike/geo/demoland"
	"waterstrike/geo/store"
	"waterstrike/server"
)

// demoSeed is the region that the demo shows; examples in help and documents name its
// villages.
const demoSeed = 1

// demoCmd shows the whole job on an invented region, in a folder of its own that is gone
// afterwards.
type demoCmd struct {
	Once     bool   `help:"${flag_once}"`
	JSON     bool   `help:"${flag_json}"`
	Address  string `default:"127.0.0.1:0" help:"${flag_address}"`
	Keep     string `type:"path" placeholder:"${takes_folder}" help:"${flag_keep}"`
	Sections string `type:"path" placeholder:"${takes_folder}" help:"${flag_sections}"`
}

// Run writes the region's files, takes them in, asks at a village and serves the rest.
func (c *demoCmd) Run(a *app) error {
	if c.Sections != "" {
		return a.drawSections(demoland.New(demoSeed), c.Sections)
	}
	listener, err := server.Listen(a.ctx, c.Address) // first: a wrong address is told before the work
	if err != nil {
		return err
	}
	defer listener.Close()
	dir, done, err := c.room()
	if err != nil {
		return err
	}
	defer done()
	a.folder = store.Folder(filepath.Join(dir, "data"))
	if err := a.folder.Make(); err != nil {
		return err
	}
	records, err := a.fillDemo(demoland.New(demoSeed), filepath.Join(dir, "files"))
	if err != nil {
		return err
	}
	base, err := a.open()
	if err != nil {
		return err
	}
	defer base.Close()
	present, left, err := a.present(base)
	if err != nil {
		return err
	}
	defer left()
	advice, err := firstGood(a.ctx, present, records.Villages)
	if err != nil {
		return err
	}
	if err := a.show(advice, c.JSON); err != nil || c.Once {
		return err
	}
	a.say(geo.Say("demo.open"))
	return a.serveFrom(present, server.Config{}, a.here(listener))
}

// room returns the folder to work in and what to do with it at the end: a new one that is
// kept, or a temporary one that goes.
func (c *demoCmd) room() (dir string, done func(), err error) {
	if c.Keep == "" {
		dir, err = os.MkdirTemp("", "waterstrike-demo-")
		return dir, func() { os.RemoveAll(dir) }, err
	}
	if err := os.Mkdir(c.Keep, 0o755); errors.Is(err, fs.ErrExist) {
		return "", nil, geo.Fail(geo.Conflict, "demo", geo.Say("command.file-exists", geo.With("file", geo.Text(c.Keep))), err)
	} else if err != nil {
		return "", nil, err
	}
	return c.Keep, func() {}, nil
}

// firstGood asks at one village after another until the verdict is to go, so that the demo
// shows a whole page; the last village's otherwise.
func firstGood(ctx context.Context, present *live, villages []geo.Village) (advice advisor.Advice, err error) {
	for _, v := range villages {
		advice, err = present.Advise(ctx, advisor.Question{At: v.Position.Pos, Village: v.Name, Seed: 1})
		if err != nil || advice.Verdict.Code == advisor.Go {
			break
		}
	}
	return advice, err
}

// fillDemo writes the offices' files and mappings of an invented region and imports them,
// as a user would.
func (a *app) fillDemo(land *demoland.Land, dir string) (demoland.Records, error) {
	records := land.Records()
	if err := os.CopyFS(dir, demoland.Mappings()); err != nil {
		return records, err
	}
	for _, file := range land.Tables(records).Files {
		if err := os.WriteFile(filepath.Join(dir, file.Name), file.Data, 0o644); err != nil {
			return records, err
		}
	}
	mappings, err := fs.Glob(demoland.Mappings(), "*.json")
	if err != nil {
		return records, err
	}
	for _, name := range mappings {
		if err := a.importDemo(name, dir); err != nil {
			return records, err
		}
	}
	if err := a.writeGrid(land); err != nil {
		return records, err
	}
	return records, a.saveOffice(land, records)
}

func (a *app) importDemo(mapping, dir string) error {
	m, err := readMapping(filepath.Join(dir, mapping))
	if err != nil {
		return err
	}
	from, err := a.mapped(m, os.DirFS(dir))
	if err != nil {
		return err
	}
	result, err := a.bringIn(from, bringing{})
	if err != nil {
		return err
	}
	a.complain(geo.Say("demo.imported", geo.With("file", geo.Text(m.Name)), geo.With("total", geo.Count(result.Read.Rows)),
		geo.With("n", geo.Count(result.Read.Applied-result.Lost)), geo.With("listed", geo.Count(result.Read.Rejected+result.Lost))))
	return nil
}

// saveOffice saves what the regional office adds to the files: outline, districts and
// rivers, what the bores cost by its books and what its laboratory found in their water.
func (a *app) saveOffice(land *demoland.Land, records demoland.Records) error {
	base, err := a.open()
	if err != nil {
		return err
	}
	defer base.Close()
	why := store.Why{Who: "demo", Reason: "demo"}
	for _, b := range append(land.Districts(), records.Boundary) {
		if err := base.SaveBoundary(a.ctx, b, why); err != nil {
			return err
		}
	}
	for _, river := range records.Rivers {
		if err := base.SaveRiver(a.ctx, river, why); err != nil {
			return err
		}
	}
	return a.saveBooks(base, land.Costs(records.Bores), records.Bores, why)
}

func (a *app) saveBooks(base *store.Base, costs map[string]geo.Money, known []geo.Bore, why store.Why) error {
	samples := map[string][]geo.Sample{}
	for _, b := range known {
		samples[b.Code] = b.Samples
	}
	var told []geo.Bore
	err := base.Bores(a.ctx, func(b geo.Bore) error {
		money, priced := costs[b.Code]
		if priced {
			b.Cost = geo.Some(money)
		}
		if b.Samples = samples[b.Code]; priced || len(b.Samples) > 0 {
			told = append(told, b)
		}
		return nil
	})
	for _, b := range told {
		if err == nil {
			err = base.SaveBore(a.ctx, b, why)
		}
	}
	return err
}
