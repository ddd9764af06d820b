package sheet

import (
	_ "embed"
	"html/template"
	"io"
	"io/fs"

	"waterstrike/advisor/trust"
	"waterstrike/geo"
	"waterstrike/ui"
	"waterstrike/ui/say"
)

// NewTrustPage says an account in a language and draws it.
func NewTrustPage(c *say.Catalogue, l say.Lang, r trust.Report) (Trust, error) {
	t := NewTrust(c, l, r)
	drawings, err := TrustDrawings(c, l, r)
	if err != nil {
		return t, geo.Fail(geo.Internal, "sheet.NewTrustPage", geo.Message{}, err)
	}
	for _, d := range drawings {
		inlined, err := inline(d.Title, d.Scene)
		if err != nil {
			return t, geo.Fail(geo.Internal, "sheet.NewTrustPage", geo.Message{}, err)
		}
		inlined.Caption = d.Desc + d.aside
		for i := range t.Parts {
			if t.Parts[i].Key == d.part {
				t.Parts[i].Drawings = append(t.Parts[i].Drawings, inlined)
			}
		}
	}
	return t, nil
}

// trustFrame is the page around an account that stands alone: unlike the server's pages it
// carries its styles within.
//
//go:embed trustfile.html
var trustFrame string

// trustFile is what the template of a page that stands alone shows.
type trustFile struct {
	Trust
	Program       string
	Older         string // never said here: the file is of its own time
	Screen, Print template.CSS
}

// TrustFile writes an account as one HTML file that needs no other.
func TrustFile(w io.Writer, c *say.Catalogue, l say.Lang, r trust.Report) error {
	t, err := NewTrustPage(c, l, r)
	if err != nil {
		return err
	}
	templates, err := template.New("trustfile.html").Parse(trustFrame)
	if err != nil {
		return err
	}
	if templates, err = templates.ParseFS(ui.Templates(), "trust.html", "parts.html"); err != nil {
		return err
	}
	f := trustFile{Trust: t, Program: c.Say(l, say.Msg("screen.name"))}
	if f.Screen, err = styles("tokens", "base", "answer", "trust"); err != nil {
		return err
	}
	if f.Print, err = styles("print"); err != nil {
		return err
	}
	return templates.ExecuteTemplate(w, "trustfile.html", f)
}

// styles joins style sheets of the pages.
func styles(names ...string) (template.CSS, error) {
	var all template.CSS
	for _, name := range names {
		text, err := fs.ReadFile(ui.Static(), "css/"+name+".css")
		if err != nil {
			return "", err
		}
		all += template.CSS(text)
	}
	return all, nil
}
