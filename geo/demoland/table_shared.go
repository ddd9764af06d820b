package demoland

import (
	"encoding/json"
	"fmt"
	"strconv"
	"strings"

	"waterstrike/geo"
)

func (m *mess) villageTable(villages []geo.Village) {
	t := &sheet{name: "villages.csv", comma: ',', header: []string{"Village", "Latitude", "Longitude", "People"}}
	for _, v := range villages {
		people := ""
		if n, ok := v.People.Get(); ok && !m.chance(0.03) {
			people = strconv.Itoa(n)
		}
		t.add(v.Name, number(v.Position.Pos.Lat, 5), number(v.Position.Pos.Lon, 5), people)
	}
	m.write(t)
}

// pointTable has one row per visit, the point's own columns repeated.
func (m *mess) pointTable(points []geo.WaterPoint) {
	t := &sheet{name: "water_points.csv", comma: ',', header: []string{
		"Point", "Type", "Latitude", "Longitude", "Depth (m)", "Users", "Dry months", "Visited", "Water level (m)", "Working",
	}}
	for i, w := range points {
		head := []string{
			fmt.Sprintf("WP-%03d", i+1), string(w.Kind), number(w.Position.Pos.Lat, 5), number(w.Position.Pos.Lon, 5),
			optional(w.DepthM, 1), strconv.Itoa(w.Users.Or(0)), monthWords(w.DryMonths),
		}
		if len(w.Visits) == 0 {
			t.add(append(head, "", "", "")...)
		}
		for _, v := range w.Visits {
			works := "no"
			if v.Works.Or(false) {
				works = "yes"
			}
			t.add(append(append([]string{}, head...), v.On.String(), optional(v.LevelM, 1), works)...)
		}
	}
	m.write(t)
}

func optional(v geo.Opt[float64], decimals int) string {
	if x, ok := v.Get(); ok {
		return number(x, decimals)
	}
	return ""
}

// monthWords tells a point that is never dry from one that nobody asked about.
func monthWords(v geo.Opt[geo.MonthSet]) string {
	months, ok := v.Get()
	if !ok {
		return ""
	}
	if months == 0 {
		return "never"
	}
	var words []string
	for _, month := range months.List() {
		words = append(words, month.String()[:3])
	}
	return strings.Join(words, " ")
}

// feature is one GeoJSON feature (RFC 7946).
type feature struct {
	Type       string         `json:"type"`
	Geometry   geometry       `json:"geometry"`
	Properties map[string]any `json:"properties"`
}

type geometry struct {
	Type        string `json:"type"`
	Coordinates any    `json:"coordinates"`
}

// shapes writes the boundary and the rivers as GeoJSON.
func (m *mess) shapes(records Records) {
	outline := feature{"Feature", geometry{"MultiPolygon", records.Boundary.Shape}, map[string]any{
		"name": records.Boundary.Name, "kind": records.Boundary.Kind,
	}}
	var rivers []feature
	for _, r := range records.Rivers {
		properties := map[string]any{"perennial": r.Perennial.Or(false)}
		if r.Name != "" {
			properties["name"] = r.Name
		}
		rivers = append(rivers, feature{"Feature", geometry{"LineString", r.Line}, properties})
	}
	m.collection("boundary.geojson", []feature{outline})
	m.collection("rivers.geojson", rivers)
}

func (m *mess) collection(name string, features []feature) {
	data, err := json.Marshal(struct {
		Type     string    `json:"type"`
		Features []feature `json:"features"`
	}{"FeatureCollection", features})
	if err != nil {
		panic("demoland: finite shapes are always written: " + err.Error())
	}
	m.Files = append(m.Files, File{Name: name, Data: data})
}
