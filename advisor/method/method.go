// Package method describes the drilling methods: how deep each can go, how far below
// water, through which ground, with which tool and how fast.
//
// The methods are data: an embedded list in which every value has its source and mark,
// and the programme's rules/methods.json, which changes what it names. To add a method,
// add an entry to the list and its name to the catalogue. The hours that a method needs
// are learnt anew from logged minutes per metre: see [Method.Learn].
package method

import (
	"waterstrike/advisor/rule"
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

// Tools lists the tools that have a name in the catalogue.
func Tools() []Tool {
	return []Tool{
		"open-auger", "closed-auger", "stone-catcher", "chisel", "chisel-bailer", "bailer",
		"sludging-pipe", "jetting-pipe", "mud-pump", "valve-bit",
	}
}

// Speed is the usual range of progress of a whole crew, metres per hour, moving and lining
// left out: one crew and hole in ten is slower than Lo, one in ten faster than Hi.
type Speed struct{ LoMH, HiMH float64 }

// Ground is how a method meets one class.
type Ground struct {
	Pace            Pace
	CrossableM      float64 // of slow ground, metres in one hole
	Tool            Tool
	ToolBelowWater  Tool // when another is needed below water
	Speed           Speed
	SpeedBelowWater Speed // with the tool below water, where there is one
}

// Grounds says how a method meets each class, by the class's number.
type Grounds [soil.Count + 1]Ground

// CasingRule is how a method keeps the hole open in loose ground below water.
type CasingRule string

// The casing rules.
const (
	BailInside CasingRule = "bail-inside" // lower temporary casing and bail inside it
	KeepFull   CasingRule = "keep-full"   // the fluid holds the hole: never let it drop
)

// Method is one way of drilling by hand.
type Method struct {
	Code          geo.Method
	MaxDepthM     float64
	BelowWaterM   float64 // reach below the water level, metres
	HoleMM        float64 // usual hole diameter
	HoleRangeMM   [2]float64
	Crew          int
	CrewRange     [2]int
	WaterM3       [2]float64 // carried to the hole for drilling
	Fluid         bool       // drilled through a hole full of water
	Thickener     bool       // the water is often thickened
	Casing        CasingRule
	HeadM         float64     // of water kept over its rest level inside temporary casing
	SurfaceM      float64     // surface casing that running sand at the top calls for; 0 for none
	SlowerPerM    float64     // a metre at depth z takes 1 + SlowerPerM·z as long as at the surface
	DiameterPower float64     // progress falls with this power of the hole's diameter
	StoppedBy     []geo.Code  // what stops it, in words
	Ground        Grounds     //
	Told          []rule.Told // every value with its source and mark
}

// Defaults returns the embedded methods in their fixed order, without those that only a
// programme's rules bring into use.
func Defaults() ([]Method, error) { return Load(nil) }

// Find returns the method with this code.
func Find(list []Method, code geo.Method) (Method, bool) {
	for _, m := range list {
		if m.Code == code {
			return m, true
		}
	}
	return Method{}, false
}
