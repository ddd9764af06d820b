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

// NewTrustPage says an account of kept words in a language and draws it.
func NewTrustPage(c *say.Catalogue, l say.Lang, r trust.Report) (Account, error) {
	drawings, err := TrustDrawings(c, l, r)
	if err != nil {
		return Account{}, geo.Fail(geo.Internal, "sheet.NewTrustPage", geo.Message{}, err)
	}
	return NewTrust(c, l, r).drawn(drawings)
}

// drawn puts drawings to the parts that they belong to.
func (t Account) drawn(drawings []AccountDrawing) (Account, error) {
	for _, d := range drawings {
		inlined, err := inline(d.Title, d.Scene)
		if err != nil {
			return t, geo.Fail(geo.Internal, "sheet.Account", geo.Message{}, err)
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

// accountFrame is the page around an account that stands alone: unlike the server's pages
// it carries its styles within.
//
//go:embed accountfile.html
var accountFrame string

// accountFile is what the template of a page that stands alone shows.
type accountFile struct {
	Account
	Program       string
	Older         string // never said here: the file is of its own time
	Screen, Print template.CSS
}

// TrustFile writes an account of kept words as one HTML file that needs no other.
func TrustFile(w io.Writer, c *say.Catalogue, l say.Lang, r trust.Report) error {
	t, err := NewTrustPage(c, l, r)
	if err != nil {
		return err
	}
	return t.file(w, c, l)
}

func (t Account) file(w io.Writer, c *say.Catalogue, l say.Lang) error {
	templates, err := template.New("accountfile.html").Parse(accountFrame)
	if err != nil {
		return err
	}
	if templates, err = templates.ParseFS(ui.Templates(), "account.html", "parts.html"); err != nil {
		return err
	}
	f := accountFile{Account: t, Program: c.Say(l, say.Msg("screen.name"))}
	if f.Screen, err = styles("tokens", "base", "answer", "account"); err != nil {
		return err
	}
	if f.Print, err = styles("print"); err != nil {
		return err
	}
	return templates.ExecuteTemplate(w, "accountfile.html", f)
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
