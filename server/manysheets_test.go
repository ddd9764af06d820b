package server_test

import (
	"bytes"
	"net/http"
	"net/url"
	"strings"
	"testing"
)

// Several points make one document with a sheet each; a line that cannot be read is told by
// its number on the form, with what was written kept.
func TestManySheets(t *testing.T) {
	at := func(points string) string { return "/sheets.pdf?lang=en&points=" + url.QueryEscape(points) }
	runAll(t, []scenario{
		{name: "form", target: "/sheets?points=Belle", headers: html, status: 200, holds: []string{"Advice for several points", "Belle</textarea>", `action="/sheets.pdf"`}, lacks: []string{"⟨"}},
		{name: "in Portuguese", target: "/sheets?lang=pt", headers: html, status: 200, holds: []string{"Pareceres para vários pontos"}, lacks: []string{"⟨"}},
		{name: "no points", target: at(" \n"), headers: html, status: 400, holds: []string{"No point is given"}},
		{name: "a bad line", target: at("0.1 0.2\n<b>Nowhere</b>"), headers: html, status: 400, holds: []string{"Line 2: “&lt;b&gt;Nowhere&lt;/b&gt;”", "0.1 0.2"}, lacks: []string{"<b>Nowhere"}},
		{name: "too many", target: at(strings.Repeat("0.1 0.2\n", 61)), headers: html, status: 400, holds: []string{"More than 60 points"}},
		{name: "for a program", target: at("nowhere"), headers: []string{"Accept", "application/json"}, status: 400, holds: []string{"sheets.unreadable"}},
		{name: "villages lead there", target: "/list?of=villages", headers: html, status: 200, holds: []string{"/sheets?lang=en&amp;points="}},
		{name: "writing", method: http.MethodPost, target: "/sheets.pdf", status: 405},
	})
	w := newBench(t, land{}, nil).get(at("0.1 0.2\r\nanse etoile\n\n0.3 N 0.3 E"))
	if pages := bytes.Count(w.Body.Bytes(), []byte("/Type /Page\n")); w.Code != 200 || pages != 3 || !bytes.HasPrefix(w.Body.Bytes(), []byte("%PDF-")) {
		t.Errorf("%d, %d pages: %s", w.Code, pages, w.Body)
	}
}
