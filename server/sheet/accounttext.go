package sheet

// Text lays the account out for a terminal, as [Sheet.Text] does an advice.
func (t Account) Text() string {
	var p page
	p.heading(t.Title)
	for _, part := range []Lines{t.Short, t.How} {
		p.section(part)
	}
	for _, part := range t.Parts {
		for _, table := range part.Tables {
			p.table(table)
		}
	}
	p.section(t.Terms)
	p.section(t.Source)
	return p.String()
}

func (p *page) section(l Lines) {
	p.heading(l.Heading)
	p.lines(l.Lines)
}
