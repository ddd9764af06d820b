package intake

import (
	"cmp"
	"maps"
	"slices"

	"waterstrike/geo"
)

// Summary counts what an intake read. Rows = Applied + Rejected, in all and by file.
type Summary struct {
	Files       []FileCount   `json:"files"` // in the order read
	Rows        int           `json:"rows"`
	Applied     int           `json:"applied"`
	Rejected    int           `json:"rejected"` // listed with a reason, no record made
	Bores       int           `json:"bores"`
	Parts       int           `json:"parts"`
	Villages    int           `json:"villages"`
	WaterPoints int           `json:"waterPoints"`
	Reasons     []ReasonCount `json:"reasons"` // issues by code and severity, most first
	Blanked     []FieldCount  `json:"blanked"` // cells that the mapping declares "not known"
	Unread      []WordCount   `json:"unread"`  // words of descriptions that nobody could read, the most frequent first
}

// FileCount counts the rows of one file, and says how a text was read: a guessed encoding
// shows itself in the preview, lines that another encoding would read otherwise.
type FileCount struct {
	File      string   `json:"file"`
	Delimiter string   `json:"delimiter,omitempty"`
	Encoding  string   `json:"encoding,omitempty"`
	Guessed   bool     `json:"encodingGuessed,omitempty"`
	Preview   []string `json:"preview,omitempty"`

	Rows     int `json:"rows"`
	Applied  int `json:"applied"`
	Rejected int `json:"rejected"`
}

// ReasonCount counts the issues of one code and severity.
type ReasonCount struct {
	Code     geo.Code     `json:"code"`
	Severity geo.Severity `json:"severity"`
	N        int          `json:"n"`
}

// FieldCount counts cells by field.
type FieldCount struct {
	Field string `json:"field"`
	N     int    `json:"n"`
}

type reason struct {
	code     geo.Code
	severity geo.Severity
}

func (r *run) summary() Summary {
	out := r.count
	for _, f := range out.Files {
		out.Rows += f.Rows
		out.Applied += f.Applied
		out.Rejected += f.Rejected
	}
	for why, n := range r.reasons {
		out.Reasons = append(out.Reasons, ReasonCount{why.code, why.severity, n})
	}
	slices.SortFunc(out.Reasons, func(a, b ReasonCount) int {
		return cmp.Or(cmp.Compare(b.N, a.N), cmp.Compare(a.Code, b.Code), cmp.Compare(a.Severity, b.Severity))
	})
	for _, field := range slices.Sorted(maps.Keys(r.blanked)) {
		out.Blanked = append(out.Blanked, FieldCount{field, r.blanked[field]})
	}
	out.Unread = mostFrequent(r.unread)
	return out
}

// fileCount begins the count of a file with how it is read.
func fileCount(name string, rows Rows) FileCount {
	count := FileCount{File: name}
	if text, is := rows.(interface{ howRead() reading }); is {
		how := text.howRead()
		count.Delimiter, count.Encoding, count.Guessed, count.Preview = how.Delimiter, how.Encoding, how.Guessed, how.Preview
	}
	return count
}
