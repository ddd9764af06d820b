package server_test

import (
	"net/http"
	"strings"
	"testing"
)

// scenario is one request with what its answer must and must not hold.
type scenario struct {
	name    string
	method  string // GET when empty
	target  string
	headers []string
	status  int
	holds   []string
	lacks   []string
}

var html = []string{"Accept", "text/html,application/xhtml+xml"}

func TestPage(t *testing.T) {
	runAll(t, []scenario{
		{
			name: "first page", target: "/", headers: html, status: 200,
			holds: []string{`<html lang="en">`, "Where do you want to drill?", `name="at"`, `name="village"`, `<option value="Belle">`, `type="image"`, "2 bores known"},
			lacks: []string{`class="answer"`, "⟨"},
		},
		{name: "language by query", target: "/?lang=fr", status: 200, holds: []string{`<html lang="fr">`, "Où voulez-vous forer"}},
		{name: "language by browser", target: "/", headers: []string{"Accept-Language", "pt-MZ,fr;q=0.5"}, status: 200, holds: []string{`<html lang="pt">`}},
		{name: "language by cookie beats browser", target: "/", headers: []string{"Cookie", "lang=fr", "Accept-Language", "pt"}, status: 200, holds: []string{`<html lang="fr">`}},
		{name: "unknown language falls back", target: "/?lang=xx", status: 200, holds: []string{`<html lang="en">`}},
		{
			name: "answer by degrees", target: "/advice?at=0.1+0.2", status: 200,
			holds: []string{"Suits hand drilling", "80% (80% range: 70–\u206090%)", "Not known: test before anyone drinks", "Never go down into a hole", "/advice.json?at=0.1&#43;0.2", "<svg"},
			lacks: []string{"⟨", "style=", "<script>", "onclick"},
		},
		{name: "answer by degrees and minutes", target: "/advice?at=0%C2%B006'N+0%C2%B012'E", status: 200, holds: []string{"0.10000°\u00a0N, 0.20000°\u00a0E"}},
		{name: "answer by UTM", target: "/advice?at=31N+500000+0", status: 200, holds: []string{"0.00000°\u00a0N, 3.00000°\u00a0E"}},
		{name: "answer by two fields", target: "/advice?lat=0.1&lon=0.2", status: 200, holds: []string{"0.10000°\u00a0N, 0.20000°\u00a0E"}},
		{name: "answer by village", target: "/advice?village=Anse+%C3%89toile&lang=pt", status: 200, holds: []string{"Aldeia pedida: Anse Étoile", "Adequado à perfuração manual"}},
		{name: "village without case or accent", target: "/advice?village=anse+etoile", status: 200, holds: []string{"Village asked about: Anse Étoile"}},
		{name: "village by a part", target: "/advice?village=etoi", status: 200, holds: []string{"Village asked about: Anse Étoile"}},
		{name: "village by id", target: "/advice?village=v3", status: 200, holds: []string{"0.30000°\u00a0N, 0.30000°\u00a0E"}},
		{name: "map around the point", target: "/advice?at=0.1+0.2&map=near", status: 200, holds: []string{`<details class="again" open>`, `name="around" value="0.10000,0.20000"`, "Whole region"}},
		{
			name: "building sheet", target: "/building?at=0.1+0.2", status: 200,
			holds: []string{"Building sheet", "blank casing pipe", "If the hole fails", "Never go down into a hole", "/advice?at=0.1&#43;0.2"},
			lacks: []string{"⟨", "style=", "<script>"},
		},
		{name: "building sheet for paper", target: "/building.pdf?at=0.1+0.2&lang=pt", status: 200, holds: []string{"%PDF-"}},
		{name: "building sheet in French", target: "/building?at=0.1+0.2&lang=fr", status: 200, holds: []string{"Fiche de construction"}, lacks: []string{"⟨"}},
		{name: "style of all pages in one", target: "/static/css/page.css", status: 200, holds: []string{"--paper-0", ".atlas-sheet"}},
		{name: "static file", target: "/static/css/tokens.css", status: 200, holds: []string{"--paper-0"}},
		{name: "map", target: "/map.svg?px=560&site=0.1,0.2", status: 200, holds: []string{"<svg", "Belle"}},
		{
			name: "atlas", target: "/map?outcome=dry&from=1990", headers: html, status: 200,
			holds: []string{`data-extent="0.00000,0.00000,0.50000,0.50000"`, `name="layer" value="bores" checked`, "Old &lt;sheet&gt;", "Survey", `value="dry" checked`, `value="1990"`, "/list?from=1990&amp;lang=en&amp;outcome=dry"},
			lacks: []string{"⟨", "style=", "<script>", `value="shade"`},
		},
		{name: "atlas in French", target: "/map?lang=fr", status: 200, holds: []string{"Trouver un lieu"}, lacks: []string{"⟨"}},
		{
			name: "list of bores", target: "/list", headers: html, status: 200,
			holds: []string{"AV-0", "1 to 2 of 2", "dry", "December 2014", "18.5\u00a0m", "6.2\u00a0m", "/advice?lang=en&amp;lat=0.12000", "/bores/0?lang=en"}, lacks: []string{"⟨", "style="},
		},
		{name: "list of some bores", target: "/list?outcome=dry&lang=pt", status: 200, holds: []string{"1 a 1 de 1", "um limite posto"}, lacks: []string{"AV-0", "⟨"}},
		{name: "list of a part of the map", target: "/list?box=0,0,0.2,0.2", status: 200, holds: []string{"AV-0", "Only what the map showed"}, lacks: []string{"AV-1"}},
		{name: "list past its end", target: "/list?page=9", status: 200, holds: []string{"Earlier rows"}, lacks: []string{"AV-0", "⟨"}},
		{name: "list of nothing", target: "/list?outcome=refused", status: 200, holds: []string{"Nothing fits."}},
		{name: "list of villages", target: "/list?of=villages", status: 200, holds: []string{"Belle", "420", "1 to 3 of 3"}, lacks: []string{"⟨"}},
		{name: "list of water points", target: "/list?of=points&lang=fr", status: 200, holds: []string{"Old well", "puits creusé", "fonctionne"}, lacks: []string{"⟨"}},
		{ // a degree of the equator is 111.3 km (WGS 84)
			name: "list of roads", target: "/list?of=roads", status: 200,
			holds: []string{"&lt;script&gt;alert(1)&lt;/script&gt; road", "22\u00a0km", "0.00000°\u00a0N, 0.20000°\u00a0E", "/map?box=0.00000%2C0.00000%2C0.20000%2C0.00000"}, lacks: []string{"⟨", "<script>alert"},
		},
		{name: "roads elsewhere", target: "/list?of=roads&box=0.3,0.3,0.4,0.4", status: 200, holds: []string{"Nothing fits."}},
		{name: "list of rivers", target: "/list?of=rivers&lang=pt", status: 200, holds: []string{"1 a 1 de 1", "Comprimento"}, lacks: []string{"⟨"}},
		{name: "list of boundaries", target: "/list?of=boundaries&lang=fr", status: 200, holds: []string{"Longueur du contour"}, lacks: []string{"⟨"}},
		{name: "list of places of others", target: "/list?of=marks", status: 200, holds: []string{"School", "without a name", "1 to 2 of 2"}, lacks: []string{"⟨"}},
		{
			name: "short answer", target: "/spot?at=0.1+0.2", status: 200,
			holds: []string{"Suits hand drilling", "80%", "6.0\u00a0m", "300\u00a0m", "/advice?lang=en&amp;lat=0.10000"}, lacks: []string{"⟨", "<html", "style="},
		},
		{name: "found by position", target: "/find.json?q=0.1+N+0.2+E", status: 200, holds: []string{`"lat":0.1,"lon":0.2`}},
		{name: "found by name", target: "/find.json?q=etoile", status: 200, holds: []string{"Anse Étoile", "420"}},
		{name: "found by the label of a bore", target: "/find.json?q=av-1&lang=fr", status: 200, holds: []string{"AV-1", "Forage"}, lacks: []string{"AV-0"}},
		{name: "found nothing", target: "/find.json?q=zork", status: 200, holds: []string{`"found":[]`}},
		{name: "section to be asked", target: "/section", status: 200, holds: []string{`name="a"`}, lacks: []string{"⟨", "<figure"}},
		{name: "section", target: "/section?a=0.1,0.1&b=0.2,0.2&lang=pt", status: 200, holds: []string{"<svg", "Ao longo da linha", "6,0\u00a0m", "Furos ao lado da linha", "LINE-1", "/bores/b1?lang=pt", "7,8\u00a0km"}, lacks: []string{"⟨"}},
		{name: "drawing of a section", target: "/section.svg?a=0.1,0.1&b=0.2,0.2", status: 200, holds: []string{"<svg"}},
		{name: "tile of bores", target: "/tiles/bores/0/0/0", status: 200, holds: []string{"bores", "producing", "dry", "year"}},
		{name: "tile of dry bores", target: "/tiles/bores/0/0/0?outcome=dry&method=auger&from=2014&to=2014&least=10&most=18,5", status: 200, holds: []string{"dry"}, lacks: []string{"producing"}},
		{name: "tile without bores", target: "/tiles/bores/14/0/0", status: 200, lacks: []string{"bores"}},
		{name: "tile of places", target: "/tiles/places/0/0/0", status: 200, holds: []string{"villages", "Belle", "points", "works", "boundaries", "rivers"}},
		{name: "tile of a chart", target: "/tiles/charts/0/0/0/0", status: 200, holds: []string{"PNG"}},
		{name: "health", target: "/health", status: 200, holds: []string{`"status":"ok"`, `"version":"0.0.1"`}},
		{name: "head", method: http.MethodHead, target: "/advice?at=0.1+0.2", status: 200},
	})
}

func TestWrongQuestions(t *testing.T) {
	long := strings.Repeat("9", 200)
	runAll(t, []scenario{
		{name: "no point", target: "/advice", headers: html, status: 400, holds: []string{"No point was given", "No answer to this question", `name="at"`}},
		{name: "no position", target: "/advice?at=banana", status: 400, holds: []string{"“banana” is not a position"}},
		{name: "off the globe", target: "/advice?lat=95&lon=0", status: 400, holds: []string{"is not on the globe"}},
		{name: "ambiguous zone", target: "/advice?at=36S+583611+4156273", status: 400, holds: []string{"can be read in more than one way"}},
		{name: "in French", target: "/advice?at=banane&lang=fr", status: 400, holds: []string{"n&#39;est pas une position", `<html lang="fr">`}},
		{name: "too long a position", target: "/advice?at=" + long, status: 400, holds: []string{"too long"}},
		{name: "markup in a position", target: "/advice?at=%3Cscript%3Ealert(1)%3C/script%3E", status: 400, lacks: []string{"<script>alert"}},
		{name: "unknown village", target: "/advice?village=Zork", status: 404, holds: []string{"No village named “Zork”"}, lacks: []string{"Did you mean"}},
		{name: "part of several names", target: "/advice?village=ll", status: 404, holds: []string{"Did you mean", "/advice?lang=en&amp;village=v2", "0.30000°\u00a0N"}},
		{name: "name of two villages", target: "/advice?village=Belle", status: 400, holds: []string{"2 villages are named", "village=v3"}},
		{name: "seed", target: "/advice?at=0.1+0.2&seed=-1", status: 400, holds: []string{"“-1” cannot be used for “seed”"}},
		{name: "click off the picture", target: "/advice?s.x=321&s.y=5", status: 400, holds: []string{"s.x"}},
		{name: "click that is none", target: "/advice?s.x=0&s.y=0", status: 400, holds: []string{"No point was given"}},
		{name: "click around nowhere", target: "/advice?l.x=5&l.y=5&around=x", status: 400, holds: []string{"around"}},
		{name: "page of a list", target: "/list?page=0", status: 400, holds: []string{"page"}},
		{name: "part of the map", target: "/list?box=1,2,3", status: 400, holds: []string{"box"}},
		{name: "search too long", target: "/find.json?q=" + long, status: 400},
		{name: "section of nothing", target: "/section.svg", status: 400},
		{name: "section too long", target: "/section?a=0.0,0.0&b=3.0,3.0", status: 400, holds: []string{"too long"}},
		{name: "section to nowhere", target: "/section?a=0.0,0.0&b=banana", status: 400, holds: []string{"banana"}},
		{name: "section to nowhere, in a browser", target: "/section?a=0.0,0.0&b=banana", headers: html, status: 400, holds: []string{`role="alert"`, "“banana” is not a position", `name="b"`}},
		{name: "search without scripts", target: "/list?q=zork", headers: html, status: 200, holds: []string{"Nothing fits"}},
		{name: "search of a position without scripts", target: "/list?q=0.1N+0.2E", headers: html, status: 200, holds: []string{"/advice?lang=en&amp;lat=0.10000&amp;lon=0.20000"}},
		{name: "tile beyond the deepest", target: "/tiles/bores/15/0/0", status: 404},
		{name: "tile without a number", target: "/tiles/places/a/0/0", status: 404},
		{name: "tile by a wrong year", target: "/tiles/bores/0/0/0?from=200", status: 400, holds: []string{"from"}},
		{name: "tile by a wrong depth", target: "/tiles/bores/0/0/0?least=-1", status: 400, holds: []string{"least"}},
		{name: "shade of no land", target: "/tiles/shade/0/0/0", status: 404},
		{name: "no such chart", target: "/tiles/charts/1/0/0/0", status: 404},
		{name: "size of the map", target: "/map.svg?px=9999", status: 400, holds: []string{"px"}},
		{name: "site of the map", target: "/map.svg?site=1e9", status: 400, holds: []string{"site"}},
		{name: "no such page", target: "/admin", status: 404, holds: []string{"There is no page at this address", "There is no such page"}},
		{name: "no such file", target: "/static/css/none.css", status: 404},
		{name: "folder", target: "/static/css", status: 404},
		{name: "climbing out", target: "/static/..%2ftemplates/page.html", status: 404, lacks: []string{"{{"}},
		{name: "writing", method: http.MethodPost, target: "/advice", status: 405, holds: []string{"can only be read"}},
		{name: "question too long", target: "/advice?at=" + strings.Repeat("1", 2100), status: 400, holds: []string{"too long"}},
		{name: "foreign host", target: "/", headers: []string{"Host", "evil.example:8080"}, status: 421, holds: []string{"evil.example"}, lacks: []string{`name="at"`}},
		{name: "host that only begins well", target: "/", headers: []string{"Host", "localhost.evil.example"}, status: 421},
		{name: "own host by another name", target: "/health", headers: []string{"Host", "[::1]:8080"}, status: 200},
	})
}

func runAll(t *testing.T, scenarios []scenario) {
	t.Helper()
	newBench(t, land{}, nil).runAll(t, scenarios)
}

func (b bench) runAll(t *testing.T, scenarios []scenario) {
	t.Helper()
	for _, s := range scenarios {
		t.Run(s.name, func(t *testing.T) {
			method := s.method
			if method == "" {
				method = http.MethodGet
			}
			w := b.send(method, s.target, s.headers...)
			if w.Code != s.status {
				t.Fatalf("status %d, want %d\n%.400s", w.Code, s.status, w.Body)
			}
			for _, want := range s.holds {
				if !strings.Contains(w.Body.String(), want) {
					t.Errorf("%q is missing", want)
				}
			}
			for _, bad := range s.lacks {
				if strings.Contains(w.Body.String(), bad) {
					t.Errorf("%q is there", bad)
				}
			}
		})
	}
}
