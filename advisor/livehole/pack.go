package livehole

import (
	"waterstrike/advisor/strata"
	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/soil"
)

// PackSchema names the form of [Pack] that this version makes and reads.
const PackSchema = "waterstrike.holepack.2"

// PackBytes is the most that a pack takes as JSON.
const PackBytes = 40_000

// Pack is all that the records say of one site, for an answer beside the hole. Rows by
// class are in the order of Classes; cells are half metres from the surface down. The
// fields are described in fields.md.
type Pack struct {
	Schema    string       `json:"schema"`
	Snapshot  string       `json:"snapshot"` // of the records
	Version   string       `json:"version"`  // of the program that made it
	At        coord.LonLat `json:"at"`
	Village   string       `json:"village,omitempty"`
	Classes   []soil.Class `json:"classes"`
	CellM     float64      `json:"cellM"`
	Cells     int          `json:"cells"`   // how many the pack knows
	OddsMille [][]int      `json:"odds"`    // thousandths by cell and class, before anything was seen
	Chain     Chain        `json:"chain"`   // what all logs say together
	Logs      []NearLog    `json:"logs"`    // logs close by, taken as they are
	Naming    [][]float64  `json:"naming"`  // chance that a class (row) is named as each class
	Struck    []float64    `json:"struck"`  // how readily water enters from each class
	Weights   Weights      `json:"weights"` // exponents and floors of what is seen
	Level     Level        `json:"level"`   // depth to water
	Yield     Yield        `json:"yield"`   // what a cell of each class gives
	Screen    Screen       `json:"screen"`  // what must fit around a screen
	Methods   []Method     `json:"methods"` // drilling methods, that of the best chance first
	Costs     Costs        `json:"costs"`   // of stopping, of going on elsewhere
	GoFrom    float64      `json:"goFrom"`  // chance from which a well is lined without a doubt
}

// Chain is a chain of cells, its steps given at some cells and on straight lines between.
type Chain struct {
	Share float64   `json:"share"` // in the mixture; with those of the logs it adds up to 1
	First []float64 `json:"first"` // odds of the first cell
	Knots []int     `json:"knots"` // cells whose step is given, the first 1, the last the pack's last
	Steps [][]int   `json:"steps"` // for each knot a matrix, row (class above) by row, in 1/100,000
}

// NearLog is one log of the mixture.
type NearLog struct {
	Share float64   `json:"share"`
	Runs  [][3]int  `json:"runs"`            // place of the class, first cell, cell after the last
	Odds  [][]int   `json:"odds"`            // of each run, in 1/100,000: what it is, for the classes of its row of the naming that are not 0
	Below []float64 `json:"below,omitempty"` // odds of the cell below its end, where something refused the bit
}

// Weights say how much each thing seen tells.
type Weights struct {
	Name    float64 `json:"name"`    // exponent of a layer's name, spread over its cells
	Pace    float64 `json:"pace"`    // exponent of a cell's minutes
	PaceSD  float64 `json:"paceSD"`  // spread of ln(minutes) between crews, tools and days
	Floor   float64 `json:"floor"`   // nothing seen makes a class less likely than this
	Missed  float64 `json:"missed"`  // chance that water enters from a wet cell and nobody notices
	Perched float64 `json:"perched"` // likelihood of water above the level, as from perched water
	Slipped float64 `json:"slipped"` // likelihood of having passed ground that stops the method
	Read    float64 `json:"read"`    // floor of the likelihood of a level read
	Rare    float64 `json:"rare"`    // odds below which a step from one class to another is not followed
	Least   float64 `json:"least"`   // chance of a state below which it is not followed further
	Apart   float64 `json:"apart"`   // share of a level from which on holes are followed apart by where they met water
}

// Level is the water: equally likely courses, shallow to deep, metres below ground.
type Level struct {
	Low    []float64   `json:"low"`    // low of a normal year
	Design []float64   `json:"design"` // low of the worst year in ten: the well is built for it
	Today  [][]float64 `json:"today"`  // by month, January first: where it stands
	SD     [][]float64 `json:"sd"`     // by month: what a reading may differ by
}

// Yield is what ground gives, in equally likely bands of the region's conductivity.
type Yield struct {
	Every int           `json:"every"` // cells of each range of depth
	Cell  [][][]float64 `json:"cell"`  // by band, range of depth and class: transmissivity of one cell, m²/d; 0 where no screen is set
	Bins  []float64     `json:"bins"`  // the transmissivities told apart, m²/d, rising, the first 0
}

// Screen says what must fit.
type Screen struct {
	HighestM float64 `json:"highestM"` // least depth of its top
	LongestM float64 `json:"longestM"` // of its length
	CoverM   float64 `json:"coverM"`   // of water over its foot
}

// Method is a drilling method at this site.
type Method struct {
	Code        geo.Method `json:"code"`
	MaxDepthM   float64    `json:"maxDepthM"`
	BelowWaterM float64    `json:"belowWaterM"` // reach below where water enters
	Cross       []int      `json:"cross"`       // by class: cells that one hole can cross; 0 stops it, as many as the pack's is free
	Minutes     []float64  `json:"minutes"`     // by class: for a metre at the surface
	SlowerPerM  float64    `json:"slowerPerM"`  // a metre at depth z takes 1 + slowerPerM·z as long
	Enough      []float64  `json:"enough"`      // d/m²: one over the transmissivity needed, by allowed drawdown in half metres
	HourCost    float64    `json:"hourCost"`    // of the crew
	SetUpCost   float64    `json:"setUpCost"`   // of beginning with it at an open hole
	LineCost    float64    `json:"lineCost"`    // of lining, developing and building up a hole that works
}

// Costs are in one unit, that of a price list or hours of work of one person.
type Costs struct {
	Unit  string  `json:"unit"`  // ISO 4217 code, or "person-hours"
	Close float64 `json:"close"` // of filling and leaving a hole
	Next  float64 `json:"next"`  // of one success at the next site, all its failures included
	Try   float64 `json:"try"`   // hours spent on ground that then stops the bit, at most
}

// classes is how many there are.
const classes = soil.Count

type (
	row    = [classes]float64
	matrix [classes]row
)

const cellM = strata.CellM
