// Package method describes the drilling methods: how deep each can go, how far below
// water, through which ground, and with which tool.
//
// The methods are data: an embedded list with its sources, which a programme replaces by
// its own edited copy (rules/methods.json in the data folder). To add a method, add an
// entry to the list and its name to the catalogue.
package method

import (
	_ "embed"
	"encoding/json"
	"fmt"
	"io"

	"waterstrike/geo"
	"waterstrike/geo/soil"
)

// Pace says how a method gets on in one class of ground.
type Pace string

// The paces.
const (
	Free Pace = "free" // goes on as long as the depth limit allows
	Slow Pace = "slow" // only so many metres of slow ground in one hole
	Stop Pace = "stop" // the method cannot pass it
)

// Tool is the code of a tool, such as "closed-auger".
type Tool string

// Ground is how a method meets one class.
type Ground struct {
	Pace           Pace    `json:"pace"`
	CrossableM     float64 `json:"crossableM,omitempty"` // of slow ground, metres in one hole
	Tool           Tool    `json:"tool,omitempty"`
	ToolBelowWater Tool    `json:"toolBelowWater,omitempty"` // when another is needed below water
}

// Method is one way of drilling by hand.
type Method struct {
	Code        geo.Method `json:"code"`
	MaxDepthM   float64    `json:"maxDepthM"`
	BelowWaterM float64    `json:"belowWaterM"` // reach below the water level, metres
	HoleMM      float64    `json:"holeMM"`      // usual hole diameter
	Crew        int        `json:"crew"`
	Ground      Grounds    `json:"ground"`
	Source      string     `json:"source"`
	Mark        string     `json:"mark"` // how well each number is founded
}

// Grounds says how a method meets each class, by the class's number; written in files as
// an object by class code.
type Grounds [soil.Count + 1]Ground

// MarshalJSON writes an object by class code.
func (g Grounds) MarshalJSON() ([]byte, error) {
	byClass := map[soil.Class]Ground{}
	for _, class := range soil.Known() {
		byClass[class] = g[class]
	}
	return json.Marshal(byClass)
}

// UnmarshalJSON reads an object by class code.
func (g *Grounds) UnmarshalJSON(data []byte) error {
	var byClass map[soil.Class]Ground
	if err := json.Unmarshal(data, &byClass); err != nil {
		return err
	}
	*g = Grounds{soil.Unknown: {Pace: Free}}
	for class, ground := range byClass {
		g[class] = ground
	}
	return nil
}

//go:embed methods.json
var defaults []byte

// Defaults returns the embedded methods in their fixed order.
func Defaults() ([]Method, error) { return parse(defaults) }

// Load reads an edited list in the form of the embedded one.
//
// A wrong entry is a [geo.Invalid] error that names the method and the field.
func Load(r io.Reader) ([]Method, error) {
	data, err := io.ReadAll(io.LimitReader(r, 1<<20))
	if err != nil {
		return nil, err
	}
	return parse(data)
}

func parse(data []byte) ([]Method, error) {
	var list []Method
	if err := json.Unmarshal(data, &list); err != nil {
		return nil, geo.Fail(geo.Invalid, "method.Load", geo.Message{}, err)
	}
	seen := map[geo.Method]bool{}
	for _, m := range list {
		if err := m.check(); err != nil {
			return nil, geo.Fail(geo.Invalid, "method.Load", geo.Message{}, err)
		}
		if seen[m.Code] {
			return nil, geo.Fail(geo.Invalid, "method.Load", geo.Message{}, fmt.Errorf("method %q stands twice", m.Code))
		}
		seen[m.Code] = true
	}
	return list, nil
}

func (m Method) check() error {
	if m.Code == "" || !(m.MaxDepthM > 0 && m.MaxDepthM <= 100) || !(m.BelowWaterM > 0) || !(m.HoleMM > 0) {
		return fmt.Errorf("method %q needs a code, maxDepthM in (0, 100], belowWaterM and holeMM above 0", m.Code)
	}
	for _, class := range soil.Known() {
		g := m.Ground[class]
		if g.Pace == "" {
			return fmt.Errorf("method %q says nothing of %s", m.Code, class)
		}
		if g.Pace != Free && g.Pace != Slow && g.Pace != Stop {
			return fmt.Errorf("method %q, %s: pace %q is not one of free, slow, stop", m.Code, class, g.Pace)
		}
		if (g.Pace == Slow) != (g.CrossableM > 0) {
			return fmt.Errorf("method %q, %s: crossableM belongs to a slow pace and is above 0 there", m.Code, class)
		}
	}
	return nil
}

// Find returns the method with this code.
func Find(list []Method, code geo.Method) (Method, bool) {
	for _, m := range list {
		if m.Code == code {
			return m, true
		}
	}
	return Method{}, false
}
