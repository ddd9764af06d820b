package check_test

import (
	"math"
	"slices"
	"testing"

	"waterstrike/geo"
	"waterstrike/geo/check"
)

// fileMistakes run through all that one office wrote. A finding on the source shows one,
// or findings on nine in ten of its bores.
var fileMistakes = []mistake{
	{"all in feet", []geo.Code{check.SourceInFeet}, 100, always(inFeet)},
	{"all in feet, no layers", []geo.Code{check.SourceInFeet}, 75, always(func(m *maker, b *geo.Bore) bool { return bare(b) && inFeet(m, b) })},
	{"measured in whole feet, turned into metres", []geo.Code{check.SourceFromFeet}, 90, func(_ *maker, b *geo.Bore) bool {
		b.DepthM = geo.Some(math.Round(100*0.3048*math.Round(b.DepthM.Or(0)/0.3048)) / 100)
		return true
	}},
	{"rods of ten feet, turned into metres", []geo.Code{check.SourceFromFeet}, 90, func(_ *maker, b *geo.Bore) bool {
		b.DepthM = geo.Some(3.05 * math.Ceil(b.DepthM.Or(0)/3.05))
		return true
	}},
	{"levels from the pedestal", []geo.Code{check.SourceOffset}, 90, rest(func(_ *maker, _ *geo.Bore, was float64) float64 { return was + 0.6 })},
	{"litres a minute for a second", []geo.Code{check.SourceYield, check.YieldBeyondMethod}, 90, yield(60)},
	{"litres a second for a minute", []geo.Code{check.SourceYield}, 90, yield(1.0 / 60)},
	// Offices' ground differs by more than 3.6 times.
	{"cubic metres an hour for litres a second", []geo.Code{check.SourceYield}, 0, yield(3.6)},
	{"all the same day", []geo.Code{check.SourceSameDay}, 100, on(func(geo.Date) geo.Date { return geo.Date{Year: 2016, Month: 5, Day: 12} })},
	{"only the years, as the first of January", []geo.Code{check.JanuaryFirst}, 100, on(func(d geo.Date) geo.Date { return geo.Date{Year: d.Year, Month: 1, Day: 1} })},
	{"depths by eye", []geo.Code{check.DepthsHeaped}, 100, func(_ *maker, b *geo.Bore) bool {
		b.DepthM = geo.Some(5 * math.Ceil(b.DepthM.Or(0)/5))
		return true
	}},
	{"swapped", []geo.Code{check.PositionSwapped}, 90, placeMistakes[0].spoil},
	{"south for north", []geo.Code{check.PositionSignLost}, 90, placeMistakes[1].spoil},
	{"another UTM zone", astray, 90, placeMistakes[7].spoil},
	{"rounded to tenths of a degree", append(astray, check.SourceRounded), 90, placeMistakes[10].spoil},
	{"diameters in inches", []geo.Code{check.DiameterOff}, 90, liningMistakes[2].spoil},
}

// always puts a mistake into bores too that carry only a part of it.
func always(spoil func(*maker, *geo.Bore) bool) func(*maker, *geo.Bore) bool {
	return func(m *maker, b *geo.Bore) bool {
		spoil(m, b)
		return true
	}
}

func TestWholeFiles(t *testing.T) {
	var lands []*maker
	for _, seed := range seeds() {
		lands = append(lands, asDrilled(seed))
	}
	for _, kind := range fileMistakes {
		t.Run(kind.name, func(t *testing.T) {
			files, named, alarms := 0, 0, 0
			for i, m := range lands {
				for _, file := range filesOf(m) {
					files++
					own, others := spoilFile(t, m.afresh(uint64(i)), file, kind)
					if own {
						named++
					}
					alarms += others
				}
			}
			t.Logf("%4d of %4d named (%3d %%), %4d doubted", named, files, named*100/files, alarms)
			if named*100 < files*kind.least {
				t.Errorf("%d of %d files named, want %d in a hundred", named, files, kind.least)
			}
		})
	}
}

func filesOf(m *maker) (files []string) {
	for _, b := range m.Memory.Bores {
		files = append(files, b.Source.File)
	}
	slices.Sort(files)
	return slices.Compact(files)
}

// spoilFile spoils one file and reports whether that is named, and how many findings on
// whole sources of other files there are.
func spoilFile(t *testing.T, m *maker, file string, kind mistake) (named bool, others int) {
	t.Helper()
	spoilt := 0
	for i := range m.Memory.Bores {
		if m.Memory.Bores[i].Source.File == file {
			if _, ok := m.spoilOne(i, kind); ok {
				spoilt++
			}
		}
	}
	bores := map[string]bool{}
	for _, i := range all(t, m.region) {
		switch {
		case i.Record == "" && i.File != file:
			others++
		case i.File == file && slices.Contains(kind.wants, i.Message.Code):
			named = named || i.Record == ""
			bores[i.Record] = true
		}
	}
	return named || len(bores)*10 >= spoilt*9, others
}
