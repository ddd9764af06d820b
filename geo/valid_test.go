package geo_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"waterstrike/geo"
	"waterstrike/geo/coord"
	"waterstrike/geo/soil"
)

const someID = "0b0b0b0b-0000-4000-8000-000000000001"

func TestNewBoreKeeps(t *testing.T) {
	want := fullBore()
	got, err := geo.NewBore(want)
	if err != nil {
		t.Fatal(err)
	}
	sameJSON(t, got, want)
	least, err := geo.NewBore(geo.Bore{ID: someID})
	if err != nil || least.Outcome != geo.OutcomeUnknown || least.Method != geo.MethodUnknown {
		t.Errorf("a bore of which only the id is known: %+v, %v", least, err)
	}
}

// Every field that can be wrong, and what the error names. The limits are this project's
// own; a zero of a part's list stands for its first entry.
func TestNewBoreRefuses(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	some := geo.Some[float64]
	badDate := geo.Some(geo.Date{Year: 2003, Month: 2, Day: 29})
	at := func(lon, lat, precisionM float64) geo.Opt[coord.Reading] {
		return geo.Some(coord.Reading{Pos: coord.LonLat{Lon: lon, Lat: lat}, PrecisionM: precisionM})
	}
	for name, c := range map[string]struct {
		spoil func(*geo.Bore)
		names string
	}{
		"no id":                  {func(b *geo.Bore) { b.ID = "" }, "id"},
		"id not a UUID":          {func(b *geo.Bore) { b.ID = "B-001" }, "id"},
		"id in braces":           {func(b *geo.Bore) { b.ID = "{" + someID + "}" }, "id"},
		"id without hyphens":     {func(b *geo.Bore) { b.ID = geo.BoreID(strings.ReplaceAll(someID, "-", "")) }, "id"},
		"longitude beyond 180":   {func(b *geo.Bore) { b.Position = at(181, 0, 1) }, "position: longitude"},
		"latitude beyond 90":     {func(b *geo.Bore) { b.Position = at(0, -90.1, 1) }, "position: longitude"},
		"position NaN":           {func(b *geo.Bore) { b.Position = at(nan, 0, 1) }, "position: longitude"},
		"precision negative":     {func(b *geo.Bore) { b.Position = at(0, 0, -1) }, "position: precisionM"},
		"precision infinite":     {func(b *geo.Bore) { b.Position = at(0, 0, inf) }, "position: precisionM"},
		"ground NaN":             {func(b *geo.Bore) { b.Ground = geo.Some(geo.Elevation{M: nan}) }, "ground: m"},
		"ground above mountains": {func(b *geo.Bore) { b.Ground = geo.Some(geo.Elevation{M: 9001}) }, "ground: m"},
		"started on no day":      {func(b *geo.Bore) { b.Started = badDate }, "started"},
		"completed on no day":    {func(b *geo.Bore) { b.Completed = geo.Some(geo.Date{}) }, "completed"},
		"outcome unheard of":     {func(b *geo.Bore) { b.Outcome = "wet" }, "outcome"},
		"depth negative":         {func(b *geo.Bore) { b.DepthM = some(-0.1) }, "depthM"},
		"depth NaN":              {func(b *geo.Bore) { b.DepthM = some(nan) }, "depthM"},
		"depth beyond 5 km":      {func(b *geo.Bore) { b.DepthM = some(5000.1) }, "depthM"},
		"refusal negative":       {func(b *geo.Bore) { b.RefusalM = some(-1) }, "refusalM"},
		"yield negative":         {func(b *geo.Bore) { b.YieldLPS = some(-1) }, "yieldLps"},
		"yield of a river":       {func(b *geo.Bore) { b.YieldLPS = some(1001) }, "yieldLps"},
		"cost infinite":          {func(b *geo.Bore) { b.Cost = geo.Some(geo.Money{Amount: inf}) }, "cost: amount"},
		"layer top negative":     {func(b *geo.Bore) { b.Layers[1].TopM = -1 }, "layer 2: topM"},
		"layer base NaN":         {func(b *geo.Bore) { b.Layers[0].BaseM = nan }, "layer 1: baseM"},
		"layer upside down":      {func(b *geo.Bore) { b.Layers[1].TopM, b.Layers[1].BaseM = 9, 2 }, "layer 2: topM"},
		"layer of nothing":       {func(b *geo.Bore) { b.Layers[0].BaseM = b.Layers[0].TopM }, "layer 1: topM"},
		"class beyond the list":  {func(b *geo.Bore) { b.Layers[0].Class = soil.Count + 1 }, "layer 1: class"},
		"grade beyond the list":  {func(b *geo.Bore) { b.Layers[0].Grade = soil.Coarse + 1 }, "layer 1: grade"},
		"confidence above 1":     {func(b *geo.Bore) { b.Layers[0].Confidence = 1.01 }, "layer 1: confidence"},
		"confidence NaN":         {func(b *geo.Bore) { b.Layers[0].Confidence = nan }, "layer 1: confidence"},
		"no time for a metre":    {func(b *geo.Bore) { b.Layers[0].MinutesPerM = some(0) }, "layer 1: minutesPerM"},
		"forever for a metre":    {func(b *geo.Bore) { b.Layers[0].MinutesPerM = some(inf) }, "layer 1: minutesPerM"},
		"strike above ground":    {func(b *geo.Bore) { b.Strikes[0].DepthM = -1 }, "strike 1: depthM"},
		"level without state":    {func(b *geo.Bore) { b.Levels[0].State = "" }, "level 1: state"},
		"level state unheard of": {func(b *geo.Bore) { b.Levels[0].State = "damp" }, "level 1: state"},
		"rest without depth":     {func(b *geo.Bore) { b.Levels[0] = geo.Level{State: geo.LevelRest} }, "level 1: depthM"},
		"dry to nothing":         {func(b *geo.Bore) { b.Levels[0] = geo.Level{State: geo.LevelDryTo} }, "level 1: depthM"},
		"dry above ground":       {func(b *geo.Bore) { b.Levels[0] = geo.Level{State: geo.LevelDryTo, DepthM: some(-1)} }, "level 1: depthM"},
		"level NaN":              {func(b *geo.Bore) { b.Levels[0].DepthM = some(nan) }, "level 1: depthM"},
		"level high above":       {func(b *geo.Bore) { b.Levels[0].DepthM = some(-101) }, "level 1: depthM"},
		"flowing far above":      {func(b *geo.Bore) { b.Levels[1].DepthM = some(-101) }, "level 2: depthM"},
		"level on no day":        {func(b *geo.Bore) { b.Levels[0].On = badDate }, "level 1: on"},
		"reference NaN":          {func(b *geo.Bore) { b.Levels[0].ReferenceM = some(nan) }, "level 1: referenceM"},
		"pipe of no kind":        {func(b *geo.Bore) { b.Pipes[0].Kind = "" }, "pipe 1: kind"},
		"pipe upside down":       {func(b *geo.Bore) { b.Pipes[0].TopM = 99 }, "pipe 1: topM"},
		"pipe width NaN":         {func(b *geo.Bore) { b.Pipes[0].DiameterMM = some(nan) }, "pipe 1: diameterMm"},
		"slot negative":          {func(b *geo.Bore) { b.Pipes[0].SlotMM = some(-1) }, "pipe 1: slotMm"},
		"fill of no kind":        {func(b *geo.Bore) { b.Fills[0].Kind = "mud" }, "fill 1: kind"},
		"fill upside down":       {func(b *geo.Bore) { b.Fills[0].BaseM = 0 }, "fill 1: topM"},
		"test of no kind":        {func(b *geo.Bore) { b.Tests[0].Kind = "" }, "test 1: kind"},
		"test on no day":         {func(b *geo.Bore) { b.Tests[0].On = badDate }, "test 1: on"},
		"test rate negative":     {func(b *geo.Bore) { b.Tests[0].RateLPS = some(-1) }, "test 1: rateLps"},
		"test hours NaN":         {func(b *geo.Bore) { b.Tests[0].Hours = some(nan) }, "test 1: hours"},
		"test rest NaN":          {func(b *geo.Bore) { b.Tests[0].RestM = some(nan) }, "test 1: restM"},
		"pumping level NaN":      {func(b *geo.Bore) { b.Tests[0].PumpingM = some(nan) }, "test 1: pumpingM"},
		"bailed infinite":        {func(b *geo.Bore) { b.Tests[0].BailL = some(inf) }, "test 1: bailL"},
		"half time negative":     {func(b *geo.Bore) { b.Tests[0].HalfMin = some(-1) }, "test 1: halfMin"},
		"three-quarters NaN":     {func(b *geo.Bore) { b.Tests[0].ThreeQMin = some(nan) }, "test 1: threeQMin"},
		"reading before start":   {func(b *geo.Bore) { b.Tests[0].Readings[1].Minutes = -1 }, "test 1: reading 2: minutes"},
		"reading depth NaN":      {func(b *geo.Bore) { b.Tests[0].Readings[0].DepthM = nan }, "test 1: reading 1: depthM"},
		"reading rate NaN":       {func(b *geo.Bore) { b.Tests[0].Readings[0].RateLPS = some(nan) }, "test 1: reading 1: rateLps"},
		"sample of nothing":      {func(b *geo.Bore) { b.Samples[0].Analyte = "" }, "sample 1: analyte"},
		"sample value NaN":       {func(b *geo.Bore) { b.Samples[0].Value = some(nan) }, "sample 1: value"},
		"limit negative":         {func(b *geo.Bore) { b.Samples[0].DetectionLimit = some(-1) }, "sample 1: detectionLimit"},
		"waived by nobody":       {func(b *geo.Bore) { b.Samples[0] = geo.Sample{Analyte: "arsenic", Reason: "none around"} }, "sample 1: waivedBy"},
		"waived without a word":  {func(b *geo.Bore) { b.Samples[0] = geo.Sample{Analyte: "arsenic", WaivedBy: "A. Diallo"} }, "sample 1: reason"},
		"a result waived":        {func(b *geo.Bore) { b.Samples[0].WaivedBy, b.Samples[0].Reason = "A. Diallo", "none around" }, "sample 1: waivedBy"},
		"sampled on no day":      {func(b *geo.Bore) { b.Samples[0].On = badDate }, "sample 1: on"},
	} {
		t.Run(name, func(t *testing.T) {
			b := fullBore()
			c.spoil(&b)
			got, err := geo.NewBore(b)
			refused(t, err, "geo.NewBore: invalid: "+c.names+": ", "geo.NewBore: invalid: "+c.names+" ")
			if got.ID != "" {
				t.Errorf("a refused bore comes back: %+v", got)
			}
		})
	}
}

// refused expects an Invalid error that starts with one of some texts.
func refused(t *testing.T, err error, starts ...string) {
	t.Helper()
	if err == nil {
		t.Fatal("went through")
	}
	if geo.KindOf(err) != geo.Invalid {
		t.Errorf("kind %v", geo.KindOf(err))
	}
	if !slices.ContainsFunc(starts, func(s string) bool { return strings.HasPrefix(err.Error(), s) }) {
		t.Errorf("%q does not start with %q", err, starts[0])
	}
}

func TestNewBoreOrders(t *testing.T) {
	day := func(d int) geo.Opt[geo.Date] { return geo.Some(geo.Date{Year: 2010, Month: 5, Day: d}) }
	given := geo.Bore{
		ID: someID,
		Layers: []geo.Layer{
			{TopM: 4, BaseM: 9, Class: soil.Sand},
			{TopM: 0, BaseM: 4, Class: soil.Clay},
			{TopM: 0, BaseM: 1, Class: soil.Topsoil},
			{TopM: 0, BaseM: 4, Class: soil.Silt},
		},
		Strikes: []geo.Strike{{DepthM: 9, Words: "strong"}, {DepthM: 3, Words: "seeping"}},
		Levels: []geo.Level{
			{State: geo.LevelFlowing, On: day(9)},
			{State: geo.LevelFlowing, On: day(2)},
			{State: geo.LevelFlowing, On: geo.Some(geo.Date{Year: 2010, Month: 5})},
			{State: geo.LevelFlowing},
		},
	}
	asGiven := append([]geo.Layer{}, given.Layers...)
	got, err := geo.NewBore(given)
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []soil.Class{soil.Topsoil, soil.Clay, soil.Silt, soil.Sand} {
		if got.Layers[i].Class != want {
			t.Errorf("layer %d is %v, want %v", i+1, got.Layers[i].Class, want)
		}
	}
	if got.Strikes[0].Words != "seeping" {
		t.Errorf("strikes are %v", got.Strikes)
	}
	for i, want := range []string{"", "2010-05", "2010-05-02", "2010-05-09"} {
		if on := got.Levels[i].On.Or(geo.Date{}).String(); on != want {
			t.Errorf("level %d is of %q, want %q", i+1, on, want)
		}
	}
	if !slices.Equal(given.Layers, asGiven) {
		t.Error("the caller's own list was put in order")
	}
}

func TestLabel(t *testing.T) {
	b := geo.Bore{ID: someID, Code: "K-7", Name: "School", Place: "Upper ford"}
	for _, want := range []string{"K-7", "School", "Upper ford", someID} {
		if got := b.Label(); got != want {
			t.Errorf("label %q, want %q", got, want)
		}
		switch want {
		case "K-7":
			b.Code = ""
		case "School":
			b.Name = ""
		default:
			b.Place = ""
		}
	}
}

func TestLoggedM(t *testing.T) {
	if got := (geo.Bore{}).LoggedM(); got != 0 {
		t.Errorf("no layers reach %v m", got)
	}
	b := geo.Bore{Layers: []geo.Layer{{TopM: 3, BaseM: 11.5}, {TopM: 0, BaseM: 3}}}
	if got := b.LoggedM(); got != 11.5 {
		t.Errorf("layers reach %v m, want 11.5", got)
	}
}

func BenchmarkNewBore(b *testing.B) {
	bore := fullBore()
	for b.Loop() {
		if _, err := geo.NewBore(bore); err != nil {
			b.Fatal(err)
		}
	}
}
