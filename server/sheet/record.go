package sheet

import (
	"time"

	"waterstrike/geo"
	"waterstrike/ui/draw"
	"waterstrike/ui/say"
)

// BoreFile is all that is kept of one bore: the record, what is doubtful about it, and
// everything that was ever done to it. It is the JSON form of the record; its fields stand
// in record.md.
type BoreFile struct {
	Bore    geo.Bore    `json:"bore"`
	Seq     int64       `json:"seq"`              // of its last change: what a correction is sent with
	Hidden  bool        `json:"hidden,omitempty"` // out of sight: only id and history are left
	Review  []geo.Issue `json:"review"`           // as built, by the rules that wells are designed by
	Checks  []geo.Issue `json:"checks"`           // what looks wrong in the record by itself
	Issues  []geo.Issue `json:"issues"`           // found when it was imported
	History []Deed      `json:"history"`          // the first change first
}

// Deed is something that was done to a record.
type Deed struct {
	Seq     int64         `json:"seq"`
	At      time.Time     `json:"at"`
	Who     string        `json:"who,omitempty"`
	Why     string        `json:"why,omitempty"`
	Batch   string        `json:"batch,omitempty"` // the import it was part of
	Outside bool          `json:"outside"`         // by another program; nobody knows who
	Undone  bool          `json:"undone"`          // no longer stands, or undid something
	Did     string        `json:"did"`             // add, change or hide
	Told    []geo.Message `json:"told,omitempty"`  // each value that it changed, former and new
}

// Record is the page of one bore in one language.
type Record struct {
	Lang     string // BCP 47
	Title    string
	Outcome  string
	Code     string // of the outcome
	Facts    Table
	Wide     Drawing // the log, for a screen of a desk and for paper
	Narrow   Drawing // the same for a phone
	Remarks  string
	Layers   Table
	Built    Table
	Water    Table
	Tests    Table
	Samples  Table
	Review   Table
	Doubts   Table
	Source   Table
	History  []HistoryLine
	HistoryH string // heading of the history
}

// HistoryLine is one entry of the history.
type HistoryLine struct {
	Seq    int64
	When   string
	Who    string // before what they did
	Did    string
	Why    string
	Values []string // each value that was changed
	Over   bool     // no longer stands
	May    bool     // can be taken back: nothing that stands came after it
}

// NewRecord says a bore's file in a language and draws its log; now sets the zone that
// times are told in.
func NewRecord(c *say.Catalogue, l say.Lang, f BoreFile, zone *time.Location) (Record, error) {
	s := speaker{c, l}
	b := f.Bore
	r := Record{
		Lang: l.String(), Title: s.Say("bore.title", say.With("bore", say.Text(b.Label()))), HistoryH: s.Say("record.history"),
		History: s.deeds(f.History, zone),
	}
	if f.Hidden {
		return r, nil
	}
	r.Outcome, r.Code = s.Say("outcome."+string(b.Outcome)), string(b.Outcome)
	r.Facts, r.Remarks = s.boreFacts(b), b.Remarks
	r.Layers, r.Built, r.Water, r.Tests, r.Samples = s.boreLayers(b), s.boreBuilt(b), s.boreWater(b), s.boreTests(b), s.boreSamples(b)
	r.Review, r.Doubts, r.Source = s.review(f.Review), s.doubts(f), s.origin(b)
	for _, d := range []struct {
		id   string
		to   *Drawing
		wide bool
	}{{"log-", &r.Wide, true}, {"phone-", &r.Narrow, false}} {
		scene, err := s.log(b, d.id, d.wide)
		if err != nil {
			return Record{}, geo.Fail(geo.Internal, "sheet.NewRecord", geo.Message{}, err)
		}
		if scene.Items == nil {
			break
		}
		if *d.to, err = inline(s.Say("record.drawing"), scene); err != nil {
			return Record{}, geo.Fail(geo.Internal, "sheet.NewRecord", geo.Message{}, err)
		}
	}
	return r, nil
}

// log draws what has a depth; a scene without items where nothing has.
func (s speaker) log(b geo.Bore, id string, wide bool) (draw.Scene, error) {
	title := s.Say("drawing.bore-title", say.With("bore", say.Text(b.Label())))
	d := s.logData(b)
	o := draw.LogOptions{
		WidthMM: 92, HeightMM: 150, ID: id, Title: title, Desc: s.Say("record.drawing.meaning"), DepthLabel: s.Say("drawing.depth-axis"),
		Notes: wide, Words: s.logWords(), Number: s.tick,
	}
	if wide {
		o.WidthMM, o.HeightMM = 176, 128
	}
	if len(d.Layers)+len(d.Pipes)+len(d.Fills)+len(d.Paces) == 0 && d.DepthM == 0 {
		return draw.Scene{}, nil
	}
	return draw.Log(d, o)
}

// logData leaves out what cannot be drawn: the tables say it all.
func (s speaker) logData(b geo.Bore) draw.LogData {
	d := draw.LogData{DepthM: b.DepthM.Or(0)}
	for _, l := range b.Layers {
		note := l.Words
		if note == "" {
			note = s.class(l.Class)
		}
		d.Layers = append(d.Layers, draw.ColumnLayer{TopM: l.TopM, BaseM: l.BaseM, Note: cut(note, 60), Odds: []draw.Odds{{Class: lookOf(l.Class, l.Grade), Share: 1}}})
		if m, ok := l.MinutesPerM.Get(); ok {
			d.Paces = append(d.Paces, draw.LogPace{TopM: l.TopM, BaseM: l.BaseM, MinutesPerM: m})
		}
	}
	for _, p := range b.Pipes {
		d.Pipes = append(d.Pipes, draw.LogPart{Kind: string(p.Kind), TopM: p.TopM, BaseM: p.BaseM})
	}
	for _, f := range b.Fills {
		d.Fills = append(d.Fills, draw.LogPart{Kind: string(f.Kind), TopM: f.TopM, BaseM: f.BaseM})
	}
	for _, k := range b.Strikes {
		d.Marks = append(d.Marks, draw.LogMark{Kind: "strike", DepthM: k.DepthM, Note: s.metres(k.DepthM)})
	}
	for _, l := range b.Levels {
		d.Marks = append(d.Marks, s.mark(l))
	}
	for _, t := range b.Tests {
		rest, known := t.RestM.Get()
		lowest, read := t.PumpingM.Get()
		if known && read && len(d.Tests) < testsDrawn {
			d.Tests = append(d.Tests, draw.LogTest{RestM: rest, LowestM: lowest, Note: s.rate(t)})
		}
	}
	return d
}

// testsDrawn is how many tests have room beside each other.
const testsDrawn = 3

func (s speaker) mark(l geo.Level) draw.LogMark {
	m := draw.LogMark{Kind: string(l.State), DepthM: l.DepthM.Or(0)}
	if m.Note = s.level(l); l.State == geo.LevelFlowing {
		m.Note = ""
	}
	if d, ok := l.On.Get(); ok {
		if m.Note != "" {
			m.Note += ", "
		}
		m.Note += s.date(d)
	}
	return m
}

// logWords names everything in the drawing of a log.
func (s speaker) logWords() map[string]string {
	words := s.drawingWords()
	for _, lane := range []string{"layers", "build", "water", "pace", "tests"} {
		words["lane."+lane] = s.Say("record.lane." + lane)
	}
	for _, kind := range []geo.PipeKind{geo.Casing, geo.Screen, geo.Plug} {
		words["pipe."+string(kind)] = s.Say("pipe." + string(kind))
	}
	for _, kind := range []geo.FillKind{geo.Pack, geo.ClaySeal, geo.Grout, geo.Backfill} {
		words["fill."+string(kind)] = s.Say("fill." + string(kind))
	}
	for _, kind := range []string{"rest", "flowing", "dry-to", "strike"} {
		words["mark."+kind] = s.Say("record.mark." + kind)
	}
	words["missing"] = s.Say("bore.not-written")
	return words
}

// cut keeps a text to so many letters.
func cut(words string, most int) string {
	if letters := []rune(words); len(letters) > most {
		return string(letters[:most-1]) + "…"
	}
	return words
}
