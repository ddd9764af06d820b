package method_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"reflect"
	"strings"
	"testing"

	"waterstrike/advisor/method"
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

func TestLoadNamesWhatIsWrong(t *testing.T) {
	tests := []struct{ name, json, want string }{
		{"no limit", `[{"code":"x"}]`, "maxDepthM"},
		{"a class left out", `[{"code":"x","maxDepthM":10,"belowWaterM":1,"holeMM":100,"ground":{"clay":{"pace":"free"}}}]`, "topsoil"},
		{"no such class", `[{"code":"x","ground":{"mud":{"pace":"free"}}}]`, "mud"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, err := method.Load(strings.NewReader(tt.json))
			if geo.KindOf(err) != geo.Invalid || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("error %v, want an invalid one that names %q", err, tt.want)
			}
		})
	}
}

// What is written for a programme to edit must read back as it was.
func TestMethodsRoundTrip(t *testing.T) {
	want := defaults(t)
	text, err := json.Marshal(want)
	if err != nil {
		t.Fatal(err)
	}
	got, err := method.Load(bytes.NewReader(text))
	if err != nil || !reflect.DeepEqual(got, want) {
		t.Errorf("read back %+v, %v", got, err)
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
