package pumptest_test

import (
	"fmt"
	"strings"
	"testing"

	"waterstrike/advisor/hydraulics"
	"waterstrike/advisor/pumptest"
	"waterstrike/geo"
	"waterstrike/geo/outside"
)

// pairs writes a list of times and drawdowns one pair to a line, parted by a mark.
func pairs(list, mark string) string {
	var b strings.Builder
	f := strings.Fields(list)
	for i := 0; i < len(f); i += 2 {
		b.WriteString(f[i] + mark + f[i+1] + "\n")
	}
	return b.String()
}

// holds fails where a range does not hold what a book found by hand.
func holds(t *testing.T, what string, r geo.Opt[pumptest.Range], book float64) {
	t.Helper()
	if v, ok := r.Get(); !ok || book < v.Lo || book > v.Hi {
		t.Errorf("%s: %+v does not hold the book's %v", what, v, book)
	}
}

const footM = 0.3048

// Tests that are printed in textbooks, readings and answers all from memory, each typed as its
// book prints it: a range by every way holds what the book found by hand.
func TestTextbooksAsPrinted(t *testing.T) {
	const lohman = `Pumping rate: 96,000 ft3/day
Time since pumping began	Drawdown at 200 ft	Drawdown at 400 ft
(min)	(ft)	(ft)
1	.66	.16
1.5	.87	.27
2	.99	.38
2.5	1.11	.46
3	1.21	.53
4	1.36	.67
5	1.49	.77
6	1.59	.87
8	1.75	.99
10	1.86	1.12
12	1.97	1.21
14	2.08	1.26
18	2.20	1.43
24	2.36	1.58
30	2.49	1.70
40	2.65	1.88
50	2.78	2.00
60	2.88	2.11
80	3.04	2.24
100	3.16	2.38
120	3.28	2.49
150	3.42	2.62
180	3.51	2.72
210	3.61	2.81
240	3.67	2.88
`
	const gridley = "3 .3 5 .7 8 1.3 12 2.1 20 3.2 24 3.6 30 4.1 38 4.7 47 5.1 50 5.3 60 5.7 70 6.1 80 6.3 90 6.7 100 7.0 130 7.5 160 8.3 200 8.5 260 9.2 320 9.7 380 10.2 500 10.9"
	const todd = "1 0.20 1.5 0.27 2 0.30 2.5 0.34 3 0.37 4 0.41 5 0.45 6 0.48 8 0.53 10 0.57 12 0.60 14 0.63 18 0.67 24 0.72 30 0.76 40 0.81 50 0.85 60 0.90 80 0.93 100 0.96 120 1.00 150 1.04 180 1.07 210 1.10 240 1.12"
	const toddRises = "1 0.89 2 0.81 3 0.76 5 0.68 7 0.64 10 0.56 15 0.49 20 0.45 30 0.38 40 0.34 60 0.28 80 0.24 100 0.21 140 0.17 180 0.14"
	for _, c := range []struct {
		book, text string
		t, s       float64 // as the book has them, m²/d
		way        geo.Code
	}{
		{"Lohman (1972): 13,700 ft²/d, 2e-4", lohman, 13_700 * footM * footM, 2e-4, "way.theis"},
		{"Walton's Gridley test in Fetter: 1400 ft²/d, 2.4e-5", "Q = 220 gpm\nr = 824 ft\nTime (min)  Drawdown (ft)\n" + pairs(gridley, "   "), 1400 * footM * footM, 2.4e-5, "way.theis"},
		{"the same by a line: 1409 ft²/d, 1.7e-5", "Q = 220 gal/min\ndistance: 824 ft\nminutes;s (ft)\n" + pairs(gridley, ";"), 1409 * footM * footM, 1.7e-5, "way.straight-line"},
		{"Todd, curve: 1110, 2.06e-4", "Débit : 2500 m³/jour\nrayon : 60 m\nTemps depuis le début du pompage (min);Rabattement (m)\n" + strings.ReplaceAll(pairs(todd, ";"), ".", ","), 1110, 2.06e-4, "way.theis"},
		{"Todd, line: 1090, 1.84e-4", "Vazão: 2500 m3/dia\nraio: 60 m\nTempo desde o início do bombeamento (min);Rebaixamento (m)\n" + pairs(todd, ";"), 1090, 1.84e-4, "way.straight-line"},
		{"Todd, recovery: 1140", "Q: 2500 m3/d\nr: 60 m\npumped: 240 min\nTime since pump stopped (min), Residual drawdown (m)\n" + pairs(toddRises, ","), 1140, 0, "way.recovery"},
		{"Kruseman and de Ridder by distance: 370, 4.1e-4", "Q: 788 m3/d\nafter: 140 min\nr (m); s (m)\n" + "30;0.915\n90;0.54\n215;0.25\n", 370, 4.1e-4, "way.distance"},
	} {
		t.Run(c.book, func(t *testing.T) {
			w := way(t, answer(t, c.text), c.way)
			holds(t, "T", w.T, c.t)
			if c.s > 0 {
				holds(t, "S", w.S, c.s)
			}
		})
	}
}

// However the discharge changed is written - a column, lines with a time, in three languages -
// ground and losses come back that a test was made of, by superposition of Theis' curves and a
// loss of 3e-4 Q² in the pumped well.
func TestChangingDischarge(t *testing.T) {
	ground := hydraulics.Aquifer{TM2D: 12, Storage: 1e-3}
	rates := []hydraulics.Rate{{FromDays: 0, DischargeM3D: 25}, {FromDays: 60.0 / 1440, DischargeM3D: 50}, {FromDays: 120.0 / 1440, DischargeM3D: 75}, {FromDays: 180.0 / 1440, DischargeM3D: 0}}
	minutes := []float64{5, 10, 20, 40, 60, 65, 70, 80, 100, 120, 125, 130, 140, 160, 180, 190, 200, 240, 300}
	read := func(r, min float64) (s, q float64) {
		s, err := hydraulics.TheisRates(ground, rates, r, min/1440)
		if err != nil {
			t.Fatal(err)
		}
		for _, rate := range rates {
			if rate.FromDays < min/1440 {
				q = rate.DischargeM3D
			}
		}
		return s, q
	}
	const lines = "discharge: 25 m3/d\ndébit : 50 m3/d depuis 60 min\ncaudal: 75 m3/d a partir de 2 h\ndischarge: 0 m3/d from 180 min\n"
	column, stated, well := "time (min); discharge (m3/d); distance (m); drawdown (m)\n", lines+"time (min); drawdown at 5 m (m); drawdown at 12 m (m)\n", "hole: 150 mm\npipe: 60 mm\nrest: 3 m\ntime (min); Q (m3/d); level (m)\n"
	for _, min := range minutes {
		near5, q := read(5, min)
		near12, _ := read(12, min)
		in, _ := read(0.075, min)
		stated += fmt.Sprintf("%v;%.6f;%.6f\n", min, near5, near12)
		column += fmt.Sprintf("%v;%v;5;%.6f\n", min, q, near5)
		well += fmt.Sprintf("%v;%v;%.6f\n", min, q, 3+in+3e-4*q*q)
	}
	for name, text := range map[string]string{"column": column, "lines": stated} {
		w := way(t, answer(t, text), "way.theis")
		near(t, name+": T", w.T.Or(pumptest.Range{}).Value, 12, 1e-4)
		near(t, name+": S", w.S.Or(pumptest.Range{}).Value, 1e-3, 1e-3)
		if w.Curves == nil || w.Over != pumptest.OverRates {
			t.Errorf("%s: nothing to draw", name)
		}
	}
	a := answer(t, well)
	w := way(t, a, "way.varied")
	near(t, "in the well: T", w.T.Or(pumptest.Range{}).Value, 12, 1e-3)
	l, ok := a.Losses.Get()
	if !ok || len(l.Steps) != 3 || l.Condition != "" {
		t.Fatalf("losses %+v", l)
	}
	near(t, "C", l.C, 3e-4, 0.01)
	for _, step := range l.Steps {
		near(t, "what the well takes of a step", (1-step.Efficiency)*step.DrawdownM, 3e-4*step.Discharge*step.Discharge, 0.01)
	}
}

// The table for field staff of MacDonald, Barker and Davies, from memory: a well that falls and
// rises as it says just carries a hand pump, T 1.1 m²/d; one that falls clearly less and
// rises clearly faster passes, one that does clearly worse fails, as the book has it.
func TestBailerByTheTable(t *testing.T) {
	table := outside.ReadTable(t, outside.Reference(t, "wells", "bailer_table.csv"))
	for i := range table.Rows {
		mm, lpm, most := table.Number(i, "hole_mm"), table.Number(i, "l_min"), table.Number(i, "most_m")
		for times, want := range map[float64]hydraulics.BailerVerdict{0.5: hydraulics.BailerPass, 1: hydraulics.BailerUnsure, 2: hydraulics.BailerFail} {
			a := answer(t, fmt.Sprintf("bailed: 20 x %v L in 10 min\nhole: %v mm\nfall: %v m\nhalf: %v min\nquarter: %v min\n",
				lpm/2, mm, times*most, times*table.Number(i, "half_min"), times*table.Number(i, "threeq_min")))
			y, ok := a.Yield.Get()
			if !ok || y.Verdict != want || a.Kind != pumptest.Bailer {
				t.Errorf("%v mm, %v L/min, %v times the table: %+v, want %s", mm, lpm, times, y, want)
			}
			if times == 1 {
				holds(t, "T", way(t, a, "way.bailer").T, 1.1)
			}
		}
	}
}

// A table of the rise gives what the three readings give; what a bailer test lacks is asked
// for, and its yield by buckets is plain arithmetic: 30 bails of 5 L in 10 min are 45 buckets
// of 20 L an hour.
func TestBailerAsRead(t *testing.T) {
	well := hydraulics.Bailed{Well: hydraulics.Well{RadiusM: 0.075, OpenRadiusM: 0.055}, VolumeL: 150, Minutes: 10}
	ground := hydraulics.Aquifer{TM2D: 2, Storage: 1e-3}
	curves, err := hydraulics.BailCurves(well, hydraulics.Estimate{Value: 2, Lo: 2, Hi: 2}, []hydraulics.Point{{X: 60.0 / 1440}})
	if err != nil {
		t.Fatal(err)
	}
	rise, err := hydraulics.Bail(ground, well)
	if err != nil {
		t.Fatal(err)
	}
	table := "puisé : 30 x 5 L en 10 min\ntrou : 150 mm\ntube : 110 mm\nrepos : 4,2 m\nutilisable : 5 m\ntemps (min); niveau (m)\n"
	for _, p := range curves[2].Points {
		table += fmt.Sprintf("%.4f; %.5f\n", 1440*p.X, 4.2+p.Y)
	}
	three := fmt.Sprintf("retirado: 30 x 5 L em 10 min\nfuro: 150 mm\ntubo: 110 mm\nqueda: %v m\nmetade: %v min\nquarto: %v min\nutilizável: 5 m\n", rise.MostM, rise.HalfMin, rise.ThreeQMin)
	var first pumptest.Yield
	for i, text := range []string{table, three} {
		a := answer(t, text)
		near(t, "T", way(t, a, "way.bailer").T.Or(pumptest.Range{}).Value, 2, 0.1) // the other storages pull the mean
		y := a.Yield.Or(pumptest.Yield{})
		near(t, "taken", y.LPS.Or(pumptest.Range{}).Value*3600/pumptest.BucketL, 45, 1e-9)
		per, all := y.PerMetre.Or(pumptest.Range{}), y.Carries.Or(pumptest.Range{})
		near(t, "five metres", all.Value, 5*per.Value, 1e-9)
		if i == 0 {
			first = y
			continue
		}
		near(t, "by table and by three readings", all.Value, first.Carries.Or(pumptest.Range{}).Value, 0.03)
		// by the drawdown of a hand pump in such ground, which carries.go turns round
		duty := hydraulics.HandPump(150)
		duty.DischargeM3D = all.Value * 86.4
		s, err := hydraulics.Drawdown(duty, way(t, a, "way.bailer").T.Or(pumptest.Range{}).Value, 1, 1)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "what it falls by then", s, 5, 1e-9)
	}
	for text, want := range map[string]geo.Code{
		"kind: bailer\nhole: 150 mm\nfall: 3 m\nt (min); s (m)\n1;2\n":                     "pumping.missing",
		"bailed: 30 x 5 L in 10 min\nfall: 3 m\nhalf: 5 min\n":                             "pumping.missing", // the hole
		"bailed: 30 x 5 L in 10 min\nhole: 150 mm\n":                                       "pumping.missing",
		"bailed: 30 x 5 L in 10 min\nhole: 150 mm\nfall: 3 m\n":                            "pumping.missing",
		"bailed: 30 x 5 L in 10 min\nhole: 150 mm\nfall: 3 m\nhalf: 5 min\nquarter: 4 min": "pumping.half-after-quarter",
		"bailed: many\nhole: 150 mm\n":                                                     "pumping.bad-bails",
		"buckets: some\n":                                                                  "pumping.bad-buckets",
		"kind: buckets\nt (min); s (m)\n1;2\n":                                             "pumping.missing",
		"buckets: 60 x 20 L in 2 h\nfall: 3 m\nhole: 150 mm\n":                             "pumping.missing", // for how long
	} {
		s, err := pumptest.Read(text)
		if err == nil {
			_, err = s.Answer()
		}
		var failed *geo.Error
		if !asError(err, &failed) || failed.Message.Code != want {
			t.Errorf("%.90q: %v, want %s", text, err, want)
		}
	}
}

// Buckets by the watch alone say what was taken, and whether it is the least that is asked of
// a hand-pump well, 7.6 L/min for two hours (Lifewater, from memory); with the fall they say
// what the ground gives: a hand pump's 12 L/min at 4 m is T 5.3 by Logan's rule
// (recalculated), which the range holds.
func TestBuckets(t *testing.T) {
	for text, c := range map[string]struct {
		lpm  float64
		note geo.Code
	}{
		"buckets: 12 x 20 L in 45 min":                                    {12.0 * 20 / 45, "pumping.note.too-little"},
		"seaux : 60 x 20 L en 2 h\npompé : 2 h":                           {10, "pumping.note.accepted"},
		"baldes: 20 L em 34 s; 36 s; 35 s":                                {20.0 / 35 * 60, "pumping.note.go-on"},
		"buckets: 36 x 20 L in 1 h\nkind: buckets":                        {12, "pumping.note.go-on"},
		"buckets: 9 x 20 L in 1 h\nkind: seaux":                           {3, "pumping.note.too-little"},
		"buckets: 72 x 20 L in 2 h\npumped: 2 h\nfall: 4 m\nhole: 150 mm": {12, "pumping.note.accepted"},
	} {
		a := answer(t, text)
		y := a.Yield.Or(pumptest.Yield{})
		r := y.LPS.Or(pumptest.Range{})
		near(t, text, r.Value*60, c.lpm, 1e-9)
		if r.Lo >= r.Value || r.Hi <= r.Value || a.Kind != pumptest.Buckets {
			t.Errorf("%s: %+v of a %s", text, r, a.Kind)
		}
		told := false
		for _, n := range a.Notes {
			told = told || n.Code == c.note
		}
		if !told {
			t.Errorf("%s: %v lacks %s", text, a.Notes, c.note)
		}
		if strings.Contains(text, "fall") {
			holds(t, text, way(t, a, "way.end").T, 5.3)
		}
	}
	// a discharge by buckets does for any test
	a := answer(t, "buckets: 20 L in 20 s; 20 s; 20 s\ndistance (m); drawdown (m)\n1; 2\n3; 1.5\n9; 1\n")
	near(t, "T of 86.4 m³/d", way(t, a, "way.steady").T.Or(pumptest.Range{}).Value, 86.4*1.0986123/(2*3.14159265*0.5), 1e-6)
}

// Numbers as people write them: a comma for thousands beside decimal points, blanks for places
// that were not read any more, units below the names.
func TestTablesAsPrinted(t *testing.T) {
	s, err := pumptest.Read("discharge: 1,306.5 m3/d\nTime   Drawdown at 5 m   Drawdown at 1200.5 m\n(min)   (m)   (m)\n1,440   2.5   .1\n2,880   2.75\n")
	if err != nil {
		t.Fatal(err)
	}
	near(t, "discharge", s.Discharge.Or(0), 1306.5, 1e-12)
	if len(s.Rows) != 3 || s.Rows[1].DistanceM.Or(0) != 1200.5 || s.Rows[2].Days.Or(0) != 2 || s.Rows[2].DrawdownM.Or(0) != 2.75 {
		t.Errorf("%+v", s.Rows)
	}
	if s, err := pumptest.Read("débit : 1,250 L/s\nt (min); s (m)\n1; 0,25"); err != nil || s.Discharge.Or(0) != 1.25*86.4 {
		t.Errorf("a French comma: %+v, %v", s, err)
	}
	for _, text := range []string{"discharge: 2,500 m3/d\nt (min); s (cm)\n1; 20", "t; s\n(min); (l)\n1; 2", "t; s\n1; 2\n", "t; s\n", "t (min); s (m)\n1:30; 2"} {
		if _, err := pumptest.Read(text); err == nil {
			t.Errorf("%q is read", text)
		}
	}
}
