package geo

import "waterstrike/geo/soil"

// Layer is one interval of one soil class, with the words as the driller wrote them.
type Layer struct {
	TopM        float64      `json:"topM"`  // metres below ground
	BaseM       float64      `json:"baseM"` // always > TopM
	Words       string       `json:"words,omitempty"`
	Class       soil.Class   `json:"class"`
	Grade       soil.Grade   `json:"grade,omitempty"`
	Clayey      bool         `json:"clayey,omitempty"`   // clay or silt named as secondary material
	Confidence  float64      `json:"confidence"`         // of the class, in [0,1]
	Colour      string       `json:"colour,omitempty"`   // as written, where it was
	Hardness    string       `json:"hardness,omitempty"` // of firmness too, likewise
	MinutesPerM Opt[float64] `json:"minutesPerM,omitzero"`
}

// Strike is a depth where water first entered the bore.
type Strike struct {
	DepthM float64 `json:"depthM"`
	Words  string  `json:"words,omitempty"`
}

// LevelState says what kind of statement a level reading is.
type LevelState string

// The states of a level reading.
const (
	LevelRest    LevelState = "rest"    // depth to water at rest
	LevelFlowing LevelState = "flowing" // water stands at or above ground
	LevelDryTo   LevelState = "dry-to"  // no water down to DepthM
)

// Level is one reading of the water at rest.
type Level struct {
	State      LevelState   `json:"state"`
	DepthM     Opt[float64] `json:"depthM,omitzero"`     // below ground; negative above ground
	On         Opt[Date]    `json:"on,omitzero"`         // day of the reading
	ReferenceM Opt[float64] `json:"referenceM,omitzero"` // height of the point read from above ground, already taken off DepthM
	Words      string       `json:"words,omitempty"`     // the reading as written
}

// PipeKind is what a length of pipe is for.
type PipeKind string

// The kinds of pipe.
const (
	Casing PipeKind = "casing"
	Screen PipeKind = "screen"
	Plug   PipeKind = "plug"
)

// Pipe is a length of casing, screen or bottom plug.
type Pipe struct {
	Kind       PipeKind     `json:"kind"`
	TopM       float64      `json:"topM"`
	BaseM      float64      `json:"baseM"`
	DiameterMM Opt[float64] `json:"diameterMm,omitzero"` // outside diameter
	SlotMM     Opt[float64] `json:"slotMm,omitzero"`
	Material   string       `json:"material,omitempty"`
}

// FillKind is what fills the space around the pipe.
type FillKind string

// The kinds of fill.
const (
	Pack     FillKind = "pack"     // filter sand or gravel
	ClaySeal FillKind = "clay"     // clay or bentonite over the pack
	Grout    FillKind = "grout"    // cement sanitary seal
	Backfill FillKind = "backfill" // cuttings
)

// Fill is one interval of the space between hole and pipe.
type Fill struct {
	Kind  FillKind `json:"kind"`
	TopM  float64  `json:"topM"`
	BaseM float64  `json:"baseM"`
}
