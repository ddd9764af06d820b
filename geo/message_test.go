package geo_test

import (
	"encoding/json"
	"math"
	"testing"
	"time"

	"waterstrike/geo"
)

func TestMessageString(t *testing.T) {
	for _, c := range []struct {
		give geo.Message
		want string
	}{
		{geo.Message{}, ""},
		{geo.Say("verdict.go"), "verdict.go"},
		{
			geo.Say("reason.deep", geo.With("depth", geo.Metres(7.2)), geo.With("on", geo.Date{Year: 2004, Month: 3}), geo.With("who", geo.Text("crew 2"))),
			"reason.deep depth=7.2 on=2004-03 who=crew 2",
		},
	} {
		if got := c.give.String(); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

func TestArgJSON(t *testing.T) {
	for _, c := range []struct {
		give geo.Value
		want string
	}{
		{geo.Metres(7.2), `"type":"metres","value":7.2`},
		{geo.MetresRange{Lo: 6, Hi: 9}, `"type":"metres-range","value":{"lo":6,"hi":9}`},
		{geo.DistanceM(1500), `"type":"distance-metres","value":1500`},
		{geo.LPS(0.25), `"type":"litres-per-second","value":0.25`},
		{geo.Refs{"class.clay", "class.silt"}, `"type":"codes","value":["class.clay","class.silt"]`},
		{geo.Chance(0.8), `"type":"chance","value":0.8`},
		{geo.ChanceRange{Lo: 0.6, Hi: 0.9}, `"type":"chance-range","value":{"lo":0.6,"hi":0.9}`},
		{geo.Count(0), `"type":"count","value":0`},
		{geo.Number(-1.5), `"type":"number","value":-1.5`},
		{geo.Text("argile \"dure\""), `"type":"text","value":"argile \"dure\""`},
		{geo.Ref("class.sand"), `"type":"code","value":"class.sand"`},
		{geo.Month(time.March), `"type":"month","value":3`},
		{geo.Date{Year: 2004, Month: 3}, `"type":"date","value":"2004-03"`},
	} {
		got, err := json.Marshal(geo.Say("x.y", geo.With("it", c.give)))
		if want := `{"code":"x.y","args":[{"name":"it",` + c.want + `}]}`; err != nil || string(got) != want {
			t.Errorf("%s, %v; want %s", got, err, want)
		}
	}
	for _, bad := range []geo.Value{nil, geo.Metres(math.NaN())} {
		if got, err := json.Marshal(geo.With("it", bad)); err == nil {
			t.Errorf("%v is written as %s", bad, got)
		}
	}
}
