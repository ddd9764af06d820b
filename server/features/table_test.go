package features_test

import (
	"fmt"
	"math/rand/v2"
	"net/url"
	"slices"
	"strconv"
	"testing"

	"waterstrike/geo"
	"waterstrike/server/features"

	"github.com/paulmach/orb"
)

// record has a value of each kind, some missing.
type record struct {
	id   int
	at   orb.Point
	on   geo.Date
	kind string
	deep geo.Opt[float64]
	rest geo.Opt[float32]
	n    geo.Opt[int]
	ok   geo.Opt[bool]
}

func recordTable() *features.Table[record] {
	return &features.Table[record]{
		Collection: features.Collection{Name: "records"},
		ID:         func(r record) string { return fmt.Sprintf("r%03d", r.id) },
		At:         func(r record) orb.Point { return r.at },
		On:         func(r record) geo.Date { return r.on },
		Columns: []features.Column[record]{
			{Name: "kind", Text: func(r record) string { return r.kind }},
			{Name: "deep", Number: func(r record) geo.Opt[float64] { return r.deep }},
			{Name: "rest", Short: func(r record) geo.Opt[float32] { return r.rest }},
			{Name: "n", Whole: func(r record) geo.Opt[int] { return r.n }},
			{Name: "ok", Flag: func(r record) geo.Opt[bool] { return r.ok }},
			{Name: "day", Day: func(r record) geo.Date { return r.on }},
		},
	}
}

func randomRecords(rng *rand.Rand, n int) (out []record) {
	for i := range n {
		r := record{id: i, at: orb.Point{float64(rng.IntN(41)*10 - 200), float64(rng.IntN(19)*10 - 90)}}
		r.at[0] = max(min(r.at[0], 180), -180)
		if rng.IntN(4) > 0 {
			r.on = geo.Date{Year: 2019 + rng.IntN(3), Month: rng.IntN(13)}
			if r.on.Month > 0 {
				r.on.Day = rng.IntN(28)
			}
			r.kind, r.deep = []string{"", "dry", "well"}[rng.IntN(3)], geo.Some(float64(rng.IntN(4))/2)
			r.rest, r.n, r.ok = geo.Some(float32(rng.IntN(4))/10), geo.Some(rng.IntN(3)), geo.Some(rng.IntN(2) == 0)
		}
		out = append(out, r)
	}
	return out
}

// What a page holds is what one finds who makes all features and looks at each.
func TestPageAgainstFeatures(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 5))
	table, all := recordTable(), randomRecords(rng, 300)
	described := table.Described()
	if !described.Dated || len(described.Properties) != 6 || described.Properties[2].Type != "number" || described.Properties[5].Type != "string" {
		t.Fatalf("%+v", described)
	}
	square := func(at orb.Point) orb.Bound { // cut at the antimeridian
		b := at.Bound().Pad(7)
		b.Min[0], b.Max[0] = max(b.Min[0], -180), min(b.Max[0], 180)
		return b
	}
	for round := range 400 {
		q, exact := url.Values{}, true
		if rng.IntN(2) == 0 {
			q.Set("bbox", fmt.Sprintf("%d,%d,%d,90", rng.IntN(37)*10-180, rng.IntN(18)*10-90, rng.IntN(37)*10-180))
		}
		if rng.IntN(3) == 0 {
			q.Set("datetime", "2020-0"+strconv.Itoa(1+rng.IntN(9))+"-15/..")
		}
		for _, p := range described.Properties {
			if rng.IntN(6) == 0 {
				value := features.Written(table.Feature(all[rng.IntN(len(all))]).Values[slices.Index(described.Properties, p)])
				if value != "" {
					q.Set(p.Name, value)
				}
			}
		}
		query, err := features.Parse(q, described)
		if err != nil {
			t.Fatal(q, err)
		}
		if rng.IntN(3) == 0 {
			query.Squares, exact = square, false
		}
		var want []string
		for _, r := range all {
			f := table.Feature(r)
			if !exact {
				f.Place = square(r.at)
			}
			kept := (query.Box == nil || touches(*query.Box, f.Place)) && ((query.From == geo.Date{}) || query.During(f.On))
			for i, p := range described.Properties {
				kept = kept && (!q.Has(p.Name) || features.Written(f.Values[i]) == q.Get(p.Name))
			}
			if kept {
				want = append(want, fmt.Sprint(f))
			}
		}
		from := rng.IntN(4)
		page, total := table.Page(slices.Values(all), query.Where, from, 5)
		want, whole := want[min(from, len(want)):min(from+5, len(want))], len(want)
		got := make([]string, 0, len(page))
		for _, f := range page {
			got = append(got, fmt.Sprint(f))
		}
		if total != whole || !slices.Equal(got, want) {
			t.Fatalf("%d, %v from %d: %d %v\nwant %d %v", round, q, from, total, got, whole, want)
		}
	}
}

// touches tries where the place is, whole turns around the globe to either side.
func touches(box, place orb.Bound) bool {
	if box.Min[0] > box.Max[0] {
		box.Max[0] += 360
	}
	for _, turn := range []float64{-360, 0, 360} {
		moved := orb.Bound{Min: orb.Point{place.Min[0] + turn, place.Min[1]}, Max: orb.Point{place.Max[0] + turn, place.Max[1]}}
		if box.Intersects(moved) {
			return true
		}
	}
	return false
}

// A value that a property cannot have is refused, and so is a property of what is worked
// out when it is asked for.
func TestParseRefuses(t *testing.T) {
	described := recordTable().Described()
	for query, ok := range map[string]bool{
		"deep=1.50": true, "deep=x": false, "n=2": true, "n=two": false, "ok=true": true, "ok=maybe": false, "kind=x": true, "other=1": false,
	} {
		q, _ := url.ParseQuery(query)
		if _, err := features.Parse(q, described); (err == nil) != ok {
			t.Errorf("%s: %v", query, err)
		}
	}
	described.Worked, described.Most = true, 7
	if _, err := features.Parse(url.Values{"kind": {"x"}}, described); geo.KindOf(err) != geo.Invalid {
		t.Errorf("by a property of what is worked out: %v", err)
	}
	if q, err := features.Parse(url.Values{"limit": {"5000"}}, described); err != nil || q.Limit != 7 {
		t.Errorf("limit %d: %v", q.Limit, err)
	}
}
