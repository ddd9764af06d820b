package welldesign_test

import (
	"slices"
	"testing"

	"waterstrike/advisor/method"
	"waterstrike/advisor/welldesign"
	"waterstrike/geo"
	"waterstrike/geo/soil"
)

func kit(t testing.TB, code geo.Method) welldesign.Kit {
	t.Helper()
	list, err := method.Defaults()
	if err != nil {
		t.Fatal(err)
	}
	m, ok := method.Find(list, code)
	if !ok {
		t.Fatalf("no method %s", code)
	}
	k, err := welldesign.NewKit(m)
	if err != nil {
		t.Fatal(err)
	}
	return k
}

func rules(t testing.TB) *welldesign.Rules {
	t.Helper()
	r, err := welldesign.DefaultRules()
	if err != nil {
		t.Fatal(err)
	}
	return &r
}

// column joins classes and thicknesses: soil.Clay, 3.0, soil.Sand, 6.0.
func column(parts ...any) []welldesign.Layer {
	var out []welldesign.Layer
	top := 0.0
	for i := 0; i < len(parts); i += 2 {
		l := welldesign.Layer{TopM: top, BaseM: top + parts[i+1].(float64)}
		switch of := parts[i].(type) {
		case soil.Class:
			l.Class = of
		case soil.Grade:
			l.Class, l.Grade = soil.Sand, of
		}
		out, top = append(out, l), l.BaseM
	}
	return out
}

// water stands between its three levels.
func water(wet, low, design float64) welldesign.Water {
	return welldesign.Water{WetHighM: wet, NormalLowM: low, DesignLowM: design}
}

func designed(t testing.TB, s welldesign.Site, k welldesign.Kit) welldesign.Well {
	t.Helper()
	w, err := welldesign.Design(s, k)
	if err != nil {
		t.Fatal(err)
	}
	return w
}

// valley is ground that any method suits: clay over sand over clay, water at 5 m.
func valley() welldesign.Site {
	return welldesign.Site{
		Layers: column(soil.Topsoil, 0.5, soil.Clay, 4.0, soil.Coarse, 10.0, soil.Clay, 10.0),
		Water:  water(3, 5, 6),
	}
}

func has(messages []geo.Message, code geo.Code) bool {
	return slices.ContainsFunc(messages, func(m geo.Message) bool { return m.Code == code })
}

func fill(w welldesign.Well, kind geo.FillKind) (top, base float64, ok bool) {
	for _, f := range w.Fills {
		if f.Kind == kind {
			if !ok {
				top = f.TopM
			}
			base, ok = f.BaseM, true
		}
	}
	return top, base, ok
}
