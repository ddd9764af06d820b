package sheet

import "waterstrike/ui/say"

// Features is a page of features, or of links alone.
type Features struct {
	Title   string
	How     []string // how to use them, on the first page alone
	Columns []string // names of properties, as the data has them
	Rows    []FeatureRow
	Total   int // that were asked for, on all pages
	Links   []FeatureLink
}

// FeatureRow is one feature.
type FeatureRow struct {
	ID, Href string
	Place    say.Value
	Cells    []string
}

// FeatureLink leads to another page.
type FeatureLink struct{ Words, Href string }

// NewFeatures says a page of features in a language.
func NewFeatures(c *say.Catalogue, l say.Lang, f Features) Account {
	s := speaker{c, l}
	out := Account{Lang: l.String(), Title: f.Title}
	if len(f.How) > 0 {
		out.Short = Lines{s.Say("features.how"), f.How}
	}
	if len(f.Columns) > 0 {
		t := Table{Heading: s.Say("features.shown", say.With("n", say.Count(len(f.Rows))), say.With("total", say.Count(f.Total))), Columns: append([]string{s.Say("features.id"), s.Say("features.position")}, f.Columns...)}
		for _, r := range f.Rows {
			t.add(append([]string{r.ID, s.Say("value.place", say.With("place", r.Place))}, r.Cells...)...)
			t.lead(0, r.Href)
		}
		out.Parts = append(out.Parts, AccountPart{Heading: f.Title, Tables: []Table{t}, Key: "features"})
	}
	if len(f.Links) > 0 {
		t := Table{Heading: s.Say("features.links"), Columns: []string{s.Say("features.link")}}
		for _, x := range f.Links {
			t.add(x.Words)
			t.lead(0, x.Href)
		}
		out.Parts = append(out.Parts, AccountPart{Heading: s.Say("features.links"), Tables: []Table{t}, Key: "links"})
	}
	return out
}
