package server_test

import (
	"net/url"
	"strings"
	"testing"
)

// A pumping test is answered from its text alone, in every language and as data; what is
// wrong with it is said on the form, with what was written kept.
func TestPumping(t *testing.T) {
	asked := func(readings, rest string) string {
		return "/pumping?readings=" + url.QueryEscape(readings) + rest
	}
	steady := "discharge: 788 m3/d\ndistance (m); drawdown (m)\n0.8; 2.236\n30; 1.088\n90; 0.716"
	runAll(t, []scenario{
		{name: "form", target: "/pumping?lang=en", headers: html, status: 200, holds: []string{"Pumping test", `name="readings"`, `rows="14"`}, lacks: []string{"⟨"}},
		{name: "steady", target: asked(steady, "&lang=en"), headers: html, status: 200, holds: []string{"Thiem", "m²/d", "3 of 3", "/pumping.json?"}, lacks: []string{"⟨"}},
		{name: "in French", target: asked(steady, "&lang=fr"), headers: html, status: 200, holds: []string{"droite des distances"}, lacks: []string{"⟨"}},
		{name: "in Portuguese", target: asked(steady, "&lang=pt"), headers: html, status: 200, holds: []string{"reta das distâncias"}, lacks: []string{"⟨"}},
		{name: "no unit", target: asked("time; drawdown\n1; 2", "&lang=en"), headers: html, status: 400, holds: []string{"Line 1", "no unit", "time; drawdown\n1; 2</textarea>"}, lacks: []string{"⟨"}},
		{name: "a script", target: asked("<script>alert(1)</script>\n1; 2", "&lang=en"), headers: html, status: 400, lacks: []string{"<script>alert"}},
		{name: "drawn", target: asked(steady, "&lang=en"), headers: html, status: 200, holds: []string{"<svg", "Distance from the well (m)", "/pumping.pdf?"}, lacks: []string{"⟨"}},
		{name: "a slug", target: asked("kind: slug\nhole: 150 mm\nscreen: 3 m\nstart: 1 m\ntime (s); h (m)\n10;.8\n20;.6\n30;.47\n40;.36\n50;.28\n60;.2", "&lang=fr"), headers: html, status: 200, holds: []string{"<svg", "Part du déplacement", "Hvorslev"}, lacks: []string{"⟨"}},
		{name: "by hand", target: "/pumping?lang=en&bailed=30+x+5+L+in+10+min&hole=150+mm&fall=3+m&half=6+min&quarter=14+min&usable=5+m", headers: html, status: 200, holds: []string{"The well carries", "45 buckets of 20 L an hour", "<svg"}, lacks: []string{"⟨"}},
		{name: "buckets", target: "/pumping?lang=pt&buckets=12+x+20+L+em+45+min", headers: html, status: 200, holds: []string{"16 baldes de 20 L por hora", "pedidos a um poço"}, lacks: []string{"⟨"}},
		{name: "a bad bucket", target: "/pumping?lang=en&buckets=many", headers: html, status: 400, holds: []string{"is no count of buckets", `value="many"`}, lacks: []string{"⟨"}},
		{name: "for paper", target: "/pumping.pdf?readings=" + url.QueryEscape(steady), status: 200, holds: []string{"%PDF-"}},
		{name: "data by hand", target: "/pumping.json?buckets=12+x+20+L+in+45+min", status: 200, holds: []string{`"kind": "buckets"`, `"lps"`}},
		{name: "data", target: "/pumping.json?readings=" + url.QueryEscape(steady), status: 200, holds: []string{`"schema": "waterstrike.pumping.1"`, `"way.steady"`}},
		{name: "no data", target: "/pumping.json", status: 400, holds: []string{"pumping.no-readings"}},
		{name: "too long", target: "/pumping.json?readings=" + url.QueryEscape(strings.Repeat("1 2\n", 5001)), headers: []string{"Accept", "application/json"}, status: 400, holds: []string{"too-long"}},
	})
	b, _ := newShelved(t)
	long := url.Values{"readings": {"discharge: 9 L/s\nr (m); s (m)\n" + strings.Repeat("1; 2.236\n30; 1.088\n90; 0.716\n", 500)}}
	if w := b.acts("/pumping?lang=en", long); w.Code != 200 || !strings.Contains(w.Body.String(), "1,500 of 1,500") || strings.Contains(w.Body.String(), "/pumping.json?") {
		t.Errorf("readings too long for an address: %d %.300s", w.Code, w.Body)
	}
}
