package geo

import (
	"waterstrike/geo/coord"

	"github.com/google/uuid"
	"github.com/paulmach/orb"
)

// VillageID is a permanent UUID.
type VillageID string

// WaterPointID is a permanent UUID.
type WaterPointID string

// PlaceID is a permanent UUID of a boundary or river.
type PlaceID string

// NewVillageID draws a new random id.
func NewVillageID() VillageID { return VillageID(uuid.NewString()) }

// NewWaterPointID draws a new random id.
func NewWaterPointID() WaterPointID { return WaterPointID(uuid.NewString()) }

// NewPlaceID draws a new random id.
func NewPlaceID() PlaceID { return PlaceID(uuid.NewString()) }

// Village is a place where people need water.
type Village struct {
	ID       VillageID     `json:"id"`
	Name     string        `json:"name"`
	Position coord.Reading `json:"position"`
	People   Opt[int]      `json:"people,omitzero"`
	Source   Provenance    `json:"source"`
}

// PointKind is what a water point is.
type PointKind string

// The kinds of water point.
const (
	PointUnknown PointKind = "unknown"
	TubeWell     PointKind = "tube-well"
	DugWell      PointKind = "dug-well"
	Spring       PointKind = "spring"
	OpenWater    PointKind = "open-water"
	PipedPoint   PointKind = "piped"
)

// PointKinds lists the kinds that are known.
func PointKinds() []PointKind { return []PointKind{TubeWell, DugWell, Spring, OpenWater, PipedPoint} }

// WaterPoint is a place where people take water today; with its depth and dry months it
// is evidence for the level.
type WaterPoint struct {
	ID        WaterPointID  `json:"id"`
	Name      string        `json:"name,omitempty"`
	Kind      PointKind     `json:"kind"`
	Position  coord.Reading `json:"position"`
	DepthM    Opt[float64]  `json:"depthM,omitzero"`
	Works     Opt[bool]     `json:"works,omitzero"` // at the last visit
	Users     Opt[int]      `json:"users,omitzero"`
	DryMonths Opt[MonthSet] `json:"dryMonths,omitzero"` // known and empty: never dry
	Visits    []Visit       `json:"visits,omitempty"`   // by date
	Source    Provenance    `json:"source"`
}

// Visit is what was found at a water point on one day; the zero date where nobody wrote
// which.
type Visit struct {
	On     Date         `json:"on,omitzero"`
	Works  Opt[bool]    `json:"works,omitzero"`
	LevelM Opt[float64] `json:"levelM,omitzero"`
	Words  string       `json:"words,omitempty"`
}

// Boundary is the outline of a programme's region or district, WGS 84.
type Boundary struct {
	ID     PlaceID          `json:"id"`
	Name   string           `json:"name"`
	Kind   string           `json:"kind"` // such as "region", "district"
	Shape  orb.MultiPolygon `json:"shape"`
	Source Provenance       `json:"source"`
}

// River is a line of surface water, WGS 84.
type River struct {
	ID        PlaceID        `json:"id"`
	Name      string         `json:"name,omitempty"`
	Perennial Opt[bool]      `json:"perennial,omitzero"`
	Line      orb.LineString `json:"line"`
	Source    Provenance     `json:"source"`
}
