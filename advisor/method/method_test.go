package method_test

import (
	"fmt"
	"reflect"
	"strings"
	"testing"
	"testing/fstest"

	"waterstrike/advisor/method"
	"waterstrike/advisor/rule"
	"waterstrike/geo"
	"waterstrike/geo/soil"
)

func defaults(t *testing.T) []method.Method {
	t.Helper()
	list, err := method.Defaults()
	if err != nil {
		t.Fatal(err)
	}
	return list
}

func find(t *testing.T, code geo.Method) method.Method {
	t.Helper()
	m, ok := method.Find(defaults(t), code)
	if !ok {
		t.Fatalf("no method %q", code)
	}
	return m
}

// WEDC Technical Brief 43, table 1: no hand method but percussion passes rock or
// sandstone; auger, jetting and sludging do not pass gravel with boulders.
func TestOnlyPercussionWorksRock(t *testing.T) {
	for _, m := range defaults(t) {
		if m.Ground[soil.Rock].Pace != method.Stop {
			t.Errorf("%s passes fresh rock", m.Code)
		}
		fractured := m.Ground[soil.FracturedRock].Pace
		if (m.Code == "percussion") != (fractured != method.Stop) {
			t.Errorf("%s meets fractured rock at pace %q", m.Code, fractured)
		}
		if m.Ground[soil.Sand].Pace == method.Stop || m.Ground[soil.Clay].Pace == method.Stop {
			t.Errorf("%s is stopped by sand or clay", m.Code)
		}
	}
}

func TestReach(t *testing.T) {
	column := func(parts ...any) []soil.Class { // class, metres, class, metres ...
		var cells []soil.Class
		for i := 0; i < len(parts); i += 2 {
			for range int(parts[i+1].(float64) * 2) {
				cells = append(cells, parts[i].(soil.Class))
			}
		}
		return cells
	}
	tests := []struct {
		name   string
		method geo.Method
		cells  []soil.Class
		waterM float64
		want   method.Reach
	}{
		{"depth limit", "auger", column(soil.Clay, 40.0), 18, method.Reach{DepthM: 20, Limit: method.ByDepth}},
		{"reach below water", "auger", column(soil.Sand, 40.0), 5, method.Reach{DepthM: 11, Limit: method.ByWater}},
		{"crust stops the auger", "auger", column(soil.Topsoil, 1.0, soil.Hardpan, 1.0, soil.Clay, 20.0), 8, method.Reach{DepthM: 1, StoppedBy: soil.Hardpan}},
		{"percussion crosses a thin crust", "percussion", column(soil.Topsoil, 1.0, soil.Hardpan, 1.0, soil.Clay, 38.0), 8, method.Reach{DepthM: 16, Limit: method.ByWater}},
		{"a thick crust stops percussion", "percussion", column(soil.Hardpan, 3.0, soil.Clay, 37.0), 8, method.Reach{DepthM: 2, StoppedBy: soil.Hardpan}},
		{"slow ground adds up over the hole", "auger", column(soil.Gravel, 0.5, soil.Sand, 2.0, soil.Gravel, 0.5), 30, method.Reach{DepthM: 2.5, StoppedBy: soil.Gravel}},
		{"flowing water", "auger", column(soil.Sand, 40.0), -1, method.Reach{DepthM: 5, Limit: method.ByWater}},
		{"water far above ground", "auger", column(soil.Sand, 40.0), -20, method.Reach{DepthM: 0, Limit: method.ByWater}},
		{"no ground at all", "auger", nil, 5, method.Reach{DepthM: 0, Limit: method.ByWater}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			m := find(t, tt.method)
			if got := m.Reach(tt.cells, 0.5, tt.waterM); got != tt.want {
				t.Errorf("got %+v, want %+v", got, tt.want)
			}
		})
	}
}

// A wrong file is answered by file, entry, field and value.
func TestLoadNamesWhatIsWrong(t *testing.T) {
	tests := []struct{ name, json, want string }{
		{"not JSON", "[\n{\"code\" \"auger\"}]", "line 2"},
		{"no list", `{"code":"auger"}`, "not-a-list"},
		{"no code", `[{"crew":4}]`, "code"},
		{"a new method without limits", `[{"code":"x"}]`, "entry x, field maxDepthM"},
		{"a class left out", `[{"code":"x","maxDepthM":10,"belowWaterM":1,"holeMM":100,"holeRangeMM":[50,150],"crew":4,"crewRange":[3,5],"casing":{"rule":"keep-full"},"ground":{"clay":{"pace":"stop"}}}]`, "ground.topsoil"},
		{"no such class", `[{"code":"auger","ground":{"mud":{"pace":"free"}}}]`, "ground.mud"},
		{"no such field", `[{"code":"auger","maxDepth":12}]`, "field maxDepth"},
		{"no such pace", `[{"code":"auger","ground":{"clay":{"pace":"fast"}}}]`, "value fast"},
		{"no such tool", `[{"code":"auger","ground":{"clay":{"tool":"spoon"}}}]`, "value spoon"},
		{"deeper than any", `[{"code":"auger","maxDepthM":400}]`, "value 400"},
		{"less than no water", `[{"code":"auger","belowWaterM":-3}]`, "value -3"},
		{"half a person", `[{"code":"auger","crew":3.5}]`, "value 3.5"},
		{"a crew outside its own range", `[{"code":"auger","crew":9}]`, "value 9"},
		{"a hole outside its own range", `[{"code":"auger","holeMM":300}]`, "value 300"},
		{"slow but not how far", `[{"code":"auger","ground":{"clay":{"pace":"slow"}}}]`, "ground.clay.crossableM"},
		{"passable but not how fast", `[{"code":"auger","ground":{"hardpan":{"pace":"slow","crossableM":1,"tool":"chisel"}}}]`, "ground.hardpan.rateMH"},
		{"faster than any", `[{"code":"auger","ground":{"clay":{"rateMH":[1,100]}}}]`, "value 100"},
		{"no such casing rule", `[{"code":"auger","casing":{"rule":"none"}}]`, "value none"},
		{"no such word for a stop", `[{"code":"auger","stops":["bad-luck"]}]`, "value bad-luck"},
		{"no such depth", `[{"code":"auger","maxDepthM":{"chosen":"deepest"}}]`, "maxDepthM"},
		{"twice", `[{"code":"auger"},{"code":"auger"}]`, "twice"},
		{"none left", `[{"code":"auger","leftOut":true},{"code":"percussion","leftOut":true},{"code":"sludging","leftOut":true},{"code":"rotary-sludging","leftOut":true},{"code":"jetting","leftOut":true}]`, "absent"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, err := method.FromFolder(fstest.MapFS{"methods.json": {Data: []byte(tt.json)}})
			if geo.KindOf(err) != geo.Invalid || !strings.Contains(err.Error(), tt.want) || !strings.Contains(err.Error(), "rules/methods.json") {
				t.Errorf("error %v, want an invalid one that names %q and the file", err, tt.want)
			}
		})
	}
}

// A programme changes what it names and keeps the rest.
func TestProgrammeChangesTheList(t *testing.T) {
	edited := `[
		{"code": "auger", "maxDepthM": {"chosen": "drawn"}, "ground": {"clay": {"rateMH": {"lo": 0.5, "hi": 1, "source": "own logs of 2024", "mark": "published"}}}},
		{"code": "jetting", "leftOut": true},
		{"code": "valve-bit", "leftOut": false, "belowWaterM": 20}]`
	list, err := method.FromFolder(fstest.MapFS{"methods.json": {Data: []byte(edited)}})
	if err != nil {
		t.Fatal(err)
	}
	var codes []string
	for _, m := range list {
		codes = append(codes, string(m.Code))
	}
	if got := strings.Join(codes, " "); got != "auger percussion sludging rotary-sludging valve-bit" {
		t.Errorf("methods %s", got)
	}
	auger, before := list[0], find(t, "auger")
	if auger.MaxDepthM != 10 || auger.BelowWaterM != before.BelowWaterM || auger.Ground[soil.Sand] != before.Ground[soil.Sand] {
		t.Errorf("auger %+v", auger)
	}
	if clay := auger.Ground[soil.Clay]; clay.Speed != (method.Speed{LoMH: 0.5, HiMH: 1}) || clay.Tool != "open-auger" {
		t.Errorf("clay %+v", clay)
	}
	if m := list[4]; m.BelowWaterM != 20 || m.MaxDepthM != 40 {
		t.Errorf("valve bit %+v", m)
	}
	if after := find(t, "auger"); !reflect.DeepEqual(after, before) {
		t.Error("a programme's file changed the defaults")
	}
}

// Values of the compendium of trade knowledge that the project keeps, sections 1 and 2,
// with the marks that they have there.
func TestDefaultsSayWhereTheyComeFrom(t *testing.T) {
	tests := []struct {
		method geo.Method
		path   string
		lo, hi float64
		mark   rule.Mark
	}{
		{"auger", "crewRange", 3, 5, rule.Memory},                         // PRACTICA Augering 2010
		{"auger", "holeRangeMM", 50, 200, rule.Published},                 // diameters of all hand methods
		{"auger", "ground.sand.rateMH", 1, 3, rule.Doubtful},              // loose sand, auger 1-3
		{"auger", "ground.clay.rateMH", 0.3, 2, rule.Doubtful},            // soft 1-2, stiff 0.3-1
		{"auger", "slowerPerM", 0.03, 0.03, rule.Practice},                // time model
		{"percussion", "maxDepthM", 25, 25, rule.Memory},                  // about 25 m usual
		{"percussion", "holeRangeMM", 100, 150, rule.Memory},              //
		{"percussion", "crewRange", 4, 6, rule.Memory},                    //
		{"percussion", "ground.clay.rateMH", 0.3, 0.8, rule.Doubtful},     // stiff clay
		{"percussion", "ground.hardpan.rateMH", 0.05, 0.5, rule.Doubtful}, // laterite soft 0.2-0.5, hard 0.05-0.2
		{"percussion", "ground.weathered-rock.rateMH", 0.05, 0.3, rule.Doubtful},
		{"percussion", "diameterPower", 2, 2, rule.Practice},
		{"sludging", "maxDepthM", 30, 30, rule.Memory},
		{"sludging", "waterM3", 0.5, 2, rule.Memory},
		{"sludging", "ground.sand.rateMH", 2, 6, rule.Doubtful},
		{"rotary-sludging", "holeRangeMM", 50, 125, rule.Published}, // 2-5 inches
		{"rotary-sludging", "casing.surfaceM", 3, 3, rule.Published},
		{"jetting", "maxDepthM", 20, 20, rule.Memory},
		{"jetting", "waterM3", 2, 10, rule.Memory},
		{"jetting", "ground.sand.rateMH", 5, 20, rule.Doubtful},
		{"jetting", "ground.clay.rateMH", 1, 3, rule.Doubtful},
	}
	for _, tt := range tests {
		m := find(t, tt.method)
		found := false
		for _, told := range m.Told {
			if strings.Join(told.Path, ".") != tt.path {
				continue
			}
			found = true
			if told.Lo != tt.lo || told.Hi != tt.hi || told.Basis.Mark != tt.mark {
				t.Errorf("%s %s: told %+v, want %v to %v, %s", tt.method, tt.path, told, tt.lo, tt.hi, tt.mark)
			}
		}
		if !found {
			t.Errorf("%s: nothing told of %s", tt.method, tt.path)
		}
	}
}

// Where sources differ on depth each answer can be chosen, with its source.
func TestDepthsThatSourcesGive(t *testing.T) {
	want := map[geo.Method]map[string]float64{
		"auger":           {"drawn": 10, "least": 15, "most": 25}, // WEDC Technical Brief 43 against Akvopedia
		"rotary-sludging": {"short": 20, "long": 35},              // Akvopedia against a product sheet
	}
	for code, options := range want {
		for option, depth := range options {
			text := fmt.Sprintf(`[{"code": %q, "maxDepthM": {"chosen": %q}}]`, code, option)
			list, err := method.Load(strings.NewReader(text))
			if err != nil {
				t.Fatal(err)
			}
			if m, _ := method.Find(list, code); m.MaxDepthM != depth {
				t.Errorf("%s %s: %v m, want %v", code, option, m.MaxDepthM, depth)
			}
		}
	}
}

// Every value of every method has a basis, and its words are there.
func TestEveryDefaultHasABasis(t *testing.T) {
	for _, m := range defaults(t) {
		told := map[string]bool{}
		for _, v := range m.Told {
			told[strings.Join(v.Path, ".")] = true
		}
		for _, path := range []string{"maxDepthM", "belowWaterM", "holeMM", "holeRangeMM", "crew", "crewRange", "waterM3", "slowerPerM"} {
			if !told[path] {
				t.Errorf("%s: nothing told of %s", m.Code, path)
			}
		}
		for _, class := range soil.Known() {
			if !told["ground."+class.String()] {
				t.Errorf("%s: nothing told of %s", m.Code, class)
			}
			if g := m.Ground[class]; g.Pace != method.Stop && !told["ground."+class.String()+".rateMH"] {
				t.Errorf("%s: no rate told for %s", m.Code, class)
			}
		}
		if len(m.StoppedBy) == 0 {
			t.Errorf("%s: nothing stops it", m.Code)
		}
	}
}

func ExampleMethod_Reach() {
	list, _ := method.Defaults()
	auger, _ := method.Find(list, "auger")
	cells := []soil.Class{soil.Topsoil, soil.Clay, soil.Clay, soil.Sand, soil.Rock}
	r := auger.Reach(cells, 1, 3)
	fmt.Println(r.DepthM, r.StoppedBy)
	// Output: 4 rock
}
