package server

import (
	"strconv"
	"strings"

	"waterstrike/advisor/hydraulics"
	"waterstrike/geo"
	"waterstrike/geo/soil"
)

// boreCells are what the form of a finished bore asks of the hole as a whole, by part of
// the form.
func boreCells(methods []geo.Method) map[string][]cell[geo.Bore] {
	return map[string][]cell[geo.Bore]{
		"where": {
			words("code", "text", func(b *geo.Bore) *string { return &b.Code }),
			words("name", "text", func(b *geo.Bore) *string { return &b.Name }),
			words("place", "text", func(b *geo.Bore) *string { return &b.Place }),
		},
		"how": {
			openChoice("method", "method.", methods, geo.MethodUnknown, func(b *geo.Bore) *geo.Method { return &b.Method }),
			maybeDate("started", func(b *geo.Bore) *geo.Opt[geo.Date] { return &b.Started }),
			maybeDate("completed", func(b *geo.Bore) *geo.Opt[geo.Date] { return &b.Completed }),
			words("driller", "text", func(b *geo.Bore) *string { return &b.Driller }),
		},
		"outcome": {
			openChoice("outcome", "outcome.", geo.Outcomes(), geo.OutcomeUnknown, func(b *geo.Bore) *geo.Outcome { return &b.Outcome }),
			maybeNumber("depth", "metres", func(b *geo.Bore) *geo.Opt[float64] { return &b.DepthM }),
			maybeNumber("refusal", "metres", func(b *geo.Bore) *geo.Opt[float64] { return &b.RefusalM }),
			maybeNumber("yield", "number", func(b *geo.Bore) *geo.Opt[float64] { return &b.YieldLPS }),
			words("remarks", "long", func(b *geo.Bore) *string { return &b.Remarks }),
		},
		"said": {
			words("by", "text", func(b *geo.Bore) *string { return &b.Source.By }),
		},
	}
}

// boreRows are the lists of the form, by part of it.
func boreRows() map[string][]rows[geo.Bore] {
	return map[string][]rows[geo.Bore]{
		"layers": {layerRows()},
		"water": {
			rowsOf[geo.Bore, geo.Strike]{name: "strike", blanks: 1, at: func(b *geo.Bore) *[]geo.Strike { return &b.Strikes }, cells: []cell[geo.Strike]{
				mustNumber("depth", "metres", func(k *geo.Strike) *float64 { return &k.DepthM }),
			}},
			rowsOf[geo.Bore, geo.Level]{name: "level", blanks: 1, at: func(b *geo.Bore) *[]geo.Level { return &b.Levels }, cells: []cell[geo.Level]{
				choice("state", "level-state.", []geo.LevelState{geo.LevelRest, geo.LevelDryTo, geo.LevelFlowing}, func(l *geo.Level) *geo.LevelState { return &l.State }),
				maybeNumber("depth", "metres", func(l *geo.Level) *geo.Opt[float64] { return &l.DepthM }),
				maybeDate("on", func(l *geo.Level) *geo.Opt[geo.Date] { return &l.On }),
			}},
		},
		"lining": {
			rowsOf[geo.Bore, geo.Pipe]{name: "pipe", at: func(b *geo.Bore) *[]geo.Pipe { return &b.Pipes }, cells: []cell[geo.Pipe]{
				neededChoice("kind", "pipe.", []geo.PipeKind{geo.Casing, geo.Screen, geo.Plug}, func(v *geo.Pipe) *geo.PipeKind { return &v.Kind }),
				mustNumber("top", "metres", func(v *geo.Pipe) *float64 { return &v.TopM }),
				mustNumber("base", "metres", func(v *geo.Pipe) *float64 { return &v.BaseM }),
				maybeNumber("diameter", "number", func(v *geo.Pipe) *geo.Opt[float64] { return &v.DiameterMM }),
				maybeNumber("slot", "number", func(v *geo.Pipe) *geo.Opt[float64] { return &v.SlotMM }),
			}},
			rowsOf[geo.Bore, geo.Fill]{name: "fill", at: func(b *geo.Bore) *[]geo.Fill { return &b.Fills }, cells: []cell[geo.Fill]{
				neededChoice("kind", "fill.", []geo.FillKind{geo.Grout, geo.ClaySeal, geo.Backfill, geo.Pack}, func(v *geo.Fill) *geo.FillKind { return &v.Kind }),
				mustNumber("top", "metres", func(v *geo.Fill) *float64 { return &v.TopM }),
				mustNumber("base", "metres", func(v *geo.Fill) *float64 { return &v.BaseM }),
			}},
		},
		"test":    {testRows()},
		"samples": {sampleRows()},
	}
}

// layerRows asks layer by layer: a new one begins where the one before it ends.
func layerRows() rows[geo.Bore] {
	classes := []string{""}
	for _, c := range soil.Known() {
		classes = append(classes, c.String())
	}
	return rowsOf[geo.Bore, geo.Layer]{
		name: "layer", blanks: 3, at: func(b *geo.Bore) *[]geo.Layer { return &b.Layers },
		begin: func(l *geo.Layer, before []geo.Layer) {
			l.Confidence = 1
			if n := len(before); n > 0 {
				l.TopM = before[n-1].BaseM
			}
		},
		cells: []cell[geo.Layer]{
			{
				name: "top", kind: "metres",
				get: func(l *geo.Layer) string { return writtenNumber(geo.Some(l.TopM)) },
				set: func(l *geo.Layer, text string) geo.Code {
					v, wrong := readNumber(text)
					l.TopM = v.Or(l.TopM)
					return wrong
				},
			},
			mustNumber("base", "metres", func(l *geo.Layer) *float64 { return &l.BaseM }),
			{
				name: "class", kind: "choice", words: "class.", choices: classes,
				get: func(l *geo.Layer) string {
					if l.Class == soil.Unknown {
						return ""
					}
					return l.Class.String()
				},
				set: func(l *geo.Layer, text string) geo.Code {
					if l.Class = soil.Unknown; text == "" {
						return ""
					}
					c, err := soil.ParseClass(text)
					if l.Class = c; err != nil {
						return faultChoice
					}
					return ""
				},
			},
			{
				name: "grade", kind: "choice", words: "entry.grade.", choices: []string{"", "fine", "medium", "coarse"},
				get: func(l *geo.Layer) string { return l.Grade.String() },
				set: func(l *geo.Layer, text string) geo.Code {
					g, err := soil.ParseGrade(text)
					if l.Grade = g; err != nil {
						return faultChoice
					}
					return ""
				},
			},
			tick("clayey", func(l *geo.Layer) *bool { return &l.Clayey }),
			words("colour", "text", func(l *geo.Layer) *string { return &l.Colour }),
			words("hardness", "text", func(l *geo.Layer) *string { return &l.Hardness }),
			maybeNumber("minutes", "number", func(l *geo.Layer) *geo.Opt[float64] { return &l.MinutesPerM }),
			words("words", "text", func(l *geo.Layer) *string { return &l.Words }),
		},
	}
}

// testRows asks for a test by bucket, or for its rate and hours where these are known.
func testRows() rows[geo.Bore] {
	counted := func(name string) cell[geo.PumpTest] { // makes the rate; the record keeps that
		return cell[geo.PumpTest]{
			name: name, kind: "number", get: func(*geo.PumpTest) string { return "" },
			set: func(_ *geo.PumpTest, text string) geo.Code { _, wrong := readNumber(text); return wrong },
		}
	}
	return rowsOf[geo.Bore, geo.PumpTest]{
		name: "test", at: func(b *geo.Bore) *[]geo.PumpTest { return &b.Tests }, follow: byBucket,
		cells: []cell[geo.PumpTest]{
			choice("kind", "test.", []geo.TestKind{geo.ConstantRate, geo.BailerTest, geo.StepTest, geo.Recovery}, func(t *geo.PumpTest) *geo.TestKind { return &t.Kind }),
			maybeDate("on", func(t *geo.PumpTest) *geo.Opt[geo.Date] { return &t.On }),
			maybeNumber("rest", "metres", func(t *geo.PumpTest) *geo.Opt[float64] { return &t.RestM }),
			maybeNumber("lowest", "metres", func(t *geo.PumpTest) *geo.Opt[float64] { return &t.PumpingM }),
			counted("buckets"), counted("litres"), counted("minutes"),
			maybeNumber("rate", "number", func(t *geo.PumpTest) *geo.Opt[float64] { return &t.RateLPS }),
			maybeNumber("hours", "number", func(t *geo.PumpTest) *geo.Opt[float64] { return &t.Hours }),
			maybeNumber("bailed", "number", func(t *geo.PumpTest) *geo.Opt[float64] { return &t.BailL }),
			maybeNumber("half", "number", func(t *geo.PumpTest) *geo.Opt[float64] { return &t.HalfMin }),
			words("remarks", "text", func(t *geo.PumpTest) *string { return &t.Remarks }),
		},
	}
}

// byBucket works out rate and hours from buckets; some of the three numbers are not enough.
func byBucket(t *geo.PumpTest, get func(string) string) geo.Code {
	var n [3]float64
	written := 0
	for i, name := range []string{"buckets", "litres", "minutes"} {
		v, _ := readNumber(get(name)) // read before
		n[i] = v.Or(0)
		if v.Known() {
			written++
		}
	}
	if written == 0 {
		return ""
	}
	d, err := hydraulics.BucketCount(n[0], n[1], n[2])
	if err != nil || written < len(n) {
		return "entry.fault.buckets"
	}
	const digits = 4 // a bucket is read to far fewer
	lps, _ := strconv.ParseFloat(strconv.FormatFloat(d.LPS, 'g', digits, 64), 64)
	t.RateLPS, t.Hours = geo.Some(lps), geo.Some(n[2]/60)
	return ""
}

func sampleRows() rows[geo.Bore] {
	var codes []string
	for _, a := range geo.Analytes() {
		codes = append(codes, a.Code)
	}
	return rowsOf[geo.Bore, geo.Sample]{
		name: "sample", at: func(b *geo.Bore) *[]geo.Sample { return &b.Samples }, follow: measured,
		cells: []cell[geo.Sample]{
			neededChoice("analyte", "analyte.", codes, func(v *geo.Sample) *string { return &v.Analyte }),
			{
				name: "value", kind: "text",
				get: func(v *geo.Sample) string {
					if below := writtenNumber(v.DetectionLimit); !v.Value.Known() && below != "" {
						return "<" + below
					}
					return writtenNumber(v.Value)
				},
				set: func(v *geo.Sample, text string) geo.Code {
					limit, below := strings.CutPrefix(text, "<")
					n, wrong := readNumber(strings.TrimSpace(limit))
					var none geo.Opt[float64]
					if v.Value, v.DetectionLimit = n, none; below {
						v.Value, v.DetectionLimit = none, n
					}
					return wrong
				},
			},
			words("unit", "text", func(v *geo.Sample) *string { return &v.Unit }),
			maybeDate("on", func(v *geo.Sample) *geo.Opt[geo.Date] { return &v.On }),
			words("laboratory", "text", func(v *geo.Sample) *string { return &v.Laboratory }),
			words("waivedBy", "text", func(v *geo.Sample) *string { return &v.WaivedBy }),
			words("reason", "text", func(v *geo.Sample) *string { return &v.Reason }),
		},
	}
}

// measured reads the unit of a result; none is that of the guideline value. Without a result
// somebody has to answer for doing without it.
func measured(v *geo.Sample, get func(string) string) geo.Code {
	found := v.Value.Known() || v.DetectionLimit.Known()
	switch {
	case found && (v.Waived() || v.Reason != ""):
		return "entry.fault.waived-result"
	case !found && (!v.Waived() || v.Reason == ""):
		return "entry.fault.no-result"
	}
	a, _, ok := geo.FindAnalyte(v.Analyte)
	if !ok {
		return ""
	}
	if get("unit") == "" {
		v.Unit, v.Basis = a.Unit, a.Basis
		return ""
	}
	unit, basis, ok := a.ReadUnit(get("unit"))
	if !ok {
		return faultUnit
	}
	if v.Unit = unit; basis != "" {
		v.Basis = basis
	}
	return ""
}
