package sheet

import (
	"maps"
	"slices"
	"time"

	"waterstrike/geo"
	"waterstrike/ui/say"
)

// review lists what the as-built review found.
func (s speaker) review(found []geo.Issue) Table {
	t := Table{Heading: s.Say("record.review"), Columns: []string{s.Say("record.weight"), s.Say("record.finding")}}
	if len(found) == 0 {
		t.Missing = s.Say("record.review.none")
	}
	for _, i := range found {
		t.add(s.Say("severity."+string(i.Severity)), s.tell(i.Message))
	}
	t.Notes = append(t.Notes, s.Say("record.review.note"))
	return t
}

// doubts lists what looks wrong in the record and what an import found, each once.
func (s speaker) doubts(f BoreFile) Table {
	t := Table{Heading: s.Say("record.doubts"), Columns: []string{s.Say("record.weight"), s.Say("record.finding")}}
	var said []string
	for _, i := range slices.Concat(f.Checks, f.Issues) {
		words := s.tell(i.Message)
		if i.Read != "" {
			words += " " + s.Say("record.read-as", say.With("value", say.Text(cut(i.Read, 80))))
		}
		if slices.Contains(said, words) {
			continue
		}
		said = append(said, words)
		t.add(s.Say("severity."+string(i.Severity)), words)
	}
	if len(t.Rows) == 0 {
		t.Missing = s.Say("record.doubts.none")
	}
	return t
}

// source tells where the record came from, value by value where one came from elsewhere.
func (s speaker) origin(b geo.Bore) Table {
	t := Table{Heading: s.Say("record.source"), Columns: []string{s.Say("record.what"), s.Say("record.value")}}
	p := b.Source
	add := func(code, words string) {
		if words != "" {
			t.add(s.Say(code), words)
		}
	}
	add("record.source.by", p.By)
	if p.File != "" {
		words := p.File
		if p.Row > 0 {
			words += ", " + s.Say("record.row", say.With("row", say.Count(p.Row)))
		}
		t.add(s.Say("record.source.file"), words)
	}
	add("record.source.batch", p.Batch)
	add("record.source.licence", p.Licence)
	if r, ok := b.Position.Get(); ok {
		add("record.as-read", r.AsRead)
		add("record.crs", r.CRS)
		add("record.operation", r.Operation)
	}
	for _, field := range slices.Sorted(maps.Keys(p.Fields)) {
		t.add(s.fieldWords(field), p.Fields[field])
	}
	t.add(s.Say("record.id"), string(b.ID))
	return t
}

// fieldWords names a field whose value came from elsewhere; one that has no name is shown
// as it is written.
func (s speaker) fieldWords(field string) string {
	if code := "field." + field; s.catalogue.Has(code) {
		return s.Say(code)
	}
	return field
}

// deeds tells the history, the last entry first.
func (s speaker) deeds(all []Deed, zone *time.Location) []HistoryLine {
	out := make([]HistoryLine, 0, len(all))
	standing := true // nothing that stands came after
	for _, d := range slices.Backward(all) {
		at := d.At.In(zone)
		line := HistoryLine{
			Seq: d.Seq, When: s.Say("value.date", say.With("date", say.Date(at))) + ", " + at.Format("15:04"), Who: d.Who, Why: d.Why,
			Did: s.Say("record.did." + d.Did), Over: d.Undone, Values: s.tellAll(d.Told),
		}
		switch {
		case d.Outside:
			line.Who = s.Say("record.outside")
		case d.Who == "":
			line.Who = s.Say("record.nobody")
		}
		line.Who = s.Say("record.by", say.With("value", say.Text(line.Who)))
		if !d.Undone && standing {
			line.May, standing = d.Did == "change", false
		}
		if d.Batch != "" {
			line.Did += ", " + s.Say("record.by-import")
		}
		out = append(out, line)
	}
	return out
}
