package geo

import (
	"cmp"

	"waterstrike/geo/coord"

	"github.com/google/uuid"
)

// SitingID is a permanent UUID.
type SitingID string

// NewSitingID draws a new random id.
func NewSitingID() SitingID { return SitingID(uuid.NewString()) }

// Siting is one visit to a spot where somebody thinks of drilling: what stands around it,
// and what has to be settled before a tool touches the ground.
type Siting struct {
	ID         SitingID      `json:"id"`
	Place      string        `json:"place,omitempty"`
	Position   coord.Reading `json:"position"`
	On         Opt[Date]     `json:"on,omitzero"`
	Access     string        `json:"access,omitempty"` // how tools and pipe get there
	Consent    Answer        `json:"consent,omitempty"`
	ConsentBy  string        `json:"consentBy,omitempty"` // who may give the land, and did
	FloodM     Opt[float64]  `json:"floodM,omitzero"`     // highest flood mark, metres above ground; 0 where it never floods
	Services   Answer        `json:"services,omitempty"`  // are there buried pipes or cables?
	ServicesBy string        `json:"servicesBy,omitempty"`
	Ordnance   Clearance     `json:"ordnance,omitempty"`
	OrdnanceBy string        `json:"ordnanceBy,omitempty"` // the authority, with the number of its paper
	Remarks    string        `json:"remarks,omitempty"`
	Near       []Nearby      `json:"near,omitempty"`
	Source     Provenance    `json:"source"`
}

// Answer is yes, no, or empty where nobody asked.
type Answer string

// The answers.
const (
	Yes Answer = "yes"
	No  Answer = "no"
)

// Clearance is what the authority says of unexploded ordnance; empty where nobody asked it.
type Clearance string

// The clearances: only the authority gives them.
const (
	NeverSuspected Clearance = "never-suspected"
	Cleared        Clearance = "cleared"
	NotCleared     Clearance = "not-cleared"
)

// Nearby is one thing near the spot that may foul the well, or tell of the water.
type Nearby struct {
	Kind       NearKind      `json:"kind"`
	DistanceM  Opt[float64]  `json:"distanceM,omitzero"` // over ground, from the spot
	BearingDeg Opt[float64]  `json:"bearingDeg,omitzero"`
	DepthM     Opt[float64]  `json:"depthM,omitzero"`    // of a pit or dug well
	DryMonths  Opt[MonthSet] `json:"dryMonths,omitzero"` // of a dug well; known and empty: never dry
	SaidBy     string        `json:"saidBy,omitempty"`   // such as "owner", "headman"; never a name
	Words      string        `json:"words,omitempty"`
	PointID    WaterPointID  `json:"pointId,omitempty"` // the water point that a dug well became
}

// NearKind is what stands near; each but the dug well is a rule of distance.
type NearKind string

// The kinds.
const (
	NearDugWell  NearKind = "dug-well"
	NearLatrine  NearKind = "latrine"
	NearGraves   NearKind = "graves"
	NearKraal    NearKind = "kraal"
	NearRefuse   NearKind = "refuse"
	NearFuel     NearKind = "fuel"
	NearSoakaway NearKind = "soakaway"
	NearRiver    NearKind = "river"
	NearBuilding NearKind = "building"
	NearTree     NearKind = "tree"
)

// NearKinds lists the kinds, the dug well first.
func NearKinds() []NearKind {
	return []NearKind{NearDugWell, NearLatrine, NearGraves, NearKraal, NearRefuse, NearFuel, NearSoakaway, NearRiver, NearBuilding, NearTree}
}

// NewSiting checks s: it needs an id and a position, every number in range and every code
// one of its list. A failure is an [Invalid] error that names the field.
func NewSiting(s Siting) (Siting, error) {
	err := cmp.Or(
		checkID("id", string(s.ID)),
		checkMaybe("position", Some(s.Position), checkReading),
		checkMaybe("on", s.On, checkDate),
		checkCode("consent", s.Consent, "", Yes, No),
		checkMaybe("floodM", s.FloodM, flood.check),
		checkCode("services", s.Services, "", Yes, No),
		checkCode("ordnance", s.Ordnance, "", NeverSuspected, Cleared, NotCleared),
		checkEach("near", s.Near, checkNearby),
	)
	if err != nil {
		return Siting{}, Fail(Invalid, "geo.NewSiting", Message{}, err)
	}
	return s, nil
}

func checkNearby(n Nearby) error {
	return cmp.Or(
		checkCode("kind", n.Kind, NearKinds()...),
		checkMaybe("distanceM", n.DistanceM, around.check),
		checkMaybe("bearingDeg", n.BearingDeg, bearing.check),
		checkMaybe("depthM", n.DepthM, depth.check),
	)
}
