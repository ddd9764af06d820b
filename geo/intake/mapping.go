package intake

// Mapping says how the files of one data set become records.
type Mapping struct {
	Name    string `json:"name"`
	Dataset string `json:"dataset"`           // namespace of the ids: never change it between two intakes
	By      string `json:"by,omitempty"`      // office that gave the data
	Licence string `json:"licence,omitempty"` // terms of the data
	// Language of the words, "en", "fr" or "pt": kept for people; the readers know all three.
	Language string `json:"language,omitempty"`
	// Within is the box where positions are expected: west, south, east, north in degrees.
	Within []float64 `json:"within,omitempty"`
	Note   string    `json:"note,omitempty"` // for people
	// Lengths and Yields are the units of the fields that name none, such as "m" and "L/s".
	Lengths string  `json:"lengths,omitempty"`
	Yields  string  `json:"yields,omitempty"`
	Tables  []Table `json:"tables"`
}

// Table maps one kind of record in one file. A file that holds several kinds stands in
// several tables: each row goes to the first table whose When accepts it.
type Table struct {
	File      string           `json:"file,omitempty"`
	Kind      string           `json:"kind"`                // "bores", "layers", ...
	Format    string           `json:"format,omitempty"`    // by the end of the file's name when empty
	Sheet     string           `json:"sheet,omitempty"`     // of a workbook by name or number, layer of a GeoPackage; the first when empty
	HeaderRow int              `json:"headerRow,omitempty"` // of a sheet, from 1; the row that fits best when 0
	Delimiter string           `json:"delimiter,omitempty"` // guessed from the first lines when empty
	Encoding  string           `json:"encoding,omitempty"`  // when empty UTF-8, or a guess that is reported
	Comment   string           `json:"comment,omitempty"`   // lines that begin so are skipped
	Decimal   string           `json:"decimal,omitempty"`   // "." when empty, or ","
	Key       []string         `json:"key,omitempty"`       // columns that name the record, or the bore a part belongs to
	NoKey     string           `json:"noKey,omitempty"`     // "reject" when empty; "whole-row": the row's own text is its key; "row-above": a row that says nothing of its record goes on with the one above
	When      *When            `json:"when,omitempty"`
	Missing   []string         `json:"missing,omitempty"` // cell texts that mean "not known"
	Position  *Position        `json:"position,omitempty"`
	Fields    map[string]Field `json:"fields"`
	// Parts reads parts of the bore from the same rows: a table of bores then has one row
	// per layer, say, with the bore's own columns repeated. Only kind, missing, fields and
	// analytes stand in them.
	Parts []Table `json:"parts,omitempty"`
	// Analytes reads one column per analyte of a samples table.
	Analytes map[string]Field `json:"analytes,omitempty"`
}

// When picks rows by the text of one column.
type When struct {
	Column string   `json:"column"`
	In     []string `json:"in,omitempty"`
	NotIn  []string `json:"notIn,omitempty"`
}

// Field says where one field of a record comes from and how its cell is written.
type Field struct {
	Column    string `json:"column,omitempty"`
	Otherwise string `json:"otherwise,omitempty"` // column to read when the first is missing
	// Part takes the value from a cell that holds "name : value" pairs apart by semicolons.
	Part       string            `json:"part,omitempty"`
	Fixed      string            `json:"fixed,omitempty"` // the same text for every row, instead of a column
	Unit       string            `json:"unit,omitempty"`  // such as "m", "ft", "L/min"; "cell" when each cell carries its own
	UnitColumn string            `json:"unitColumn,omitempty"`
	Basis      string            `json:"basis,omitempty"`   // of an analyte, such as "NO3" or "N"
	Missing    []string          `json:"missing,omitempty"` // besides the table's
	Values     map[string]string `json:"values,omitempty"`  // cell text -> what it stands for
	Dates      []string          `json:"dates,omitempty"`   // date forms; "iso" when empty
	YearsFrom  int               `json:"yearsFrom,omitempty"`
	// JanuaryFirst is "day" when empty, or "year" when 1 January stands for a year alone.
	JanuaryFirst string  `json:"januaryFirst,omitempty"`
	Max          float64 `json:"max,omitempty"` // beyond it a value is kept but doubted
}

// Position says where a record's position stands.
type Position struct {
	Kind  string `json:"kind"` // "lon-lat", "projected" or "pair"
	Lon   string `json:"lon,omitempty"`
	Lat   string `json:"lat,omitempty"`
	East  string `json:"east,omitempty"`
	North string `json:"north,omitempty"`
	Pair  string `json:"pair,omitempty"`
	Order string `json:"order,omitempty"` // of a pair without letters: "lon-lat" or "lat-lon"
	// CRS names the grid of a projected position; {Column} stands for that column's text.
	CRS       string   `json:"crs,omitempty"`
	Datum     string   `json:"datum,omitempty"`     // of lon-lat; WGS 84 when empty
	Missing   []string `json:"missing,omitempty"`   // besides the table's, such as "0"
	Precision *Field   `json:"precision,omitempty"` // column that says how far off a position may be
	// AtBestM is how close to the truth the receivers of this data set came at best, in
	// metres; 5 when 0. Digits beyond it tell nothing.
	AtBestM float64 `json:"atBestM,omitempty"`
}
