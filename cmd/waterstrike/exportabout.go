package main

import (
	"os"
	"path/filepath"
	"strconv"

	"waterstrike/geo"
	"waterstrike/geo/publish"
	"waterstrike/geo/store"
	"waterstrike/ui/draw"
	"waterstrike/ui/say"

	"github.com/paulmach/orb"
)

// code says a code without arguments.
func (a *app) code(c geo.Code) string { return a.words.Say(a.lang, say.Msg(string(c))) }

// dataset describes an export: what it is, of which state and region, and its files.
func (a *app) dataset(base *store.Base, folder string, files []publish.File, kind string) ([]byte, error) {
	seq, err := base.Seq(a.ctx)
	if err != nil {
		return nil, err
	}
	d := publish.Dataset{
		ID: "dataset.jsonld#records", Title: a.code("export.title"), Description: a.code("export.description"),
		Language: a.lang.String(), Version: strconv.FormatInt(seq, 10),
	}
	if d.Extent, err = a.extent(base); err != nil {
		return nil, err
	}
	for _, f := range files {
		info, err := os.Stat(filepath.Join(folder, f.Name))
		if err != nil {
			return nil, err
		}
		d.Distributions = append(d.Distributions, publish.Distribution{File: f.Name, Title: f.Name, MediaType: kind, Bytes: info.Size()})
	}
	return publish.DCAT(d)
}

// extent is the box of the bores; the zero one where none has a position.
func (a *app) extent(base *store.Base) (box orb.Bound, err error) {
	there := false
	err = base.Bores(a.ctx, func(b geo.Bore) error {
		at, known := b.Position.Get()
		switch {
		case !known:
		case !there:
			box, there = at.Pos.Point().Bound(), true
		default:
			box = box.Extend(at.Pos.Point())
		}
		return nil
	})
	return box, err
}

// writePackage writes a copy for others, with what it is and our signs for its layers.
func (a *app) writePackage(base *store.Base, path string) error {
	text, err := a.dataset(base, "", nil, "")
	if err != nil {
		return err
	}
	about := store.About{Standard: publish.DCATStandard, MIME: publish.DCATType, Text: string(text)}
	if about.Styles, err = a.styles(); err != nil {
		return err
	}
	return base.Share(a.ctx, path, about)
}

// writeStyle writes our signs of bores beside the layers of a folder.
func (a *app) writeStyle(folder string) error {
	text, err := draw.Style("bores", "outcome", a.outcomes())
	if err != nil {
		return err
	}
	return a.placeBytes(filepath.Join(folder, "bores.sld"), text)
}

// outcomes are the classes that bores fall into.
func (a *app) outcomes() (out []draw.StyleClass) {
	for _, o := range geo.Outcomes() {
		out = append(out, draw.StyleClass{Key: string(o), Title: a.code(geo.Code("outcome." + o)), Value: string(o)})
	}
	return out
}

// styles are how a GIS shows bores and water points as our maps do.
func (a *app) styles() ([]store.Style, error) {
	points := []draw.StyleClass{
		{Key: draw.PointWorks, Title: a.code("export.works"), Value: "1"},
		{Key: draw.PointBroken, Title: a.code("export.broken"), Value: "0"},
		{Key: draw.PointUnknown, Title: a.code("outcome.unknown"), Missing: true},
	}
	var out []store.Style
	for _, layer := range []struct {
		table, property, title string
		classes                []draw.StyleClass
	}{{"bore", "outcome", "export.style-bores", a.outcomes()}, {"water_point", "works", "export.style-points", points}} {
		text, err := draw.Style(layer.table, layer.property, layer.classes)
		if err != nil {
			return nil, err
		}
		out = append(out, store.Style{Table: layer.table, Name: a.code(geo.Code(layer.title)), Text: string(text)})
	}
	return out, nil
}
