package arrival

import (
	"time"

	"waterstrike/geo"
	"waterstrike/geo/intake"
	"waterstrike/geo/store"
)

// Step is how far an arrival has come.
type Step string

// The steps. Between two of them the program works, or has failed to.
const (
	Received Step = "received" // nobody has looked at the files yet
	Matched  Step = "matched"  // a person may correct what the columns mean
	Draft    Step = "draft"    // read: a person may look at the issues, and apply it
	Applied  Step = "applied"  // its records are in the base
)

// Arrival is what was handed in together.
type Arrival struct {
	ID    string    `json:"id"`
	By    string    `json:"by,omitempty"` // who handed it in; "" where nobody signs in
	At    time.Time `json:"at"`
	Files []File    `json:"files"`
	Step  Step      `json:"step"`

	// Failure is why the last thing that was begun came to nothing; its code is empty when it
	// did not.
	Failure geo.Message `json:"failure"`

	Decided  Decided        `json:"decided"`
	Former   string         `json:"former,omitempty"` // the name under which files of these names came before
	Own      bool           `json:"own,omitempty"`    // an export of this program, which needs no matching
	Given    string         `json:"given,omitempty"`  // the mapping file that was handed in with the others
	Mapping  intake.Mapping `json:"mapping"`
	Report   intake.Report  `json:"report"`
	Read     intake.Summary `json:"read"`
	Lost     int            `json:"lost,omitempty"` // rows taken as read whose bore the draft did not find
	Held     map[string]int `json:"held,omitempty"` // records of the draft by layer
	Compared store.Applied  `json:"compared"`       // what applying it does, as far as is known
	Shown    []Difference   `json:"shown,omitempty"`
	More     int            `json:"more,omitempty"` // differences that are not shown
	Batch    string         `json:"batch,omitempty"`

	Doing Doing `json:"-"`
}

// File is one file as it was handed in.
type File struct {
	Name  string `json:"name"`
	Bytes int64  `json:"bytes"`
}

// Difference is what an import finds of one record that is not as it was.
type Difference = store.Difference

// Decided is what a person said about the files.
type Decided struct {
	Dataset string        `json:"dataset,omitempty"` // the name under which a newer version will come
	Office  string        `json:"office,omitempty"`  // that gave the data
	Chosen  intake.Chosen `json:"chosen,omitempty"`
}

// Doing is what is being done at this moment; Work is empty when nothing is.
type Doing struct {
	Work        Work
	Done, Total int // rows or records; Total 0: nobody knows
}

// Work is what can be done behind the answers.
type Work string

// What takes its time.
const (
	Looking  Work = "looking"
	Reading  Work = "reading"
	Applying Work = "applying"
	Taking   Work = "taking-back"
)

// Lacks lists the columns whose unit a person still has to tell, by the name of their table.
func (a Arrival) Lacks() map[string][]string {
	if a.Own || a.Given != "" {
		return nil
	}
	return a.Report.Open()
}
