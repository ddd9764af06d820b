package welldesign_test

import (
	"strings"
	"testing"
	"testing/fstest"

	"waterstrike/advisor/rule"
	"waterstrike/advisor/welldesign"
	"waterstrike/geo"
	"waterstrike/geo/outside"
	"waterstrike/geo/soil"
)

func folder(name, text string) fstest.MapFS { return fstest.MapFS{name: {Data: []byte(text)}} }

// A wrong file is answered by file, field and value.
func TestWrongRuleFiles(t *testing.T) {
	read := map[string]func(fstest.MapFS) error{
		"well.json":   func(f fstest.MapFS) error { _, err := welldesign.RulesFromFolder(f); return err },
		"pumps.json":  func(f fstest.MapFS) error { _, err := welldesign.PumpsFromFolder(f); return err },
		"prices.json": func(f fstest.MapFS) error { _, err := welldesign.PricesFromFolder(f); return err },
		"papers.json": func(f fstest.MapFS) error { _, err := welldesign.PapersFromFolder(f); return err },
	}
	tests := []struct{ file, name, text, want string }{
		{"well.json", "a seal that is none", `{"seal": {"leastM": 1}}`, "field seal.leastM, value 1, allowed 3"},
		{"well.json", "best under least", `{"seal": {"bestM": 2}}`, "seal.bestM"},
		{"well.json", "a screen of nothing", `{"screen": {"leastM": 0}}`, "screen.leastM"},
		{"well.json", "usual longer than longest", `{"screen": {"usualM": 9}}`, "screen.longestM, value 6, allowed 9"},
		{"well.json", "a slot wider than its spacing", `{"screen": {"slotEveryMM": 1}}`, "screen.slotEveryMM"},
		{"well.json", "more rows than fit around", `{"screen": {"rows": 9}}`, "screen.rowShare"},
		{"well.json", "half a row", `{"screen": {"rows": 2.5}}`, "screen.rows"},
		{"well.json", "chlorine that does nothing", `{"chlorine": {"dose": 1}}`, "chlorine.dose"},
		{"well.json", "more chlorine than powder", `{"chlorine": {"share": 70}}`, "chlorine.share, value 70"},
		{"well.json", "cement loaded before it stands", `{"grout": {"loadH": 10}}`, "grout.loadH"},
		{"well.json", "no such answer", `{"apart": {"latrine": {"chosen": "none"}}}`, "apart.latrine"},
		{"well.json", "pipes out of order", `{"pipe": {"outsideMM": [110, 50]}}`, "pipe.outsideMM, value 50"},
		{"well.json", "no pipe", `{"pipe": {"outsideMM": []}}`, "pipe.outsideMM"},
		{"well.json", "typing error", `{"seal": {"leastm": 4}}`, "seal.leastm"},
		{"well.json", "closed with less than 3 m", `{"after": {"closeTopM": 1}}`, "after.closeTopM"},
		{"pumps.json", "lifts from nowhere", `[{"code": "rope", "liftM": 0}]`, "entry rope, field liftM"},
		{"pumps.json", "a pump without a name", `[{"code": "windmill"}]`, "value windmill"},
		{"pumps.json", "a lift that is no number", `[{"code": "rope", "dischargeLMin": {"deep": [1, 2]}}]`, "dischargeLMin.deep"},
		{"pumps.json", "no list", `{"code": "rope"}`, "not-a-list"},
		{"prices.json", "no currency", `{"items": {"casing": 3}}`, "currency"},
		{"prices.json", "no such thing", `{"currency": "USD", "items": {"caseing": 3}}`, "items.caseing"},
		{"prices.json", "negative", `{"currency": "USD", "items": {"casing-110": -3}}`, "items.casing-110, value -3"},
		{"prices.json", "negative wage", `{"currency": "USD", "personDay": -1}`, "personDay"},
		{"prices.json", "text", `{"currency": "USD", "items": {"casing": "cheap"}}`, "items.casing"},
		{"prices.json", "cut off", `{"currency": "USD"`, "unreadable"},
		{"papers.json", "a line without words", `[{"code": "tax", "when": "before"}]`, "words"},
		{"papers.json", "no such list", `[{"code": "tax", "when": "sometime", "words": "tax paid"}]`, "sometime"},
	}
	for _, tt := range tests {
		t.Run(tt.file+" "+tt.name, func(t *testing.T) {
			err := read[tt.file](folder(tt.file, tt.text))
			if geo.KindOf(err) != geo.Invalid || !strings.Contains(err.Error(), tt.want) || !strings.Contains(err.Error(), "rules/"+tt.file) {
				t.Errorf("error %v, want one that names %q and the file", err, tt.want)
			}
		})
	}
	for file, f := range read {
		if err := f(fstest.MapFS{}); err != nil {
			t.Errorf("%s: an empty folder: %v", file, err)
		}
	}
}

func TestProgrammesRules(t *testing.T) {
	r, err := welldesign.RulesFromFolder(folder("well.json", `{
		"seal": {"leastM": {"value": 6, "source": "national code of 2019", "mark": "published"}, "bestM": 6},
		"apart": {"latrine": {"chosen": "recommended"}},
		"people": {"perPump": 200}}`))
	if err != nil {
		t.Fatal(err)
	}
	if r.Seal.Least.Value != 6 || r.Apart.Latrine.Value().LatrineM != 50 || r.People.PerPump.Value() != 200 || r.Seal.Clay.Value != 0.5 {
		t.Errorf("%+v", r)
	}
	k := kit(t, "percussion")
	k.Rules = &r
	site := welldesign.Site{Layers: column(soil.Clay, 3.0, soil.Coarse, 12.0), Water: water(1, 2, 2.5)}
	w := designed(t, site, k)
	if _, cement, _ := fill(w, geo.Grout); w.Verdict != welldesign.Fits || cement < 6 {
		t.Errorf("%s, cement to %v", w.Verdict, cement)
	}
}

func TestProgrammesPumpsPricesPapers(t *testing.T) {
	pumps, err := welldesign.PumpsFromFolder(folder("pumps.json", `[{"code": "screw", "leftOut": true}, {"code": "rope", "liftM": 25}]`))
	if err != nil || len(pumps) != 4 || pumps[2].LiftM != 25 {
		t.Errorf("%+v, %v", pumps, err)
	}
	prices, err := welldesign.PricesFromFolder(folder("prices.json", `{"currency": "XOF", "personDay": 3000, "items": {"casing-110": {"value": 9000, "source": "market of March 2024", "mark": "published"}}}`))
	if err != nil || prices.Currency != "XOF" || prices.Items["casing-110"] != 9000 || prices.PersonDay.Or(0) != 3000 || prices.Fixed.Known() {
		t.Errorf("%+v, %v", prices, err)
	}
	if prices, err = welldesign.PricesFromFolder(nil); prices != nil || err != nil {
		t.Errorf("no folder: %+v, %v", prices, err)
	}
	papers, err := welldesign.PapersFromFolder(folder("papers.json", `[{"code": "permit.screening", "leftOut": true}, {"code": "tax", "when": "before", "words": "water tax paid"}]`))
	if err != nil {
		t.Fatal(err)
	}
	ours, _ := welldesign.DefaultPapers()
	last := papers[len(papers)-1]
	if len(papers) != len(ours) || last.Message().String() != "papers.own value=water tax paid" || last.Mark != rule.Own {
		t.Errorf("%d papers, last %+v", len(papers), last)
	}
}

// Everything that this room can say has words, and uses no argument that is not given.
func TestEverythingHasWords(t *testing.T) {
	words := outside.Catalogue(t)
	has := func(m geo.Message) {
		t.Helper()
		text, known := words[string(m.Code)]
		if !known {
			t.Errorf("the catalogue has no %s", m.Code)
			return
		}
		rest := text["en"]
		for _, a := range m.Args {
			rest = strings.ReplaceAll(rest, "{"+a.Name+"}", "")
			if ref, ok := a.Value.(geo.Ref); ok && words[string(ref)] == nil {
				t.Errorf("%s: the catalogue has no %s", m.Code, ref)
			}
		}
		if strings.Contains(rest, "{") {
			t.Errorf("%s asks for what it is not given: %s", m.Code, rest)
		}
	}
	code := func(c string) { t.Helper(); has(geo.Message{Code: geo.Code(c)}) }
	all := func(list []geo.Message) {
		t.Helper()
		for _, m := range list {
			has(m)
		}
	}
	for _, item := range welldesign.Items() {
		code("item." + string(item))
		code("unit." + string(item.Unit()))
	}
	for _, pump := range welldesign.PumpCodes() {
		code("pump." + pump)
	}
	pumps, err := welldesign.DefaultPumps()
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range pumps {
		for _, told := range p.Told {
			has(told.Message("pump"))
		}
	}
	for _, told := range rules(t).Told() {
		has(told.Message("well"))
		for _, a := range told.Answers {
			if a.Plain {
				code("answer." + strings.Join(told.Path, ".") + "." + a.Code)
			}
		}
	}
	papers, err := welldesign.DefaultPapers()
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range papers {
		has(p.Message())
	}
	for _, kind := range []string{"part.casing", "part.screen", "part.plug", "part.pack", "part.clay", "part.grout", "part.backfill", "filter.natural", "risk.significant", "risk.low", "risk.very-low"} {
		if words[kind] == nil {
			t.Errorf("the catalogue has no %s", kind)
		}
	}
	for _, method := range methods {
		k := kit(t, method)
		for _, site := range demoSites(t) {
			w := designed(t, site, k)
			code(string(w.Verdict))
			all(w.Why)
			all(w.Notes)
			all(k.Rules.Disinfection(w, k.Method))
			all(welldesign.Development(w, k.Rules))
			all(welldesign.Cautions(k.Method, w, k.Rules))
			all(welldesign.WorkingRules(k.Method, w, k.Rules))
			for _, c := range welldesign.Kitbag(k.Method, w) {
				code(string(c))
			}
			if w.Verdict != welldesign.Fits {
				continue
			}
			p := welldesign.Protect(site, w, geo.Opt[float64]{}, k)
			all(p.Notes)
			for _, d := range welldesign.Distances(p, k.Rules) {
				code(string(d.From))
			}
			for _, s := range welldesign.Timetable(welldesign.Hours(w, k, 0), k.Rules) {
				code(string(s.Code))
			}
		}
	}
	c, err := welldesign.Close(valley(), 9, 150, rules(t))
	if err != nil {
		t.Fatal(err)
	}
	all(c.Steps)
	for _, part := range welldesign.ReturnOf(geo.Bore{}, rules(t)).Absent {
		code(string(part))
	}
}
