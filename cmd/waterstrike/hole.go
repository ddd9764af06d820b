package main

import (
	"encoding/json"
	"fmt"
	"io"
	"os"
	"strconv"
	"strings"
	"time"

	"waterstrike/advisor"
	"waterstrike/advisor/livehole"
	"waterstrike/geo"
	"waterstrike/geo/soil"
	"waterstrike/server/sheet"
)

// packCmd writes what the records say of one site into a file that is taken along.
type packCmd struct {
	To      string   `arg:"" optional:"" type:"path" help:"${flag_to}"`
	At      []string `arg:"" optional:"" help:"${flag_at}"`
	Village string   `placeholder:"${takes_village}" help:"${flag_village}"`
	Seed    uint64   `default:"1" help:"${flag_seed}"`
	Schema  bool     `help:"${flag_schema}"`
}

// Run makes the pack and puts it in place.
func (c *packCmd) Run(a *app) error {
	if c.Schema {
		_, err := fmt.Fprint(a.out, livehole.Fields())
		return err
	}
	if c.To == "" {
		return geo.Fail(geo.Invalid, "pack", geo.Say("hole.no-file"), nil)
	}
	if err := a.free(c.To, ""); err != nil {
		return err
	}
	base, err := a.openToRead()
	if err != nil {
		return err
	}
	defer base.Close()
	ask := adviseCmd{At: c.At, Village: c.Village, Seed: c.Seed}
	question, err := ask.question(a.ctx, base)
	if err != nil {
		return err
	}
	snapshot, done, err := a.evidence(base)
	if err != nil {
		return err
	}
	defer done()
	adviser, err := a.newAdvisor(snapshot)
	if err != nil {
		return err
	}
	pack, err := packAt(a, adviser, question)
	if err != nil {
		return err
	}
	err = a.place(c.To, func(w io.Writer) error { return json.NewEncoder(w).Encode(pack) })
	if err == nil {
		a.say(geo.Say("hole.packed", geo.With("file", geo.Text(c.To))))
	}
	return err
}

func packAt(a *app, adviser *advisor.Advisor, q advisor.Question) (livehole.Pack, error) {
	maker, err := livehole.NewMaker(a.ctx, adviser)
	if err != nil {
		return livehole.Pack{}, err
	}
	return maker.Make(a.ctx, q)
}

// holeFlags tell what an open hole has shown, as a file or in words.
type holeFlags struct {
	Log     string   `type:"path" placeholder:"${takes_file}" help:"${flag_holelog}"`
	Layer   []string `sep:"none" placeholder:"${takes_layer}" help:"${flag_layer}"`
	Month   int      `placeholder:"${takes_month}" help:"${flag_month}"`
	Strike  *float64 `placeholder:"${takes_metres}" help:"${flag_strike}"`
	Level   *float64 `placeholder:"${takes_metres}" help:"${flag_level}"`
	Refused bool     `help:"${flag_refused}"`
}

// given reports that a hole is under way.
func (f *holeFlags) given() bool { return f.Log != "" || len(f.Layer) > 0 }

// log reads what the hole has shown so far, before the work of an answer.
func (f *holeFlags) log(by geo.Method) (l livehole.Log, err error) {
	if f.Log != "" {
		return readHoleLog(f.Log)
	}
	l = livehole.Log{Schema: livehole.LogSchema, Method: by, Month: f.Month, Refused: f.Refused}
	if f.Month == 0 {
		l.Month = int(time.Now().Month())
	}
	for _, text := range f.Layer {
		layer, err := readLayer(text)
		if err != nil {
			return l, err
		}
		l.Layers = append(l.Layers, layer)
		l.DepthM = max(l.DepthM, layer.BaseM)
	}
	if f.Strike != nil {
		l.StrikeM = geo.Some(*f.Strike)
	}
	if f.Level != nil {
		l.LevelM = geo.Some(*f.Level)
	}
	return l, nil
}

// readHoleLog reads a log, also from within the file that a phone saves.
func readHoleLog(path string) (livehole.Log, error) {
	unreadable := func(err error) error {
		return geo.Fail(geo.Invalid, "advise", geo.Say("hole.log-unreadable", geo.With("file", geo.Text(path)), geo.With("value", geo.Text(err.Error()))), err)
	}
	data, err := os.ReadFile(path)
	if err != nil {
		return livehole.Log{}, unreadable(err)
	}
	var saved struct {
		Log *livehole.Log `json:"log"`
	}
	if err := json.Unmarshal(data, &saved); err != nil {
		return livehole.Log{}, unreadable(err)
	}
	if saved.Log != nil {
		return *saved.Log, nil
	}
	var l livehole.Log
	if err := json.Unmarshal(data, &l); err != nil {
		return l, unreadable(err)
	}
	return l, nil
}

// readLayer reads a layer such as "0-1.5 clay 40": top and base in metres, class, minutes
// per metre where known.
func readLayer(text string) (l livehole.Layer, err error) {
	wrong := geo.Fail(geo.Invalid, "advise", geo.Say("hole.layer-unreadable", geo.With("value", geo.Text(text))), nil)
	words := strings.Fields(text)
	if len(words) < 2 || len(words) > 3 {
		return l, wrong
	}
	top, base, ok := strings.Cut(words[0], "-")
	if !ok {
		return l, wrong
	}
	for _, n := range []struct {
		text string
		to   *float64
	}{{top, &l.TopM}, {base, &l.BaseM}} {
		if *n.to, err = strconv.ParseFloat(n.text, 64); err != nil {
			return l, wrong
		}
	}
	if l.Class, err = soil.ParseClass(words[1]); err != nil {
		return l, wrong
	}
	if len(words) == 3 {
		minutes, err := strconv.ParseFloat(words[2], 64)
		if err != nil {
			return l, wrong
		}
		l.MinutesPerM = geo.Some(minutes)
	}
	return l, nil
}

// besideHole answers for a hole under way, after the advice as JSON or alone as text.
func (c *adviseCmd) besideHole(a *app, adviser *advisor.Advisor, q advisor.Question, log livehole.Log) error {
	q.Method = "" // a hole may go on by another
	pack, err := packAt(a, adviser, q)
	if err != nil {
		return err
	}
	if log.Method == "" && c.Log == "" { // none was named: the best one
		log.Method = pack.Methods[0].Code
	}
	answer, err := pack.Answer(log)
	if err != nil {
		return err
	}
	if !c.JSON {
		_, err := fmt.Fprint(a.out, sheet.NewHole(a.words, a.lang, pack, log, answer).Text())
		return err
	}
	advice, err := adviser.Advise(a.ctx, q)
	if err != nil {
		return err
	}
	data, err := sheet.JSONAtHole(advice, answer)
	if err != nil {
		return err
	}
	_, err = a.out.Write(data)
	return err
}
