package server

import (
	"net/url"
	"slices"
	"strconv"
	"strings"

	"waterstrike/geo"
	"waterstrike/geo/arrival"
	"waterstrike/geo/intake"
	"waterstrike/server/sheet"
	"waterstrike/ui/say"

	"github.com/labstack/echo/v4"
)

// draftView is what was read from files, before it is applied.
type draftView struct {
	Heading     string
	Facts       sheet.Lines
	Apply       formView
	Nothing     string // said where there is nothing to apply
	Differences []differenceView
	Changes     string // the line that opens them
	More        string
	Reasons     reasonsView
	Found       wrongRowsView
}

type differenceView struct {
	Words string
	Parts []string
}

// reasonsView counts the issues by what is wrong.
type reasonsView struct {
	Heading string
	None    string
	Rows    []reasonView
	Notes   []string
}

type reasonView struct {
	N, Severity, Mark, Name, Href string
	Current                       bool
}

// wrongRowsView are rows with their issues.
type wrongRowsView struct {
	Heading, Shown string
	All            *linkView // where only some are shown
	Rows           []wrongRowView
	Before, After  *linkView
}

type wrongRowView struct {
	Where  string
	Issues []wrongView
	Cells  []cellView
}

type wrongView struct{ Mark, Severity, Words string }

type cellView struct {
	Name, Text string
	Wrong      bool // an issue is about it
}

// findingsShown is how many rows with issues a page shows.
const findingsShown = 25

func (s *Server) draftOf(c echo.Context, p speaker, a arrival.Arrival) (*draftView, error) {
	sought := arrival.Sought{Most: findingsShown}
	q := c.QueryParams()
	if n, err := strconv.Atoi(q.Get("from")); err == nil && n > 0 {
		sought.From = min(n, 1<<30)
	}
	for _, r := range a.Read.Reasons { // only what there is can be asked for
		if string(r.Code) == q.Get("issue") && string(r.Severity) == q.Get("severity") {
			sought.Code, sought.Severity = r.Code, r.Severity
		}
	}
	found, total, err := s.Intake.Findings(c.Request().Context(), a.ID, sought)
	if err != nil {
		return nil, err
	}
	d := &draftView{Heading: p.Say("intake.draft"), Facts: p.draftFacts(a), Apply: p.applyForm(a), Reasons: p.reasonsView(a, sought)}
	if a.Compared.Added+a.Compared.Changed+fileMayWin(a) == 0 {
		d.Nothing = p.Say("intake.nothing-new")
	}
	for _, diff := range a.Shown {
		v := differenceView{Words: p.tell(diff.Message)}
		for _, f := range diff.Fields {
			v.Parts = append(v.Parts, p.tell(f))
		}
		d.Differences = append(d.Differences, v)
	}
	d.Changes = p.Say("intake.changes", say.With("n", say.Count(len(a.Shown)+a.More)))
	if a.More > 0 {
		d.More = p.Say("intake.more-changes", say.With("n", say.Count(a.More)))
	}
	d.Found = p.wrongRowsView(a, sought, found, total)
	return d, nil
}

// fileMayWin counts the records that were changed by hand since the file gave them before.
func fileMayWin(a arrival.Arrival) int { return len(a.Compared.Conflicts) - a.Compared.Hidden }

// draftFacts says what the files gave.
func (s speaker) draftFacts(a arrival.Arrival) sheet.Lines {
	l := sheet.Lines{Heading: s.Say("intake.held")}
	add := func(code geo.Code, args ...geo.Arg) { l.Lines = append(l.Lines, s.tell(geo.Say(code, args...))) }
	add("import.would", geo.With("total", geo.Count(a.Read.Rows)), geo.With("n", geo.Count(a.Read.Applied-a.Lost)),
		geo.With("listed", geo.Count(a.Read.Rejected+a.Lost)))
	var held []string
	for _, layer := range []string{"bore", "village", "water_point", "boundary", "river"} {
		if n := a.Held[layer]; n > 0 {
			held = append(held, s.Say("intake.held."+strings.ReplaceAll(layer, "_", "-"), say.With("n", say.Count(n))))
		}
	}
	if len(held) > 0 {
		l.Lines = append(l.Lines, strings.Join(held, ", ")+".")
	}
	add("import.compared", geo.With("added", geo.Count(a.Compared.Added)), geo.With("changed", geo.Count(a.Compared.Changed)),
		geo.With("same", geo.Count(a.Compared.Same)))
	for _, more := range []struct {
		code geo.Code
		n    int
	}{{geo.Code("intake.changed-by-hand"), fileMayWin(a)}, {geo.Code("import.hidden"), a.Compared.Hidden}, {geo.Code("import.absent"), a.Compared.Absent}} {
		if more.n > 0 {
			add(more.code, geo.With("n", geo.Count(more.n)))
		}
	}
	return l
}

func (s speaker) applyForm(a arrival.Arrival) formView {
	f := formView{
		Action: intakePath + "/" + a.ID + "/apply", Intro: s.Say("intake.apply.why"),
		Button: s.Say("intake.apply.do", say.With("added", say.Count(a.Compared.Added)), say.With("changed", say.Count(a.Compared.Changed))),
	}
	if n := fileMayWin(a); n > 0 {
		f.Fields = []fieldView{{
			ID: "file-wins", Name: "file-wins", Type: "checkbox", Value: "yes", Optional: true, Label: s.Say("intake.file-wins", say.With("n", say.Count(n))),
		}}
	}
	return f
}

func (s speaker) reasonsView(a arrival.Arrival, sought arrival.Sought) reasonsView {
	v := reasonsView{Heading: s.Say("intake.issues")}
	if len(a.Read.Reasons) == 0 && a.Lost == 0 {
		v.None = s.Say("intake.no-issues")
	}
	for _, r := range a.Read.Reasons {
		q := url.Values{"issue": {string(r.Code)}, "severity": {string(r.Severity)}}
		v.Rows = append(v.Rows, reasonView{
			N: s.Say("intake.times", say.With("n", say.Count(r.N))), Severity: s.Say("severity." + string(r.Severity)), Mark: marks[r.Severity],
			Name: s.Say(string(r.Code) + ".name"), Href: intakePath + "/" + a.ID + "?" + q.Encode() + "#rows",
			Current: r.Code == sought.Code && r.Severity == sought.Severity,
		})
	}
	if len(a.Read.Unread) > 0 {
		v.Notes = append(v.Notes, s.Say("intake.unread", say.With("value", say.Text(unreadWords(a.Read.Unread)))))
	}
	return v
}

// marks are the signs of severities; their words stand beside them.
var marks = map[geo.Severity]string{geo.Rejected: "avoid", geo.Doubt: "care", geo.Note: "unsure"}

// unreadWords lists words of descriptions that nobody could read.
func unreadWords(words []intake.WordCount) string {
	const most = 40
	list := make([]string, 0, most)
	for _, w := range words[:min(len(words), most)] {
		list = append(list, w.Word+" ("+strconv.Itoa(w.N)+")")
	}
	return strings.Join(list, ", ")
}

func (s speaker) wrongRowsView(a arrival.Arrival, sought arrival.Sought, found []arrival.Finding, total int) wrongRowsView {
	at := func(from int) string {
		q := url.Values{}
		if sought.Code != "" {
			q.Set("issue", string(sought.Code))
			q.Set("severity", string(sought.Severity))
		}
		if from > 0 {
			q.Set("from", strconv.Itoa(from))
		}
		return intakePath + "/" + a.ID + "?" + q.Encode() + "#rows"
	}
	v := wrongRowsView{Heading: s.Say("intake.rows-with-issues")}
	if total > 0 {
		v.Shown = s.Say("intake.shown", say.With("n", say.Count(sought.From+1)),
			say.With("listed", say.Count(sought.From+len(found))), say.With("total", say.Count(total)))
	}
	if sought.Code != "" {
		v.All = &linkView{Name: s.Say("intake.all-issues"), Href: intakePath + "/" + a.ID + "#rows"}
	}
	for _, f := range found {
		v.Rows = append(v.Rows, s.wrongRowView(f))
	}
	if sought.From > 0 {
		v.Before = &linkView{Name: s.Say("intake.before"), Href: at(max(0, sought.From-findingsShown))}
	}
	if sought.From+len(found) < total {
		v.After = &linkView{Name: s.Say("intake.after"), Href: at(sought.From + len(found))}
	}
	return v
}

func (s speaker) wrongRowView(f arrival.Finding) wrongRowView {
	v := wrongRowView{Where: f.File}
	if f.Row > 0 {
		v.Where = s.Say("import.where", say.With("file", say.Text(f.File)), say.With("row", say.Count(f.Row)))
	}
	wrong := map[string]bool{}
	for _, i := range f.Issues {
		v.Issues = append(v.Issues, wrongView{marks[i.Severity], s.Say("severity." + string(i.Severity)), s.tell(i.Message)})
		for _, column := range slices.Concat([]string{i.Column}, strings.Split(i.Column, ", ")) {
			wrong[column] = true
		}
	}
	for n, text := range f.Cells {
		name := ""
		if n < len(f.Header) {
			name = f.Header[n]
		}
		if strings.TrimSpace(text) != "" || wrong[name] {
			v.Cells = append(v.Cells, cellView{name, clip(text), wrong[name] && name != ""})
		}
	}
	return v
}
