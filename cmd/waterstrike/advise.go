package main

import (
	"context"
	"fmt"
	"io"
	"strings"

	"waterstrike/advisor"
	"waterstrike/advisor/evidence"
	"waterstrike/advisor/livehole"
	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/store"
	"waterstrike/server/sheet"
)

// adviseCmd answers what is likely underground at a point.
type adviseCmd struct {
	At       []string `arg:"" optional:"" help:"${flag_at}"`
	Village  string   `placeholder:"${takes_village}" help:"${flag_village}"`
	Method   string   `placeholder:"${takes_method}" help:"${flag_method}"`
	Building bool     `help:"${flag_building}"`
	PDF      string   `name:"pdf" type:"path" placeholder:"${takes_file}" help:"${flag_sheet_pdf}"`
	Seed     uint64   `default:"1" help:"${flag_seed}"`
	JSON     bool     `help:"${flag_json}"`
	Schema   bool     `help:"${flag_schema}"`
	holeFlags
}

// Run answers the question.
func (c *adviseCmd) Run(a *app) error {
	if c.Schema {
		fmt.Fprint(a.out, sheet.Fields())
		return nil
	}
	if err := a.free(c.PDF, ""); err != nil {
		return err
	}
	hole, err := c.log(geo.Method(c.Method))
	if err != nil {
		return err
	}
	base, err := a.openToRead()
	if err != nil {
		return err
	}
	defer base.Close()
	question, err := c.question(a.ctx, base)
	if err != nil {
		return err
	}
	snapshot, done, err := a.evidence(base)
	if err != nil {
		return err
	}
	defer done()
	return c.answer(a, snapshot, question, hole)
}

// question reads where the question is asked.
func (c *adviseCmd) question(ctx context.Context, base *store.Base) (advisor.Question, error) {
	q := advisor.Question{Method: geo.Method(c.Method), Seed: c.Seed}
	switch {
	case c.Village != "" && len(c.At) > 0:
		return q, geo.Fail(geo.Invalid, "advise", geo.Say("command.village-and-position"), nil)
	case c.Village == "" && len(c.At) == 0:
		return q, geo.Fail(geo.Invalid, "advise", geo.Say("command.nowhere"), nil)
	case c.Village != "":
		v, err := villageNamed(ctx, base, c.Village)
		q.At, q.Village = v.Position.Pos, v.Name
		return q, err
	}
	text := strings.Join(c.At, " ")
	reading, err := coord.ReadPair(text, coord.LatLonOrder)
	if v, named := villageNamed(ctx, base, text); err != nil && named == nil {
		q.At, q.Village = v.Position.Pos, v.Name
		return q, nil
	}
	if err != nil {
		return q, geo.Misread("advise", text, err)
	}
	q.At = reading.Pos
	return q, nil
}

// villageNamed returns the one village with that name.
func villageNamed(ctx context.Context, base *store.Base, name string) (geo.Village, error) {
	found, err := base.VillagesNamed(ctx, name)
	switch {
	case err != nil:
		return geo.Village{}, err
	case len(found) == 0:
		return geo.Village{}, geo.Fail(geo.NotFound, "advise", geo.Say("command.unknown-village", geo.With("value", geo.Text(name))), nil)
	case len(found) > 1:
		var at []string
		for _, v := range found {
			at = append(at, fmt.Sprintf("%.5f %.5f", v.Position.Pos.Lat, v.Position.Pos.Lon))
		}
		return geo.Village{}, geo.Fail(geo.Conflict, "advise", geo.Say("command.several-villages",
			geo.With("n", geo.Count(len(found))), geo.With("value", geo.Text(name)), geo.With("listed-text", geo.Text(strings.Join(at, "; ")))), nil)
	}
	return found[0], nil
}

// answer fits, advises and prints, beside a hole where one is under way.
func (c *adviseCmd) answer(a *app, snapshot *evidence.Snapshot, q advisor.Question, hole livehole.Log) error {
	adviser, err := a.newAdvisor(snapshot)
	if err != nil {
		return err
	}
	if c.given() {
		return c.besideHole(a, adviser, q, hole)
	}
	advice, err := adviser.Advise(a.ctx, q)
	if err != nil {
		return err
	}
	if c.PDF != "" {
		if err := a.accountPage(c.PDF, func(w io.Writer) error { return c.paper(w, a, advice) }); err != nil {
			return err
		}
	}
	if c.Building && !c.JSON {
		_, err := fmt.Fprint(a.out, sheet.NewBuilding(a.words, a.lang, advice).Text())
		return err
	}
	return a.show(advice, c.JSON)
}

// paper writes the advice on one sheet, or what goes with its plan.
func (c *adviseCmd) paper(w io.Writer, a *app, advice advisor.Advice) error {
	if c.Building {
		return sheet.BuildingPDF(w, a.words, a.lang, advice)
	}
	doc := sheet.NewAdvicePDF(a.words, a.lang)
	if err := doc.Add(strings.Join(append([]string{c.Village}, c.At...), " "), advice); err != nil {
		return err
	}
	return doc.Write(w)
}

// show prints an advice as a page or as JSON.
func (a *app) show(advice advisor.Advice, asJSON bool) error {
	if asJSON {
		data, err := sheet.JSON(advice)
		if err != nil {
			return err
		}
		_, err = a.out.Write(data)
		return err
	}
	_, err := fmt.Fprint(a.out, sheet.Text(a.words, a.lang, advice))
	return err
}
