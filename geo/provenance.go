package geo

// Provenance says where a record came from.
type Provenance struct {
	Batch   string            `json:"batch,omitempty"` // the import it came with
	File    string            `json:"file,omitempty"`  // base name of the file
	Row     int               `json:"row,omitempty"`   // row in that file, 1 = first data row; 0 = none
	By      string            `json:"by,omitempty"`    // office or programme that gave it
	Licence string            `json:"licence,omitempty"`
	Fields  map[string]string `json:"fields,omitempty"` // per-field exceptions: field -> where it came from
}

// Severity ranks an issue.
type Severity string

// The severities.
const (
	Note     Severity = "note"     // worth knowing; the value is used
	Doubt    Severity = "doubt"    // the value is kept but a person should look
	Rejected Severity = "rejected" // the value or row was not used
)

// Issue is one doubtful value or row: where it stands, what was read, what is wrong and
// what to do. The message's catalogue entry carries the advice.
type Issue struct {
	Severity Severity `json:"severity"`
	Message  Message  `json:"message"`
	File     string   `json:"file,omitempty"`
	Row      int      `json:"row,omitempty"`    // 1 = first data row
	Column   string   `json:"column,omitempty"` // the file's own column name
	Read     string   `json:"read,omitempty"`   // the value as read
	Record   string   `json:"record,omitempty"` // id of the record it belongs to, when there is one
}
