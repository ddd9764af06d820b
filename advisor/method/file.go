package method

import (
	_ "embed"
	"io"
	"io/fs"

	"waterstrike/advisor/rule"
	"waterstrike/geo"
	"waterstrike/geo/soil"
)

// FileName is the name of the list of methods in the rules folder.
const FileName = "methods.json"

//go:embed methods.json
var defaults []byte

// File returns the embedded list as it is written, for a programme to edit.
func File() []byte { return append([]byte(nil), defaults...) }

// FromFolder returns the methods of a programme: the embedded ones, changed by its
// methods.json where the rules folder holds one.
//
// A wrong file is a [geo.Invalid] error whose message names the file, the entry, the
// field, the value and what to do.
func FromFolder(rules fs.FS) ([]Method, error) {
	edited, err := rule.Edited(rules, FileName)
	if err != nil {
		return nil, err
	}
	return over(edited)
}

// Load reads an edited list, in the form of the embedded one, over the embedded list. An
// entry with a code of ours changes what it names; one with a new code must say all.
// A nil reader gives the embedded list.
func Load(r io.Reader) ([]Method, error) {
	if r == nil {
		return over(nil)
	}
	data, err := io.ReadAll(io.LimitReader(r, 1<<20))
	if err != nil {
		return nil, err
	}
	return over(data)
}

// entry is a method as a file writes it.
type entry struct {
	Code          geo.Method                 `json:"code"`
	LeftOut       bool                       `json:"leftOut"`
	MaxDepth      rule.Choice[float64]       `json:"maxDepthM"`
	BelowWater    rule.Number                `json:"belowWaterM"`
	Hole          rule.Number                `json:"holeMM"`
	HoleRange     rule.Range                 `json:"holeRangeMM"`
	Crew          rule.Number                `json:"crew"`
	CrewRange     rule.Range                 `json:"crewRange"`
	Water         rule.Range                 `json:"waterM3"`
	SlowerPerM    rule.Number                `json:"slowerPerM"`
	DiameterPower rule.Number                `json:"diameterPower"`
	Fluid         bool                       `json:"fluid"`
	Thickener     bool                       `json:"thickener"`
	Casing        casingEntry                `json:"casing"`
	Stops         []string                   `json:"stops"`
	Ground        map[soil.Class]groundEntry `json:"ground"`
}

type casingEntry struct {
	Rule    CasingRule  `json:"rule"`
	Head    rule.Number `json:"headM"`
	Surface rule.Number `json:"surfaceM"`
}

type groundEntry struct {
	rule.Basis
	Pace           Pace        `json:"pace"`
	Crossable      rule.Number `json:"crossableM"`
	Tool           Tool        `json:"tool"`
	ToolBelowWater Tool        `json:"toolBelowWater"`
	Rate           rule.Range  `json:"rateMH"`
	RateBelowWater rule.Range  `json:"rateBelowWaterMH"`
}

// over lays an edited list over the embedded one.
func over(edited []byte) ([]Method, error) {
	list, err := rule.Lay(nil, FileName, defaults, entry.name, entry.check)
	if err != nil {
		return nil, err
	}
	if edited != nil {
		if list, err = rule.Lay(list, rule.Named(FileName), edited, entry.name, entry.check); err != nil {
			return nil, err
		}
	}
	var out []Method
	for _, e := range list {
		if !e.LeftOut {
			out = append(out, e.method())
		}
	}
	if len(out) == 0 {
		return nil, rule.Refuse(rule.Fault{Kind: rule.Absent, File: rule.Named(FileName), Field: "code"})
	}
	return out, nil
}

// name is the code that an entry is known by.
func (e entry) name() string { return string(e.Code) }

// method takes the values in force out of an entry.
func (e entry) method() Method {
	m := Method{
		Code: e.Code, MaxDepthM: e.MaxDepth.Value(), BelowWaterM: e.BelowWater.Value,
		HoleMM: e.Hole.Value, HoleRangeMM: [2]float64{e.HoleRange.Lo, e.HoleRange.Hi},
		Crew: int(e.Crew.Value), CrewRange: [2]int{int(e.CrewRange.Lo), int(e.CrewRange.Hi)},
		WaterM3: [2]float64{e.Water.Lo, e.Water.Hi}, Fluid: e.Fluid, Thickener: e.Thickener,
		Casing: e.Casing.Rule, HeadM: e.Casing.Head.Value, SurfaceM: e.Casing.Surface.Value,
		SlowerPerM: e.SlowerPerM.Value, DiameterPower: e.DiameterPower.Value,
		Ground: Grounds{soil.Unknown: {Pace: Free}}, Told: rule.Tell(e),
	}
	for _, stop := range e.Stops {
		m.StoppedBy = append(m.StoppedBy, geo.Code("stop."+stop))
	}
	for class, g := range e.Ground {
		m.Ground[class] = Ground{
			g.Pace, g.Crossable.Value, g.Tool, g.ToolBelowWater,
			Speed{g.Rate.Lo, g.Rate.Hi},
			Speed{g.RateBelowWater.Lo, g.RateBelowWater.Hi},
		}
	}
	return m
}
